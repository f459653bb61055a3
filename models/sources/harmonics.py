"""What every periodic wave shares: how many of its harmonics a sweep holds."""

from __future__ import annotations

import math

from models.errors import QuantityError

MOST_HARMONICS = 4_000_000
"""Past this a spectrum no longer fits in the memory of an ordinary machine beside everything else."""


def harmonic_count(frequency_hz: float, stop_hz: float) -> int:
    """Return how many harmonics lie at or below a frequency.

    Raises
    ------
    QuantityError
        where they are more than can be held
    """
    count = math.floor(stop_hz / frequency_hz * (1.0 + 1e-12))
    if count > MOST_HARMONICS:
        raise QuantityError(
            f"a source of {frequency_hz:g} Hz in a sweep to {stop_hz:g} Hz ({count:.3g} harmonics)",
            f"at most {MOST_HARMONICS} harmonics: a higher source frequency or a lower end of the sweep",
        )
    return count
