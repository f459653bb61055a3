"""A bar's inductance by the rule of the handbooks."""

from __future__ import annotations

import math


def bar_inductance_grover(length_m: float, width_m: float, thickness_m: float) -> float:
    """Return the partial self-inductance of a long flat bar: L = 2·10⁻⁷·l·[ln(2l/(w + t)) + 0.5 + 0.2235(w + t)/l].

    For l > 2(w + t): 3 % low there, less than 0.5 % from l = 8(w + t) on. Source: F. Grover, *Inductance
    Calculations*; F. Terman, *Radio Engineers' Handbook*.
    """
    breadth = width_m + thickness_m
    return 2e-7 * length_m * (math.log(2.0 * length_m / breadth) + 0.5 + 0.2235 * breadth / length_m)
