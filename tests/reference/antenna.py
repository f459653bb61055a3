"""Wires as antennas after the books: the short wire, the dipole by induced emf, its arms as a lossy line."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import sici

from models.arrays import Complex, Real
from models.formulas.constants import ETA0, LIGHT_M_PER_S, MU0
from models.formulas.wire import arm_wave_impedance, radiation_resistance

_SERIES_BELOW = 0.3


def short_wire_field(
    current_a_rms: ArrayLike, f_hz: ArrayLike, length_m: float, distance_m: float, reflection: float = 1.0
) -> Real:
    """Return the field of a short wire with an even current: E = g·µ0·f·I·L/(2r), g = 2 over ground in phase.

    Source: H. W. Ott, *Electromagnetic Compatibility Engineering*, radiated emission of common-mode currents.
    """
    moment = np.asarray(current_a_rms, np.float64) * np.asarray(f_hz, np.float64) * length_m
    return np.asarray(reflection * MU0 * moment / (2.0 * distance_m), np.float64)


def half_wave_field(current_a_rms: float, distance_m: float) -> float:
    """Return the field of a half-wave dipole, broadside in free space: E = η0·I/(2πr).

    Source: C. Balanis, *Antenna Theory*, ch. 4.
    """
    return ETA0 * current_a_rms / (2.0 * math.pi * distance_m)


def dipole_impedance(f_hz: ArrayLike, length_m: float, radius_m: float) -> Complex:
    """Return the input impedance of a centre-fed dipole by induced emf, not usable near whole wavelengths.

    Z = (R_m + jX_m)/sin²(kl/2),
    X_m = (η0/4π){2Si(kl) + cos(kl)[2Si(kl) − Si(2kl)] − sin(kl)[2Ci(kl) − Ci(2kl) − Ci(2ka²/l)]}

    Source: C. Balanis, *Antenna Theory*, ch. 8.
    """
    k = 2.0 * math.pi * np.asarray(f_hz, np.float64) / LIGHT_M_PER_S
    x = k * length_m
    (si, ci), (si2, ci2) = sici(x), sici(2.0 * x)
    thin = sici(2.0 * k * radius_m**2 / length_m)[1]
    reactance = 2.0 * si + np.cos(x) * (2.0 * si - si2) - np.sin(x) * (2.0 * ci - ci2 - thin)
    at_maximum = radiation_resistance(x) + 1j * ETA0 / (4.0 * math.pi) * reactance
    return np.asarray(at_maximum / np.sin(0.5 * x) ** 2, np.complex128)


def arm_impedance(f_hz: ArrayLike, arm_m: float, radius_m: float) -> Complex:
    """Return the input impedance of a dipole of two like arms as a lossy line: finite at every frequency.

    Z = Z0·(1 − jα/β)·coth((α + jβ)h), α = R_m/(Z0·h·[1 − sin(2βh)/(2βh)]), β = 2πf/c

    Source: E. Jordan, K. Balmain, *Electromagnetic Waves and Radiating Systems*, ch. 14.
    """
    beta = 2.0 * math.pi * np.asarray(f_hz, np.float64) / LIGHT_M_PER_S
    x = 2.0 * beta * arm_m
    z0 = arm_wave_impedance(arm_m, radius_m)
    # 1 − sin(x)/x loses all digits for a short arm
    spread = np.where(x < _SERIES_BELOW, x * x / 6.0 * (1.0 - x * x / 20.0 * (1.0 - x * x / 42.0)), 1.0 - np.sin(x) / x)
    alpha = radiation_resistance(x) / (z0 * arm_m * spread)
    return np.asarray(z0 * (1.0 - 1j * alpha / beta) / np.tanh((alpha + 1j * beta) * arm_m), np.complex128)
