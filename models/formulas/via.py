"""Vias: partial inductance of one, loop inductance of two."""

from __future__ import annotations

import math

from models.formulas.constants import MU0


def via_partial_inductance(length_m: float, diameter_m: float) -> float:
    """Partial inductance of one via.

    L = (µ0/2π)·[h·ln((h + √(r² + h²))/r) + 1.5(r − √(r² + h²))], r = d/2

    Parameters
    ----------
    length_m : h between the layers it joins, m
    diameter_m : drill diameter d, m

    Returns
    -------
    float, H

    Notes
    -----
    Within 10 % where the return is a close plane pair or a ring of ground vias; h from 0.2 to 3 mm. Source: M.
    Goldfarb, R. Pucel, *Modeling via hole grounds in microstrip*, 1991, eq. 1.
    """
    radius = 0.5 * diameter_m
    slant = math.hypot(radius, length_m)
    return MU0 / math.tau * (length_m * math.asinh(length_m / radius) + 1.5 * (radius - slant))


def via_pair_inductance(length_m: float, diameter_m: float, spacing_m: float) -> float:
    """Loop inductance of two vias that carry opposite currents.

    L = (µ0 h/π)·acosh(s/d)

    Parameters
    ----------
    length_m : h, m
    diameter_m : d, m
    spacing_m : s between centres, above d, m

    Returns
    -------
    float, H

    Notes
    -----
    Exact per length for vias that end in planes. Source: inductance of a two-wire line.
    """
    return MU0 * length_m / math.pi * math.acosh(spacing_m / diameter_m)
