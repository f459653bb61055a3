"""Numbers as JSON has them: null for what is infinite or unknown, a pair for what is complex."""

from __future__ import annotations

import math

import numpy as np


def finite(value: float) -> float | None:
    """Return a number, or None for what JSON has no word for."""
    return value if math.isfinite(value) else None


def pair(z: complex | np.complex128) -> list[float] | None:
    """Return the real and the imaginary part, or None where one of them is not finite."""
    return [float(z.real), float(z.imag)] if math.isfinite(z.real) and math.isfinite(z.imag) else None
