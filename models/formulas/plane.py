"""A plane and what runs over it: loop inductance of a strip."""

from __future__ import annotations

import math

from models.formulas.constants import MU0


def strip_over_plane_inductance(width_m: float, height_m: float) -> float:
    """Loop inductance per length of a strip over a continuous plane.

    L' = (µ0/2π)·ln(8h/w + w/(4h)) for w ≤ h; L' = µ0/[w/h + 1.393 + 0.667·ln(w/h + 1.444)] above

    Parameters
    ----------
    width_m : w, m
    height_m : h of the strip above the plane, m

    Returns
    -------
    float, H/m

    Notes
    -----
    Within 1 % for thin strips and a plane wider than w + 6h. Source: E. Hammerstad, *Equations for microstrip circuit
    design*, 1975, for εr = 1.
    """
    shape = width_m / height_m
    if shape <= 1.0:
        return MU0 / math.tau * math.log(8.0 / shape + 0.25 * shape)
    return MU0 / (shape + 1.393 + 0.667 * math.log(shape + 1.444))
