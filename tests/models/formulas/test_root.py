from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.formulas.root import root


@pytest.mark.parametrize(
    ("function", "low", "high", "expected"),
    [
        (lambda x: x * x - 2.0, 0.0, 2.0, math.sqrt(2.0)),
        (lambda x: math.cos(x) - x, 0.0, 1.0, 0.7390851332151607),
        (lambda x: x**3 - 2.0 * x - 5.0, 2.0, 3.0, 2.0945514815423265),
        (lambda x: math.atan(50.0 * (x - 0.9)), -3.0, 1.0, 0.9),
        (lambda x: math.log(max(x, 1e-30)), 1e-6, 1e6, 1.0),
        (lambda x: -1.0 if x < 0.3 else 1.0, 0.0, 1.0, 0.3),
    ],
)
def test_known_roots(function: Callable[[float], float], low: float, high: float, expected: float) -> None:
    assert root(function, low, high, within=1e-12) == pytest.approx(expected, abs=3e-12)


@given(st.floats(-5.0, 5.0), st.floats(0.1, 20.0))
def test_it_agrees_with_brent_and_needs_few_steps(at: float, steep: float) -> None:
    from scipy.optimize import brentq

    calls: list[float] = []

    def function(x: float) -> float:
        calls.append(x)
        return math.tanh(steep * (x - at)) + 0.1 * (x - at)

    assert root(function, -10.0, 12.0, within=1e-10) == pytest.approx(at, abs=2e-10)
    assert len(calls) < 40
    assert brentq(function, -10.0, 12.0, xtol=1e-10) == pytest.approx(at, abs=2e-10)


def test_an_end_may_be_the_root_and_one_sign_is_refused() -> None:
    assert root(lambda x: x, 0.0, 1.0, within=1e-9) == 0.0
    with pytest.raises(ValueError, match="one sign"):
        root(lambda x: x + 5.0, 0.0, 1.0, within=1e-9)
