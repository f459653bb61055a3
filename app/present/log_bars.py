"""Bars on a log scale: five decades, the upper end at a whole decade."""

from __future__ import annotations

import math
from collections.abc import Iterable

_DECADES = 5.0


def upper_end(values: Iterable[float]) -> float:
    """Return the decade at or over the largest of some values; 1 where none of them is finite and above 0."""
    seen = [value for value in values if math.isfinite(value) and value > 0.0]
    return 10.0 ** math.ceil(math.log10(max(seen, default=1.0)))


def log_fraction(value: float, upper: float) -> float:
    """Return how much of a bar a value fills: all of it at the upper end and beyond, nothing five decades below."""
    if math.isinf(value):
        return 1.0
    return min(max(0.0, 1.0 + math.log10(value / upper) / _DECADES), 1.0) if value > 0.0 else 0.0
