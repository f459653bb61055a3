"""Stray of a body: its capacitance to far surroundings, and to a conducting plane below it."""

from __future__ import annotations

import math

from models.formulas.constants import EPS0
from models.formulas.overlap import plate_capacitance


def free_body_capacitance(length_m: float, width_m: float, thickness_m: float = 0.0) -> float:
    """Capacitance of a box to surroundings that are far away.

    C = ε0·√(4πS) = 4πε0·√(S/4π), S = 2(lw + lt + wt): the sphere of the same surface

    Parameters
    ----------
    length_m, width_m, thickness_m : l, w, t, m; t = 0 for a plate

    Returns
    -------
    float, F

    Notes
    -----
    2 to 5 % high for boxes of sides up to 1:3, 5 % for a cube, 9 % for a square plate, 11 % for a disc, whose exact
    value is 8ε0r; 10 % low for a plate of 1:8. Whatever stands nearer raises it. Source: sphere in free space, taken
    for other bodies; checked by a moment method.
    """
    surface = 2.0 * (length_m * width_m + length_m * thickness_m + width_m * thickness_m)
    return EPS0 * math.sqrt(4.0 * math.pi * surface)


def wall_capacitance(perimeter_m: float, thickness_m: float, height_m: float) -> float:
    """Capacitance of upright walls to the plane that they stand above.

    C = (2ε0/π)·P·ln(1 + t/h)

    Parameters
    ----------
    perimeter_m : P of the body, m
    thickness_m : t from the lower to the upper edge, m
    height_m : h of the lower edge above the plane, m

    Returns
    -------
    float, F

    Notes
    -----
    Field lines taken as quarter circles; alone no more than a share of `body_over_plane_capacitance`. Source: flux
    between two planes at a right angle.
    """
    return 2.0 * EPS0 / math.pi * perimeter_m * math.log1p(thickness_m / height_m)


def body_over_plane_capacitance(length_m: float, width_m: float, thickness_m: float, height_m: float) -> float:
    """Capacitance of a box to a conducting plane below it, at any height.

    C = ε0·lw/h + (2ε0/π)·2(l + w)·ln(1 + t/h) + ε0·√(4πS): underside, walls, and the whole in free space

    Parameters
    ----------
    length_m, width_m, thickness_m : l, w, t of the body, t upright, m; t = 0 for a plate
    height_m : h of its lower face above the plane, m

    Returns
    -------
    float, F

    Notes
    -----
    Within 10 % at every height for l and w up to 1:4, within 16 % to 1:8. The plane is endless: it should reach
    beyond the body by h. Source: sum of `overlap.plate_capacitance`, `wall_capacitance` and `free_body_capacitance`;
    checked by a moment method.
    """
    below = plate_capacitance(width_m, length_m, height_m, 1.0)
    walls = wall_capacitance(2.0 * (length_m + width_m), thickness_m, height_m)
    return below + walls + free_body_capacitance(length_m, width_m, thickness_m)
