from __future__ import annotations

import math

import pytest

from app.lessons.claim import parse_claim
from models.errors import QuantityError


@pytest.mark.parametrize(
    ("text", "unit", "inside", "outside"),
    [
        ("> 500 ohm", "ohm", 501.0, 500.0),
        ("< 5 V", "V", 4.9, 5.0),
        ("about 2 nF", "F", 2.19e-9, 2.21e-9),
        ("1 V to 3 V", "V", 2.0, 3.1),
        ("> 90 %", "", 0.91, 0.9),
        ("pass", "", 1.0, 0.0),
        ("fail", "", 0.0, 1.0),
        ("open", "ohm", math.inf, 1e30),
    ],
)
def test_a_claim_holds_inside_and_nowhere_else(text: str, unit: str, inside: float, outside: float) -> None:
    claim = parse_claim(text, unit)
    assert claim.holds(inside)
    assert not claim.holds(outside)
    assert not claim.holds(math.nan)


@pytest.mark.parametrize("text", ["500 ohm", "> 5 V", "more", "1 ohm to", ""])
def test_what_is_no_claim_is_refused(text: str) -> None:
    with pytest.raises(QuantityError):
        parse_claim(text, "ohm")
