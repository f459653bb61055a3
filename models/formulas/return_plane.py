"""Return currents that cross a split: what their way to the nearest bridge costs."""

from __future__ import annotations

from typing import Literal


def detour_inductance(inductance_h_per_m: float, distance_m: float, sides: Literal[1, 2] = 1) -> float:
    """Inductance of a return current's way along the split to the bridge.

    L = L'·D/n

    Parameters
    ----------
    inductance_h_per_m : L' of the slot line, H/m
    distance_m : D to the nearest bridge, m
    sides : n, a bridge on one side or one on both

    Returns
    -------
    float, H

    Notes
    -----
    While D is below a tenth of a wavelength. Source: short stretch of the slot line.
    """
    return inductance_h_per_m * distance_m / sides
