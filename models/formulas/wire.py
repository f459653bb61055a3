"""Wires as antennas: what a centre-fed one radiates, and the wave impedance of its arms."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real
from models.formulas.constants import ETA0, EULER

_SERIES_BELOW = 0.3
"""k·l under which the closed form has lost digits and four terms of its series have more."""


def radiation_resistance(kl: ArrayLike) -> Real:
    """Radiation resistance of a centre-fed wire at its current maximum.

    R_m = (η0/2π){γ + ln(kl) − Ci(kl) + ½sin(kl)[Si(2kl) − 2Si(kl)] + ½cos(kl)[γ + ln(kl/2) + Ci(2kl) − 2Ci(kl)]}

    Parameters
    ----------
    kl : 2π·l/λ, any shape, above 0

    Returns
    -------
    same shape, Ω; (η0/96π)(kl)⁴ for a short wire

    Notes
    -----
    Exact for a sinusoidal current: 5 % for wires below 1.5 λ. Source: C. Balanis, *Antenna Theory*, ch. 8.
    """
    from scipy.special import sici

    x = np.asarray(kl, np.float64)
    (si, ci), (si2, ci2) = sici(x), sici(2.0 * x)
    closed = EULER + np.log(x) - ci + 0.5 * np.sin(x) * (si2 - 2.0 * si)
    closed += 0.5 * np.cos(x) * (EULER + np.log(0.5 * x) + ci2 - 2.0 * ci)
    s = x * x
    series = s * s * (1.0 / 48.0 - s / 960.0 + 11.0 * s**2 / 483_840.0 - s**3 / 3_483_648.0)
    return np.asarray(ETA0 / math.tau * np.where(x < _SERIES_BELOW, series, closed), np.float64)


def arm_wave_impedance(arm_m: float, radius_m: float) -> float:
    """Mean wave impedance of a dipole's arms as a line.

    Z0 = 120·[ln(2h/a) − 1]

    Parameters
    ----------
    arm_m : h, m
    radius_m : a, m

    Returns
    -------
    float, Ω

    Notes
    -----
    For h > 10a. Source: S. Schelkunoff, *Theory of antennas of arbitrary size and shape*, 1941.
    """
    return 120.0 * (math.log(2.0 * arm_m / radius_m) - 1.0)
