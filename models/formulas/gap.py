"""The gap between two planes as a slot line: its capacitance, inductance and impedance per length."""

from __future__ import annotations

import math
from typing import NamedTuple

from models.formulas.constants import EPS0, MU0


class GapLine(NamedTuple):
    """Slot line of a gap, per length: F/m, H/m, effective permittivity, Ω."""

    capacitance_f_per_m: float
    inductance_h_per_m: float
    permittivity: float
    impedance_ohm: float


def gap_air_capacitance(gap_m: float, depth_a_m: float, depth_b_m: float) -> float:
    """Capacitance per length between the edges of two planes in air.

    C' = 2ε0·K(k')/K(k), k² = g(g + W1 + W2)/((g + W1)(g + W2)), k'² = 1 − k²

    Parameters
    ----------
    gap_m : g, m
    depth_a_m, depth_b_m : depth W1, W2 of the planes away from the gap, m

    Returns
    -------
    float, F/m

    Notes
    -----
    Exact for thin copper. For equal depths it is ε0·K(k')/K(k) with k = g/(g + 2W). Source: conformal mapping; for
    coplanar strips K. C. Gupta, R. Garg, I. Bahl, P. Bhartia, *Microstrip Lines and Slotlines*, ch. 7.
    """
    outer = (gap_m + depth_a_m) * (gap_m + depth_b_m)
    return (
        2.0
        * EPS0
        * _period_ratio(
            gap_m * (gap_m + depth_a_m + depth_b_m) / outer,
            depth_a_m * depth_b_m / outer,
        )
    )


def gap_board_capacitance(
    gap_m: float, depth_a_m: float, depth_b_m: float, board_m: float, permittivity: float
) -> float:
    """Capacitance per length that the board adds to the gap between two planes on one of its faces.

    ΔC' = ε0(εr − 1)·K(k1')/K(k1), k1² = sinh(sg)·sinh(s(g + W1 + W2))/[sinh(s(g + W1))·sinh(s(g + W2))], s = π/(2h)

    Parameters
    ----------
    gap_m : g, m
    depth_a_m, depth_b_m : W1, W2, m
    board_m : thickness h of the board, no plane below, m
    permittivity : εr of the board

    Returns
    -------
    float, F/m

    Notes
    -----
    5 to 8 % low in the sum with air for ordinary boards, against a field solution. For equal depths k1 is
    tanh(πa/2h)/tanh(πb/2h) with a = g/2, b = g/2 + W; the sinh of some texts belongs to coplanar waveguide. Copper on
    several layers adds 20 to 60 %. Source: conformal mapping of the board onto a half-plane.
    """
    s = math.pi / (2.0 * board_m)
    near, far, whole = s * (gap_m + depth_a_m), s * (gap_m + depth_b_m), s * (gap_m + depth_a_m + depth_b_m)
    # sinh x = e^x·(1 − e^(−2x))/2: the exponentials cancel but for that of the gap, and no wide plane overflows
    outer = _bulge(near) * _bulge(far)
    square = _bulge(s * gap_m) * _bulge(whole) / outer
    complement = math.exp(-2.0 * s * gap_m) * _bulge(s * depth_a_m) * _bulge(s * depth_b_m) / outer
    return EPS0 * (permittivity - 1.0) * _period_ratio(square, complement)


def gap_line(
    gap_m: float, depth_a_m: float, depth_b_m: float, board_m: float = 0.0, permittivity: float = 1.0
) -> GapLine:
    """Slot line of the gap between two planes.

    C' = C'air + ΔC', ε_eff = C'/C'air, L' = µ0ε0/C'air, Z0 = √(L'/C')

    Parameters
    ----------
    gap_m : g, m
    depth_a_m, depth_b_m : W1, W2, m
    board_m : h, m; 0 for none
    permittivity : εr

    Returns
    -------
    GapLine

    Notes
    -----
    As `gap_board_capacitance`; up to where a quarter wave spans the depth of a plane. Source: quasi-static line.
    """
    air = gap_air_capacitance(gap_m, depth_a_m, depth_b_m)
    board = gap_board_capacitance(gap_m, depth_a_m, depth_b_m, board_m, permittivity) if board_m > 0.0 else 0.0
    inductance = MU0 * EPS0 / air
    return GapLine(air + board, inductance, 1.0 + board / air, math.sqrt(inductance / (air + board)))


def _period_ratio(square: float, complement: float) -> float:
    """Return K(k')/K(k) from k² and k'², both given so that neither loses its digits."""
    from scipy.special import ellipkm1

    return float(ellipkm1(square) / ellipkm1(complement))


def _bulge(x: float) -> float:
    return -math.expm1(-2.0 * x)
