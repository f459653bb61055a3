"""Lines: a wire over a plane, and lossy lines as two-ports."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.constants import EPS0, ETA0, MU0
from models.formulas.impedance import Complex


class WireLine(NamedTuple):
    """A line per length: H/m, F/m, Ω."""

    inductance_h_per_m: float
    capacitance_f_per_m: float
    impedance_ohm: float


def wire_over_plane(radius_m: float, height_m: float) -> WireLine:
    """Line of a round wire above a plane.

    L' = (µ0/2π)·acosh(h/a), C' = 2πε0/acosh(h/a), Z0 = (η0/2π)·acosh(h/a) ≈ 60·ln(2h/a)

    Parameters
    ----------
    radius_m : a, m
    height_m : h of the centre above the plane, above a, m

    Returns
    -------
    WireLine

    Notes
    -----
    Exact in air without loss; insulation raises C' by 5 to 20 %. Radiates where h is not small against the wave.
    Source: S. Ramo, J. Whinnery, T. Van Duzer, *Fields and Waves in Communication Electronics*.
    """
    shape = math.acosh(height_m / radius_m)
    return WireLine(MU0 / (2.0 * math.pi) * shape, 2.0 * math.pi * EPS0 / shape, ETA0 / (2.0 * math.pi) * shape)


def lossy_line(
    f_hz: ArrayLike,
    inductance_h_per_m: float,
    capacitance_f_per_m: float,
    *,
    resistance_ohm_per_m: ArrayLike = 0.0,
    tan_delta: float = 0.0,
) -> tuple[Complex, Complex]:
    """Propagation constant and wave impedance of a line with losses.

    γ = √((R' + jωL')(ωC'tanδ + jωC')), Z0 = √((R' + jωL')/(ωC'tanδ + jωC'))

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    inductance_h_per_m, capacitance_f_per_m : L', C'
    resistance_ohm_per_m : R', one value or (F,), as skin effect makes it
    tan_delta : tanδ of what the field runs through

    Returns
    -------
    γ (F,) complex, 1/m, and Z0 (F,) complex, Ω

    Notes
    -----
    Exact for the line. Source: D. Pozar, *Microwave Engineering*, ch. 2.
    """
    omega = 2.0 * math.pi * np.asarray(f_hz, np.float64)
    series = np.asarray(resistance_ohm_per_m, np.float64) + 1j * omega * inductance_h_per_m
    shunt = omega * capacitance_f_per_m * (tan_delta + 1j)
    # the product of the roots, not the root of the product, keeps γ in the right quadrant
    root_series, root_shunt = np.sqrt(series), np.sqrt(shunt)
    return np.asarray(root_series * root_shunt, np.complex128), np.asarray(root_series / root_shunt, np.complex128)


def chain_matrix(gamma_per_m: ArrayLike, impedance_ohm: ArrayLike, length_m: float) -> Complex:
    """Chain matrix of a stretch of line.

    [[cosh γl, Z0·sinh γl], [sinh γl/Z0, cosh γl]], V1 = A·V2 + B·I2 with I2 out of the far end

    Parameters
    ----------
    gamma_per_m, impedance_ohm : γ, Z0 (F,)
    length_m : l, m

    Returns
    -------
    (F, 2, 2) complex

    Notes
    -----
    Exact; its determinant is 1. Source: D. Pozar, *Microwave Engineering*, ch. 4.
    """
    x = np.asarray(gamma_per_m, np.complex128) * length_m
    z0 = np.asarray(impedance_ohm, np.complex128)
    return _two_by_two(np.cosh(x), z0 * np.sinh(x), np.sinh(x) / z0, np.cosh(x))


def admittance_matrix(gamma_per_m: ArrayLike, impedance_ohm: ArrayLike, length_m: float) -> Complex:
    """Admittance matrix of a stretch of line, currents into both ends.

    (1/Z0)·[[coth γl, −1/sinh γl], [−1/sinh γl, coth γl]]

    Parameters
    ----------
    gamma_per_m, impedance_ohm : γ, Z0 (F,)
    length_m : l, m

    Returns
    -------
    (F, 2, 2) complex, S; infinite where a lossless line is a multiple of half a wave long

    Notes
    -----
    Exact. Source: D. Pozar, *Microwave Engineering*, ch. 4.
    """
    x = np.asarray(gamma_per_m, np.complex128) * length_m
    z0 = np.asarray(impedance_ohm, np.complex128)
    own, across = 1.0 / (z0 * np.tanh(x)), -1.0 / (z0 * np.sinh(x))
    return _two_by_two(own, across, across, own)


def input_impedance(
    gamma_per_m: ArrayLike, impedance_ohm: ArrayLike, length_m: float, far_end_ohm: ArrayLike
) -> Complex:
    """Impedance of a line with something at its far end.

    Z = Z0·(Z_L + Z0·tanh γl)/(Z0 + Z_L·tanh γl)

    Parameters
    ----------
    gamma_per_m, impedance_ohm : γ, Z0 (F,)
    length_m : l, m
    far_end_ohm : Z_L, one value or (F,), ``inf`` for open, 0 for a short, Ω

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Exact. Source: D. Pozar, *Microwave Engineering*, ch. 2.
    """
    x = np.asarray(gamma_per_m, np.complex128) * length_m
    z0, load = np.asarray(impedance_ohm, np.complex128), np.asarray(far_end_ohm, np.complex128)
    nothing = np.isinf(load)
    end = np.where(nothing, 0.0, load)
    tanh = np.tanh(x)
    upper = np.where(nothing, z0, end + z0 * tanh)
    return np.asarray(z0 * upper / np.where(nothing, z0 * tanh, z0 + end * tanh), np.complex128)


def _two_by_two(a: Complex, b: Complex, c: Complex, d: Complex) -> Complex:
    entries = np.broadcast_arrays(a, b, c, d)
    return np.asarray(np.stack(entries, axis=-1).reshape(*entries[0].shape, 2, 2), np.complex128)
