"""Lines: a wire over a plane."""

from __future__ import annotations

import math
from typing import NamedTuple

from models.formulas.constants import EPS0, ETA0, MU0


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
    return WireLine(MU0 / math.tau * shape, math.tau * EPS0 / shape, ETA0 / math.tau * shape)


def wire_pair_capacitance(length_m: float, spacing_m: float, diameter_m: float, permittivity: float = 1.0) -> float:
    """Capacitance between two round wires side by side.

    C = πε0εr·l/acosh(s/d)

    Parameters
    ----------
    length_m : l over which they run side by side, m
    spacing_m : s between centres, above d, m
    diameter_m : d of the metal, m
    permittivity : εr that the field meets on its way, 1 for air

    Returns
    -------
    float, F

    Notes
    -----
    Exact per length for wires far from all else, in one medium; ends add to it where l < 3s. A plane nearby takes part
    of it away. Source: S. Ramo, J. Whinnery, T. Van Duzer, *Fields and Waves in Communication Electronics*.
    """
    return math.pi * EPS0 * permittivity * length_m / math.acosh(spacing_m / diameter_m)
