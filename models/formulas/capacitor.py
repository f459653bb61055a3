"""Capacitors: metal, leads, bias, leakage, and what safety capacitors stand."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real
from models.formulas.constants import MU0


def metal_resistance(f_hz: ArrayLike, metal_ohm: float, skin_hz: float = math.inf) -> Real:
    """Resistance of a capacitor's electrodes, terminations and leads with skin effect.

    R = Rm·√(1 + f/fs)

    Parameters
    ----------
    f_hz : f (F,), Hz
    metal_ohm : Rm far below fs, Ω
    skin_hz : fs above which skin effect raises it, Hz

    Returns
    -------
    (F,), Ω

    Notes
    -----
    Form right, values ±50 %: chips have Rm of 5 to 30 mΩ, discs with leads 20 to 60 mΩ, fs is 5 to 20 MHz. Source:
    skin effect.
    """
    return np.asarray(metal_ohm * np.sqrt(1.0 + np.asarray(f_hz, np.float64) / skin_hz), np.float64)


def lead_pair_inductance(length_m: float, spacing_m: float, diameter_m: float) -> float:
    """Inductance of two parallel leads, out and back.

    L = (µ0 l/π)·acosh(s/d)

    Parameters
    ----------
    length_m : l of each lead, m
    spacing_m : s between centres, m
    diameter_m : d, m

    Returns
    -------
    float, H; half of it for each lead

    Notes
    -----
    Exact per length for current on the surface; ends add to it where l < 3s. Source: S. Ramo, J. Whinnery,
    T. Van Duzer, *Fields and Waves in Communication Electronics*.
    """
    return MU0 * length_m / math.pi * math.acosh(spacing_m / diameter_m)


def bias_ratio(voltage_v: ArrayLike, half_v: float, exponent: float) -> Real:
    """What is left of a class II capacitance under direct voltage.

    C/C0 = 1/(1 + (|V|/V50)^p)

    Parameters
    ----------
    voltage_v : V, any shape, V
    half_v : V50 at which half is left, V
    exponent : p, 1.5 to 2.2

    Returns
    -------
    as the voltage: C/C0

    Notes
    -----
    ±0.1 where V50 is known: 0.5 to 1 times the rated voltage for much capacitance in a small case, 1.5 times and more
    for big cases. C0G has no such effect. Source: fit to published bias curves.
    """
    share = np.abs(np.asarray(voltage_v, np.float64)) / half_v
    return np.asarray(1.0 / (1.0 + share**exponent), np.float64)


def leak_resistance(capacitance_f: float, product_s: float = 500.0, ceiling_ohm: float = 10e9) -> float:
    """Least insulation resistance that a data sheet promises.

    R = min(RC/C, ceiling)

    Parameters
    ----------
    capacitance_f : C, F
    product_s : RC as the data sheet states it, Ω·F = s
    ceiling_ohm : the other limit stated, Ω

    Returns
    -------
    float, Ω

    Notes
    -----
    A minimum at 25 °C; typical parts have 10 times more, hot ones 10 to 100 times less. Source: data-sheet usage for
    multilayer ceramic capacitors.
    """
    return min(product_s / capacitance_f, ceiling_ohm)


def impulse_voltage(capacitance_f: float, class_peak_v: float = 5000.0) -> float:
    """Peak impulse that a safety capacitor must stand before its endurance test.

    Up for C ≤ 1 µF, Up/√(C/1 µF) above; Up = 5 kV for Y2, 4 kV for X1, 2.5 kV for X2

    Parameters
    ----------
    capacitance_f : C, F
    class_peak_v : Up, V

    Returns
    -------
    float, V

    Notes
    -----
    For design, no certification: the current edition and local codes decide. Y1 stands 8 kV at any capacitance, Y4
    2.5 kV. Source: IEC 60384-14.
    """
    return class_peak_v / math.sqrt(max(1.0, capacitance_f / 1e-6))
