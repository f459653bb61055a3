"""Planes that overlap on two layers: a capacitor made of the board itself."""

from __future__ import annotations

import math

from models.formulas.constants import EPS0, MU0


def fringe_factor(side_m: float, separation_m: float) -> float:
    """Factor by which the field around an edge raises the capacitance of a plate.

    F(x) = 1 + (h/(πx))·(1 + ln(2πx/h))

    Parameters
    ----------
    side_m : side of the plate x, m
    separation_m : h, m

    Returns
    -------
    float, above 1

    Notes
    -----
    For x > 5h; the part above 1 is good to 20 %, less with a dielectric between only. Source: H. Palmer, *The
    capacitance of a parallel-plate capacitor by the Schwarz-Christoffel transformation*, 1937.
    """
    return 1.0 + separation_m / (math.pi * side_m) * (1.0 + math.log(math.tau * side_m / separation_m))


def plate_capacitance(width_m: float, length_m: float, separation_m: float, permittivity: float) -> float:
    """Capacitance of two plates without the field around their edges.

    C = ε0εr·wl/h

    Parameters
    ----------
    width_m, length_m : w, l of the overlap, m
    separation_m : dielectric h between the layers, m
    permittivity : εr

    Returns
    -------
    float, F

    Notes
    -----
    A lower estimate. Insulation through the board has its own least thickness: the standard's current edition decides.
    Source: any text on fields.
    """
    return EPS0 * permittivity * width_m * length_m / separation_m


def overlap_capacitance(width_m: float, length_m: float, separation_m: float, permittivity: float) -> float:
    """Capacitance of two planes that overlap, the field around their edges counted.

    C = ε0εr·(wl/h)·F(w)·F(l)

    Parameters
    ----------
    width_m, length_m : w, l of the overlap, m
    separation_m : h, m
    permittivity : εr

    Returns
    -------
    float, F

    Notes
    -----
    For sides above 5h; the edges' part is good to 20 %. Source: `plate_capacitance` with `fringe_factor` both ways.
    """
    fringe = fringe_factor(width_m, separation_m) * fringe_factor(length_m, separation_m)
    return plate_capacitance(width_m, length_m, separation_m, permittivity) * fringe


def overlap_inductance(width_m: float, length_m: float, separation_m: float) -> float:
    """Series inductance of two planes that overlap, fed along one edge.

    L ≈ µ0·h·l/(3w)

    Parameters
    ----------
    width_m : w of the edge that feeds it, m
    length_m : l from that edge, m
    separation_m : h, m

    Returns
    -------
    float, H; vias that feed it come on top

    Notes
    -----
    First term of an open stretch of plate line: to a tenth of a wavelength within 5 %. Source: Taylor series of coth.
    """
    return MU0 * separation_m * length_m / (3.0 * width_m)
