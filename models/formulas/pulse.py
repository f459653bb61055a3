"""What test pulses have in common: their shape, and how a voltage shares out between two capacitances."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real


def correction(rise_s: float, decay_s: float, exponent: float) -> float:
    """Factor that brings a pulse's top back to its nominal height.

    k = exp[−(τ1/τ2)·(n·τ2/τ1)^(1/n)]

    Parameters
    ----------
    rise_s, decay_s : τ1, τ2, s
    exponent : n

    Returns
    -------
    float

    Notes
    -----
    Approximate: tops come out within 15 % of nominal. Source: IEC 61000-4-2, -4-4 and -4-5, formulas of the waveforms.
    """
    return math.exp(-rise_s / decay_s * (exponent * decay_s / rise_s) ** (1.0 / exponent))


def pulse_shape(t_s: ArrayLike, rise_s: float, decay_s: float, exponent: float) -> Real:
    """Shape of a pulse that starts at 0.

    (1/k)·x/(1 + x)·e^(−t/τ2), x = (t/τ1)^n

    Parameters
    ----------
    t_s : t, any shape, s
    rise_s, decay_s : τ1, τ2, s
    exponent : n

    Returns
    -------
    same shape, about 1 at its top, 0 before its start

    Notes
    -----
    Exact as a definition. Source: F. Heidler, *Analytische Blitzstromfunktion zur LEMP-Berechnung*, 1985, as used in
    IEC 61000-4.
    """
    t = np.maximum(np.asarray(t_s, np.float64), 0.0)
    x = (t / rise_s) ** exponent
    return np.asarray(x / (1.0 + x) * np.exp(-t / decay_s) / correction(rise_s, decay_s, exponent), np.float64)


def capacitive_share(voltage_v: float, coupling_f: float, other_f: float) -> float:
    """Voltage that a charged or driven capacitance leaves on another one.

    V·C1/(C1 + C2)

    Parameters
    ----------
    voltage_v : V, V
    coupling_f, other_f : C1 that brings it, C2 that takes it, F

    Returns
    -------
    float, V across C2

    Notes
    -----
    Once everything fast is over, and before anything bleeds. Source: conservation of charge.
    """
    return voltage_v * coupling_f / (coupling_f + other_f)
