"""A bridge capacitor with its leads against the gap's own capacitance: the anti-resonance, and how to damp it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Complex
from models.formulas.resonance import resonance_hz


def bridged_gap_impedance(
    f_hz: ArrayLike, bridge_f: float, inductance_h: float, gap_f: float, resistance_ohm: float = 0.0
) -> Complex:
    """Impedance across the gap with a capacitor, its leads and a damping resistor over it.

    Z = Zs/(1 + jωC_g·Zs), Zs = R + jωL + 1/(jωC_Y)

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz
    bridge_f, inductance_h : C_Y, F; L of its loop, H
    gap_f : C_g of the gap itself, C_hot + C_cold and edges, F
    resistance_ohm : R in series, Ω

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    To where the gap is a tenth of a wavelength long. Source: any text on circuits.
    """
    jw = 1j * math.tau * np.asarray(f_hz, np.float64)
    series = resistance_ohm + jw * inductance_h + 1.0 / (jw * bridge_f)
    return np.asarray(series / (1.0 + jw * gap_f * series), np.complex128)


def antiresonance_hz(bridge_f: float, inductance_h: float, gap_f: float) -> float:
    """Frequency at which the leads of a bridge and the gap block each other.

    f = 1/(2π√(L·C_s)), C_s = C_Y·C_g/(C_Y + C_g)

    Parameters
    ----------
    bridge_f, inductance_h, gap_f : C_Y, F; L, H; C_g, F

    Returns
    -------
    float, Hz

    Notes
    -----
    Exact without loss. Source: L with both capacitances in its loop.
    """
    return resonance_hz(inductance_h, bridge_f * gap_f / (bridge_f + gap_f))


def antiresonance_peak(bridge_f: float, inductance_h: float, gap_f: float, resistance_ohm: float) -> float:
    """Greatest impedance across the gap above the series resonance.

    max |Z(f)| of `bridged_gap_impedance` for f above 1/(2π√(L·C_Y)); about L/(C_g·R)·C_Y/(C_Y + C_g) for small R

    Parameters
    ----------
    bridge_f, inductance_h, gap_f : C_Y, F; L, H; C_g, F
    resistance_ohm : R in series, Ω

    Returns
    -------
    float, Ω; ``inf`` without loss

    Notes
    -----
    R = √(L/C_Y) is the usual start, R = √(L/C_g) flattens fully; either is also the floor of |Z| near the series
    resonance. Source: numerical search.
    """
    if resistance_ohm == 0.0:
        return math.inf
    series, middle = resonance_hz(inductance_h, bridge_f), antiresonance_hz(bridge_f, inductance_h, gap_f)
    width = resistance_ohm / (math.tau * middle * inductance_h)
    around = middle * (1.0 + width * np.linspace(-5.0, 5.0, 401))
    f = np.sort(np.concatenate([np.geomspace(series, 10.0 * middle, 401), around[around > series]]))
    for _ in range(6):
        size = np.abs(bridged_gap_impedance(f, bridge_f, inductance_h, gap_f, resistance_ohm))
        best = int(np.argmax(size))
        f = np.linspace(f[max(best - 1, 0)], f[min(best + 1, f.size - 1)], 41)
    return float(size[best])
