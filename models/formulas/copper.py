"""Copper: resistance, skin effect and partial inductance of bars, foils and wires."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Complex, Real
from models.formulas.constants import MU0, RHO_COPPER_OHM_M


def bar_dc_resistance(
    length_m: float, width_m: float, thickness_m: float, rho_ohm_m: float = RHO_COPPER_OHM_M
) -> float:
    """DC resistance of a flat bar that carries its current from end to end.

    R = ρl/(wt)

    Parameters
    ----------
    length_m, width_m, thickness_m : l, w, t, m
    rho_ohm_m : ρ, Ω·m

    Returns
    -------
    float, Ω

    Notes
    -----
    Exact for uniform current; current that spreads out of the ends adds `spreading_resistance`. Foil is usually
    10 to 20 % thinner than its nominal weight says. Source: any text on circuits.
    """
    return rho_ohm_m * length_m / (width_m * thickness_m)


def sheet_resistance(thickness_m: float, rho_ohm_m: float = RHO_COPPER_OHM_M) -> float:
    """DC resistance of a square of foil.

    R□ = ρ/t

    Parameters
    ----------
    thickness_m : t, m
    rho_ohm_m : ρ, Ω·m

    Returns
    -------
    float, Ω per square

    Notes
    -----
    Exact. Source: any text on circuits.
    """
    return rho_ohm_m / thickness_m


def skin_depth(f_hz: ArrayLike, rho_ohm_m: float = RHO_COPPER_OHM_M) -> Real:
    """Depth at which the current density in a thick conductor has fallen to 1/e.

    δ = √(ρ/(πfµ0))

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    rho_ohm_m : ρ, Ω·m

    Returns
    -------
    (F,), m

    Notes
    -----
    Exact for a plane surface and µr = 1. Source: S. Ramo, J. Whinnery, T. Van Duzer, *Fields and Waves in Communication
    Electronics*, ch. 3.
    """
    return np.asarray(np.sqrt(rho_ohm_m / (math.pi * MU0 * np.asarray(f_hz, np.float64))), np.float64)


def bar_ac_resistance(
    f_hz: ArrayLike, length_m: float, width_m: float, thickness_m: float, rho_ohm_m: float = RHO_COPPER_OHM_M
) -> Real:
    """AC resistance of a flat bar far from its return, with current on all its faces.

    R = √(Rdc² + Rhf²), Rhf = ρl/(2(w + t)δ)

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    length_m, width_m, thickness_m : l, w, t, m
    rho_ohm_m : ρ, Ω·m

    Returns
    -------
    (F,), Ω

    Notes
    -----
    Within ±15 % for bars of about equal sides; crowding at the edges of a thin wide bar raises it up to 1.5 times.
    Source: perimeter rule, as in H. W. Ott, *Electromagnetic Compatibility Engineering*.
    """
    dc = bar_dc_resistance(length_m, width_m, thickness_m, rho_ohm_m)
    # Rhf² grows as f, so that the sum needs no skin depth and holds at DC
    per_hz = math.pi * MU0 * rho_ohm_m * (length_m / (2.0 * (width_m + thickness_m))) ** 2
    return np.asarray(np.sqrt(dc * dc + per_hz * np.asarray(f_hz, np.float64)), np.float64)


def slab_impedance(f_hz: ArrayLike, thickness_m: float, rho_ohm_m: float = RHO_COPPER_OHM_M) -> Complex:
    """Impedance per square of a foil close above its return, with current on the face towards it.

    Zs = (ρ(1 + j)/δ)·coth((1 + j)t/δ); a bar of length l and width w has Zs·l/w

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    thickness_m : t, m
    rho_ohm_m : ρ, Ω·m

    Returns
    -------
    (F,) complex, Ω per square

    Notes
    -----
    Exact for a field on one face only and width much above thickness. The field outside the copper is not counted: add
    `plane.strip_over_plane_inductance`. Source: S. Ramo, J. Whinnery, T. Van Duzer, *Fields and Waves in Communication
    Electronics*, ch. 3.
    """
    f = np.asarray(f_hz, np.float64)
    x = (1.0 + 1.0j) * thickness_m * np.sqrt(math.pi * MU0 / rho_ohm_m * f)
    with np.errstate(invalid="ignore"):
        x_coth = np.where(f > 0.0, x / np.tanh(x), 1.0)
    return np.asarray(sheet_resistance(thickness_m, rho_ohm_m) * x_coth, np.complex128)


def spreading_resistance(sheet_ohm: float, neck_m: float, radius_m: float) -> float:
    """DC resistance of two large planes around the neck that joins them.

    R = 2·(R□/π)·ln(4Ro/w), each plane a half-disc of radius Ro

    Parameters
    ----------
    sheet_ohm : R□, Ω per square
    neck_m : width of the neck w, m
    radius_m : distance Ro at which the current is fed, m

    Returns
    -------
    float, Ω, both planes together, without the neck's own length

    Notes
    -----
    Within 1 % for Ro > 2.5w; wrong for Ro < w/2. Source: the flow through a slit between two half-planes in elliptic
    coordinates.
    """
    return 2.0 * sheet_ohm / math.pi * math.log(4.0 * radius_m / neck_m)


def bar_partial_inductance(length_m: float, width_m: float, thickness_m: float = 0.0) -> float:
    """Partial self-inductance of a flat bar.

    L = (µ0 l/6π)·{3·ln[u + √(u² + 1)] + u² + 1/u + 3u·ln[1/u + √(1/u² + 1)] − [u^(4/3) + u^(−2/3)]^(3/2)},
    u = l/(w + t)

    Parameters
    ----------
    length_m, width_m, thickness_m : l, w, t, m

    Returns
    -------
    float, H

    Notes
    -----
    Exact for t = 0 and uniform current. A thickness enters as added width, since the geometric mean distance of a
    rectangle is 0.2235(w + t): for a square bar 0.7 % high at l = 4(w + t) and 4 % at l = w + t, for t < w/50 a tenth
    of that. Partial inductance is an upper estimate: the loop decides, and the current's way back takes part of it
    away. Evaluated without the cancellation that spoils the printed form for long bars, so that it holds at every
    length. Source: A. Ruehli, *Inductance calculations in a complex integrated circuit environment*, 1972, eq. 15; GMD
    after F. Grover, *Inductance Calculations*.
    """
    u = length_m / (width_m + thickness_m)
    if u >= 1.0:
        rest = 1.0 / u - u * u * math.expm1(1.5 * math.log1p(u**-2))
    else:
        rest = u * u - math.expm1(1.5 * math.log1p(u * u)) / u
    return MU0 * length_m / (6.0 * math.pi) * (3.0 * math.asinh(u) + 3.0 * u * math.asinh(1.0 / u) + rest)


def wire_partial_inductance(length_m: float, diameter_m: float, *, skin_effect: bool = True) -> float:
    """Partial self-inductance of a straight round wire.

    L = 2·10⁻⁷·l·[ln(4l/d) − 1] with current on the surface, −0.75 instead of −1 with uniform current

    Parameters
    ----------
    length_m, diameter_m : l, d, m
    skin_effect : current on the surface only, as above some 100 kHz

    Returns
    -------
    float, H

    Notes
    -----
    Within 1 % for l > 25d. Source: E. Rosa, *The self and mutual inductances of linear conductors*, 1908.
    """
    return 2e-7 * length_m * (math.log(4.0 * length_m / diameter_m) - (1.0 if skin_effect else 0.75))


def wire_mutual_inductance(length_m: float, spacing_m: float) -> float:
    """Partial mutual inductance of two parallel wires of the same length, side by side.

    M = 2·10⁻⁷·[l·asinh(l/s) − √(l² + s²) + s]

    Parameters
    ----------
    length_m : l, m
    spacing_m : s between centres, m

    Returns
    -------
    float, H; two wires that share a current have (L + M)/2, out and back they have 2(L − M)

    Notes
    -----
    Exact for thin wires; crowding of the current towards or away from each other counts where s is below 2d. Source:
    E. Rosa, *The self and mutual inductances of linear conductors*, 1908.
    """
    slant = math.hypot(length_m, spacing_m)
    return 2e-7 * (length_m * math.asinh(length_m / spacing_m) - slant + spacing_m)
