"""Helpers around the trapezoid's spectrum: its envelope, ringing at its edges, and a spread clock."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.impedance import Complex, Real


def corner_frequencies(width_s: float, edge_s: float) -> tuple[float, float]:
    """Corners of the trapezoid's envelope.

    f1 = 1/(πτ), f2 = 1/(πt)

    Parameters
    ----------
    width_s : τ at half amplitude, s
    edge_s : the faster edge t, 0 to 100 %, s

    Returns
    -------
    f1 and f2, Hz: flat to f1, −20 dB per decade to f2, −40 dB per decade above

    Notes
    -----
    Exact asymptotes. Source: C. R. Paul, *Introduction to Electromagnetic Compatibility*, ch. 3.
    """
    return 1.0 / (math.pi * width_s), 1.0 / (math.pi * edge_s)


def trapezoid_envelope(f_hz: ArrayLike, amplitude: float, period_s: float, width_s: float, edge_s: float) -> Real:
    """Upper envelope of the harmonic peaks of a trapezoid.

    2A·(τ/T)·min(1, 1/(πfτ))·min(1, 1/(πft))

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    amplitude : A, V or A
    period_s : T, s
    width_s : τ at half amplitude, s
    edge_s : the faster edge t, 0 to 100 %, s

    Returns
    -------
    (F,), peak, in the unit of the amplitude

    Notes
    -----
    No harmonic of a trapezoid with equal edges exceeds it; with unequal edges the faster one makes it an upper
    estimate. Rounded edges lie far below it past f2. Source: C. R. Paul, *Introduction to Electromagnetic
    Compatibility*, ch. 3.
    """
    f = np.asarray(f_hz, np.float64)
    slope = np.minimum(1.0, 1.0 / (math.pi * f * width_s)) * np.minimum(1.0, 1.0 / (math.pi * f * edge_s))
    return np.asarray(2.0 * amplitude * width_s / period_s * slope, np.float64)


def ringing_coefficients(
    orders: ArrayLike, *, period_s: float, amplitude: float, ring_hz: float, quality: float, edge_s: float = 0.0
) -> Complex:
    """What a decaying oscillation at one edge adds to the Fourier coefficients.

    Δc_n = (A_r/T)·ω_r/((α + jω_n)² + ω_r²)·e^(−jω_n t_edge), α = ω_r/(2Q), of r(t) = A_r·e^(−αt)·sin(ω_r t)

    Parameters
    ----------
    orders : harmonic orders n (N,)
    period_s : T, s
    amplitude : A_r, negative at a falling edge, V or A
    ring_hz : ω_r/2π of the decaying oscillation, Hz
    quality : Q
    edge_s : instant at which the oscillation starts, s

    Returns
    -------
    (N,) complex, two-sided, in the unit of the amplitude

    Notes
    -----
    Exact, ringing that lasts into the next period included. Source: Fourier transform of r(t).
    """
    omega = 2.0 * math.pi * np.asarray(orders, np.float64) / period_s
    omega_r = 2.0 * math.pi * ring_hz
    alpha = omega_r / (2.0 * quality)
    at_zero = amplitude / period_s * omega_r / ((alpha + 1j * omega) ** 2 + omega_r**2)
    return np.asarray(at_zero * np.exp(-1j * omega * edge_s), np.complex128)


def ringing_peak(period_s: float, amplitude: float, ring_hz: float, quality: float) -> float:
    """Largest coefficient that ringing adds, at its own frequency.

    |Δc| ≈ A_r/(2αT) = A_r·Q/(2πf_r T)

    Parameters
    ----------
    period_s : T, s
    amplitude : A_r, V or A
    ring_hz : f_r, Hz
    quality : Q

    Returns
    -------
    float, in the unit of the amplitude

    Notes
    -----
    Within 1 % for Q > 4. Source: `ringing_coefficients` at ω_n = ω_r.
    """
    return amplitude * quality / (2.0 * math.pi * ring_hz * period_s)


def spread_reduction_db(spread_hz: float, bandwidth_hz: float) -> float:
    """How far a spread clock lowers the average reading of a harmonic.

    10·log10(Δf/B), never below 0

    Parameters
    ----------
    spread_hz : width Δf over which the harmonic is spread, Hz
    bandwidth_hz : receiver bandwidth B, Hz

    Returns
    -------
    float, dB

    Notes
    -----
    For a spread that is even and sweeps faster than the receiver settles; ±2 dB. Source: power of a line over a band.
    """
    return 10.0 * math.log10(max(1.0, spread_hz / bandwidth_hz))
