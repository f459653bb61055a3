"""What every periodic wave shares: which of its harmonics a band or a sweep holds."""

from __future__ import annotations

import math
from typing import Final

from models.errors import QuantityError

MOST_HARMONICS = 4_000_000
"""Past this a spectrum no longer fits in the memory of an ordinary machine beside everything else."""


SLACK: Final = 1e-12
"""Share by which a frequency may lie past an end and still counts as on it: more than a quotient's rounding."""


def first_order(frequency_hz: float, start_hz: float) -> int:
    """Return the lowest order of a harmonic at or above a frequency."""
    return math.ceil(start_hz / frequency_hz * (1.0 - SLACK))


def last_order(frequency_hz: float, stop_hz: float) -> int:
    """Return the highest order of a harmonic at or below a frequency."""
    return math.floor(stop_hz / frequency_hz * (1.0 + SLACK))


def harmonic_count(frequency_hz: float, stop_hz: float) -> int:
    """Return how many harmonics lie at or below a frequency.

    Raises
    ------
    QuantityError
        where they are more than can be held
    """
    count = last_order(frequency_hz, stop_hz)
    if count > MOST_HARMONICS:
        raise QuantityError(
            f"a source of {frequency_hz:g} Hz in a sweep to {stop_hz:g} Hz ({count:.3g} harmonics)",
            f"at most {MOST_HARMONICS} harmonics: a higher source frequency or a lower end of the sweep",
        )
    return count
