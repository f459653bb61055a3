"""Resonance of an inductance and a capacitance."""

from __future__ import annotations

import math


def resonance_hz(inductance_h: float, capacitance_f: float) -> float:
    """Frequency at which L and C cancel.

    f = 1/(2π√(LC))

    Parameters
    ----------
    inductance_h, capacitance_f : L, H; C, F; above 0

    Returns
    -------
    float, Hz: self-resonance of a capacitor with its ESL, peak of a coil with its winding capacitance

    Notes
    -----
    Exact without loss. Source: Thomson's formula.
    """
    return 1.0 / (math.tau * math.sqrt(inductance_h * capacitance_f))


def characteristic_ohm(inductance_h: float, capacitance_f: float) -> float:
    """Reactance of either of L and C at their resonance.

    √(L/C)

    Parameters
    ----------
    inductance_h, capacitance_f : L, H; C, F; above 0

    Returns
    -------
    float, Ω

    Notes
    -----
    Exact. Source: any text on circuits.
    """
    return math.sqrt(inductance_h / capacitance_f)
