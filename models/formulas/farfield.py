"""Far field of a wire from the power that it takes."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.constants import ETA0
from models.formulas.impedance import Real


def delivered_power(v_rms: ArrayLike, antenna_ohm: ArrayLike, source_ohm: ArrayLike = 0.0) -> Real:
    """Power that a voltage across the gap feeds into the wire.

    P = |V|²·Re(Z_a)/|Z_s + Z_a|²

    Parameters
    ----------
    v_rms : V (F,), V rms
    antenna_ohm : Z_a (F,), Ω
    source_ohm : Z_s of the gap, one value or (F,), Ω

    Returns
    -------
    (F,), W

    Notes
    -----
    Exact. Source: any text on circuits.
    """
    antenna = np.asarray(antenna_ohm, np.complex128)
    whole = np.abs(np.asarray(source_ohm, np.complex128) + antenna)
    return np.asarray((np.abs(np.asarray(v_rms)) / whole) ** 2 * antenna.real, np.float64)


def field_of_power(power_w: ArrayLike, distance_m: float, directivity: ArrayLike = 1.64, gain: float = 1.0) -> Real:
    """Field at a distance from radiated power.

    E = g·√(30·P·D)/r

    Parameters
    ----------
    power_w : P, any shape, W
    distance_m : r, m
    directivity : D, 1.5 to 4 for wires
    gain : g, 1 in free space to 2 with the ground's reflection in phase

    Returns
    -------
    same shape, V/m rms

    Notes
    -----
    Far field, r > λ/2π. Height scan gives g of 4 to 6 dB. Source: power density of a spherical
    wave, with η0/4π = 29.98 Ω taken as 30 Ω by custom.
    """
    density = 30.0 * np.asarray(power_w, np.float64) * np.asarray(directivity, np.float64)
    return np.asarray(gain * np.sqrt(density) / distance_m, np.float64)


def wire_directivity(length_waves: float) -> float:
    """Greatest directivity of a centre-fed wire in free space.

    D = 2·max F/∫F·sinθ dθ, F = {[cos(½kl·cosθ) − cos(½kl)]/sinθ}²

    Parameters
    ----------
    length_waves : l/λ from end to end, above 0

    Returns
    -------
    float, 1.5 for a short wire, 1.64 for half a wave

    Notes
    -----
    Exact for a sinusoidal current; 10 % for thick or lossy wires. Source: C. Balanis, *Antenna Theory*, ch. 4.
    """
    half = math.pi * length_waves
    cosines, weights = np.polynomial.legendre.leggauss(64 + int(8.0 * length_waves))
    mean = float(weights @ _pattern(cosines, half))
    # the pattern is even; a parabola through the best three of many directions finds its top
    directions = np.linspace(0.0, 1.0, 2001 + int(200.0 * length_waves), endpoint=False)
    pattern = _pattern(directions, half)
    best = int(np.argmax(pattern))
    if best == 0:
        return 2.0 * float(pattern[0]) / mean
    before, top, after = (float(value) for value in pattern[best - 1 : best + 2])
    return 2.0 * (top + (after - before) ** 2 / (8.0 * (2.0 * top - before - after))) / mean


def _pattern(cosine: Real, half: float) -> Real:
    # the difference of cosines as a product keeps its digits for a short wire
    difference = 2.0 * np.sin(0.5 * half * (1.0 + cosine)) * np.sin(0.5 * half * (1.0 - cosine))
    return np.asarray(difference**2 / (1.0 - cosine**2), np.float64)


def half_wave_field(current_a_rms: ArrayLike, distance_m: float) -> Real:
    """Field of a half-wave dipole, broadside in free space.

    E = η0·I/(2πr) ≈ 60·I/r

    Parameters
    ----------
    current_a_rms : I at the feed, any shape, A rms
    distance_m : r, m

    Returns
    -------
    same shape, V/m rms

    Notes
    -----
    Exact for a sinusoidal current. Source: C. Balanis, *Antenna Theory*, ch. 4.
    """
    return np.asarray(ETA0 * np.asarray(current_a_rms, np.float64) / (2.0 * math.pi * distance_m), np.float64)
