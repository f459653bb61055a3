"""Orders at the ends of a band, where a quotient that ought to be whole is not quite."""

from __future__ import annotations

import pytest

from models.errors import QuantityError
from models.sources.harmonics import MOST_HARMONICS, first_order, harmonic_count, last_order


@pytest.mark.parametrize("frequency_hz", [0.1, 0.3, 49.9, 65e3, 1e5 / 3.0, 1.1e6])
@pytest.mark.parametrize("order", [1, 3, 7, 1000, 123_457])
def test_a_harmonic_on_an_end_belongs_to_the_band(frequency_hz: float, order: int) -> None:
    end_hz = order * frequency_hz
    assert first_order(frequency_hz, end_hz) == last_order(frequency_hz, end_hz) == order
    assert last_order(frequency_hz, end_hz * (1.0 - 1e-9)) == order - 1
    assert first_order(frequency_hz, end_hz * (1.0 + 1e-9)) == order + 1


def test_more_harmonics_than_can_be_held_are_refused() -> None:
    assert harmonic_count(1.0, float(MOST_HARMONICS)) == MOST_HARMONICS
    with pytest.raises(QuantityError, match="harmonics"):
        harmonic_count(1.0, MOST_HARMONICS + 1.0)
