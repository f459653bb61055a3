"""Capacitors: impedance with losses and leads, bias, temperature, leakage, and what safety capacitors stand."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.constants import MU0
from models.formulas.impedance import Complex, Real

TEMPERATURE_SPANS: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {
        "C0G": (-0.003, 0.003),
        "X7R": (-0.15, 0.15),
        "Y5P": (-0.10, 0.10),
        "Y5U": (-0.56, 0.22),
        "Y5V": (-0.82, 0.22),
    }
)
"""Least and greatest change of capacitance over the temperature range of a dielectric's code, relative to 25 °C."""


def esr(
    f_hz: ArrayLike, capacitance_f: float, tan_delta: float, metal_ohm: float = 0.0, skin_hz: float = math.inf
) -> Real:
    """Equivalent series resistance from dielectric loss and metal.

    ESR = tanδ/(ωC) + Rm·√(1 + f/fs)

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    capacitance_f : C, F
    tan_delta : tanδ of the dielectric, taken as constant
    metal_ohm : Rm of electrodes, terminations and leads, Ω
    skin_hz : fs above which skin effect raises Rm, Hz

    Returns
    -------
    (F,), Ω

    Notes
    -----
    Form right, values ±50 %: chips have Rm of 5 to 30 mΩ, discs with leads 20 to 60 mΩ, fs is 5 to 20 MHz. Source:
    constant phase of common dielectrics; IEC 60384-1 for tanδ.
    """
    f = np.asarray(f_hz, np.float64)
    dielectric = tan_delta / (2.0 * math.pi * f * capacitance_f)
    return np.asarray(dielectric + metal_ohm * np.sqrt(1.0 + f / skin_hz), np.float64)


def impedance(
    f_hz: ArrayLike,
    capacitance_f: float,
    *,
    esl_h: float = 0.0,
    tan_delta: float = 0.0,
    metal_ohm: float = 0.0,
    skin_hz: float = math.inf,
    leak_ohm: float = math.inf,
) -> Complex:
    """Impedance of a capacitor.

    Z = ESR(f) + jωESL + 1/(jωC + 1/Rleak)

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    capacitance_f, esl_h : C, F; ESL with its mounting, H
    tan_delta, metal_ohm, skin_hz : as in `esr`
    leak_ohm : insulation resistance Rleak, Ω

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    One resonance; real parts show more above about 3 times of it. Source: IEC 60384-1 for the terms.
    """
    omega = 2.0 * math.pi * np.asarray(f_hz, np.float64)
    loss = esr(f_hz, capacitance_f, tan_delta, metal_ohm, skin_hz)
    return np.asarray(loss + 1j * omega * esl_h + 1.0 / (1j * omega * capacitance_f + 1.0 / leak_ohm), np.complex128)


def constant_phase_impedance(
    f_hz: ArrayLike, capacitance_f: float, tan_delta: float, reference_hz: float = 1e3
) -> Complex:
    """Impedance of a capacitor with constant loss angle that is causal.

    Z = 1/(jωC(ω)), C(ω) = C·(jω/ω_ref)^(−2δ/π)

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    capacitance_f : C at the reference frequency, F
    tan_delta : tanδ
    reference_hz : at which the capacitance is stated, Hz

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Exact constant phase −(90° − δ); the capacitance falls by 2δ/π·ln 10 per decade. Source: A. Jonscher, *Dielectric
    Relaxation in Solids*.
    """
    omega = 2.0 * math.pi * np.asarray(f_hz, np.float64)
    delta = math.atan(tan_delta)
    relative = (1j * omega / (2.0 * math.pi * reference_hz)) ** (-2.0 * delta / math.pi)
    return np.asarray(1.0 / (1j * omega * capacitance_f * relative), np.complex128)


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


def capacitance_bounds(
    nominal_f: float, tolerance: float, span: tuple[float, float] = (0.0, 0.0), bias: float = 1.0
) -> tuple[float, float]:
    """Least capacitance for the noise, greatest for the touch current.

    C·(1 − tol)·(1 + span_low)·bias to C·(1 + tol)·(1 + span_high)

    Parameters
    ----------
    nominal_f : C, F
    tolerance : tol, share
    span : change over temperature, low and high, as in `TEMPERATURE_SPANS`
    bias : C/C0 under bias, which only the lower bound counts

    Returns
    -------
    least and greatest, F

    Notes
    -----
    Ageing comes on top: class II loses 1.5 to 7 % per decade of hours. Source: IEC 60384-1 for the terms.
    """
    low, high = span
    return nominal_f * (1.0 - tolerance) * (1.0 + low) * bias, nominal_f * (1.0 + tolerance) * (1.0 + high)


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


def series_share(tolerance: float) -> float:
    """Greatest share of the voltage on one of two equal capacitors in series.

    (1 + tol)/((1 + tol) + (1 − tol)) = (1 + tol)/2

    Parameters
    ----------
    tolerance : tol of either, share

    Returns
    -------
    float, share of the whole AC voltage

    Notes
    -----
    Exact for AC; DC divides by the insulation resistances instead. Source: series capacitances carry one charge.
    """
    return 0.5 * (1.0 + tolerance)
