"""The trapezoid's envelope: the bound that everyone draws over its harmonics."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real


def corner_frequencies(width_s: float, edge_s: float) -> tuple[float, float]:
    """Return f1 = 1/(πτ) and f2 = 1/(πt) of the width at half amplitude and the faster edge, Hz."""
    return 1.0 / (math.pi * width_s), 1.0 / (math.pi * edge_s)


def trapezoid_envelope(f_hz: ArrayLike, amplitude: float, period_s: float, width_s: float, edge_s: float) -> Real:
    """Return the upper envelope of the harmonics' peaks: 2A·(τ/T)·min(1, f1/f)·min(1, f2/f).

    No harmonic of a trapezoid with equal edges exceeds it. Source: C. R. Paul, *Introduction to Electromagnetic
    Compatibility*, ch. 3.
    """
    f = np.asarray(f_hz, np.float64)
    first, second = corner_frequencies(width_s, edge_s)
    slope = np.minimum(1.0, first / f) * np.minimum(1.0, second / f)
    return np.asarray(2.0 * amplitude * width_s / period_s * slope, np.float64)
