"""What ringing at its edges adds to a wave's spectrum."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Complex


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
    omega = math.tau * np.asarray(orders, np.float64) / period_s
    omega_r = math.tau * ring_hz
    alpha = omega_r / (2.0 * quality)
    at_zero = amplitude / period_s * omega_r / ((alpha + 1j * omega) ** 2 + omega_r**2)
    return np.asarray(at_zero * np.exp(-1j * omega * edge_s), np.complex128)
