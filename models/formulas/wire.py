"""Cables as antennas: short wires, dipoles by induced emf, and lossy arms that hold at every frequency."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.constants import ETA0, EULER, LIGHT_M_PER_S, MU0
from models.formulas.impedance import Complex, Real

_SERIES_BELOW = 0.3
"""k·l under which the closed form has lost digits and four terms of its series have more."""


def short_wire_field(
    current_a_rms: ArrayLike, f_hz: ArrayLike, length_m: float, distance_m: float, reflection: float = 2.0
) -> Real:
    """Field of a short wire that carries an even current.

    E = g·µ0·f·I·L/(2r)

    Parameters
    ----------
    current_a_rms : I, any shape, A rms
    f_hz : f, same shape, Hz
    length_m : L, m
    distance_m : r, m
    reflection : g, 1 in free space, 2 with the ground's reflection in phase

    Returns
    -------
    shape of both, V/m rms

    Notes
    -----
    For L < λ/4 and r > λ/2π; overstates above, where L is to be held at λ/4 to λ/2. Source: H. W. Ott, *Electromagnetic
    Compatibility Engineering*, radiated emission of common-mode currents.
    """
    moment = np.asarray(current_a_rms, np.float64) * np.asarray(f_hz, np.float64) * length_m
    return np.asarray(reflection * MU0 * moment / (2.0 * distance_m), np.float64)


def permitted_current(
    field_v_per_m: float, f_hz: ArrayLike, length_m: float, distance_m: float, reflection: float = 2.0
) -> Real:
    """Common-mode current that reaches a field limit.

    I = 2E·r/(g·µ0·f·L)

    Parameters
    ----------
    field_v_per_m : E, V/m rms
    f_hz : f, any shape, above 0, Hz
    length_m, distance_m, reflection : as in `short_wire_field`

    Returns
    -------
    as f, A rms

    Notes
    -----
    As `short_wire_field`. Source: as there, solved for I.
    """
    return np.asarray(field_v_per_m / short_wire_field(1.0, f_hz, length_m, distance_m, reflection), np.float64)


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
    return np.asarray(ETA0 / (2.0 * math.pi) * np.where(x < _SERIES_BELOW, series, closed), np.float64)


def dipole_impedance(f_hz: ArrayLike, length_m: float, radius_m: float) -> Complex:
    """Input impedance of a centre-fed dipole by induced emf.

    Z = (R_m + jX_m)/sin²(kl/2),
    X_m = (η0/4π){2Si(kl) + cos(kl)[2Si(kl) − Si(2kl)] − sin(kl)[2Ci(kl) − Ci(2kl) − Ci(2ka²/l)]}

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    length_m : l from end to end, m
    radius_m : a of the wire, above 0, m

    Returns
    -------
    (F,) complex, Ω; a monopole over a plane has half of it

    Notes
    -----
    5 % for l < 0.6 λ; not usable near whole wavelengths, where it has no bound: `arm_impedance` is. Source: C. Balanis,
    *Antenna Theory*, ch. 8.
    """
    from scipy.special import sici

    k = 2.0 * math.pi * np.asarray(f_hz, np.float64) / LIGHT_M_PER_S
    x = k * length_m
    (si, ci), (si2, ci2) = sici(x), sici(2.0 * x)
    thin = sici(2.0 * k * radius_m**2 / length_m)[1]
    reactance = 2.0 * si + np.cos(x) * (2.0 * si - si2) - np.sin(x) * (2.0 * ci - ci2 - thin)
    at_maximum = radiation_resistance(x) + 1j * ETA0 / (4.0 * math.pi) * reactance
    return np.asarray(at_maximum / np.sin(0.5 * x) ** 2, np.complex128)


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


def arm_impedance(f_hz: ArrayLike, arm_m: float, radius_m: float, loss_ohm: float = 0.0) -> Complex:
    """Input impedance of a dipole of two like arms, as a lossy line: finite at every frequency.

    Z = Z0·(1 − jα/β)·coth((α + jβ)h), α = R_m/(Z0·h·[1 − sin(2βh)/(2βh)]), β = 2πf/c

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    arm_m : h of each arm, half the dipole, m
    radius_m : a, m
    loss_ohm : real loss added to R_m at the current maximum, Ω

    Returns
    -------
    (F,) complex, Ω; a monopole over a plane has half of it

    Notes
    -----
    ±3 dB. The short wire's resistance comes out exactly; resonance lies at 0.50 λ instead of 0.47 to 0.48. Source:
    E. Jordan, K. Balmain, *Electromagnetic Waves and Radiating Systems*, ch. 14.
    """
    beta = 2.0 * math.pi * np.asarray(f_hz, np.float64) / LIGHT_M_PER_S
    x = 2.0 * beta * arm_m
    z0 = arm_wave_impedance(arm_m, radius_m)
    # 1 − sin(x)/x loses all digits for a short arm
    spread = np.where(x < _SERIES_BELOW, x * x / 6.0 * (1.0 - x * x / 20.0 * (1.0 - x * x / 42.0)), 1.0 - np.sin(x) / x)
    alpha = (radiation_resistance(x) + loss_ohm) / (z0 * arm_m * spread)
    return np.asarray(z0 * (1.0 - 1j * alpha / beta) / np.tanh((alpha + 1j * beta) * arm_m), np.complex128)


def pair_impedance(f_hz: ArrayLike, first: tuple[float, float], second: tuple[float, float]) -> Complex:
    """Input impedance of a dipole of two unlike arms: the board on one side, the cable on the other.

    Z = ½·[Z(h1, a1) + Z(h2, a2)], the sum of two monopoles

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    first, second : (h, a) of each arm, m

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    ±3 to 6 dB in current. Source: halves of `arm_impedance`.
    """
    return np.asarray(0.5 * (arm_impedance(f_hz, *first) + arm_impedance(f_hz, *second)), np.complex128)
