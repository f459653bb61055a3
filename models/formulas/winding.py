"""Interwinding coupling: its share on the switch node, the voltage it drives, the capacitor that holds that."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.impedance import Complex


def driven_share(primary: tuple[float, float], secondary: tuple[float, float] = (0.0, 0.0)) -> float:
    """Share of the interwinding capacitance that acts from the switch node, from the potentials of the facing layers.

    C_hot/C_ps = mean over the layer of (v_p − v_s)/V_sw, potentials linear from one end of the layer to the other

    Parameters
    ----------
    primary : potentials of the facing primary layer at its two ends, relative to V_sw
    secondary : potentials of the facing secondary layer at the same two ends, relative to V_sw

    Returns
    -------
    float: C_hot/C_ps, negative where the secondary swings more; C_cold/C_ps is 1 minus it

    Notes
    -----
    For layers that face each other evenly; real windings ±20 %, and ringing inside the winding spoils it above some
    megahertz. Source: charge of a layer capacitance at the potentials of its turns; common-mode models of B. Fu, W.
    Chen, X. Lin and others.
    """
    return 0.5 * (sum(primary) - sum(secondary))


def single_layer_share(turns_ratio: float = 0.0, sense: Literal["same", "opposite"] = "same") -> float:
    """Driven share of one primary layer that faces one secondary layer.

    C_hot/C_ps = (1 ∓ Ns/Np)/2, minus where both swing in the same sense

    Parameters
    ----------
    turns_ratio : Ns/Np, 0 for a quiet secondary
    sense : in which the facing turns swing

    Returns
    -------
    float

    Notes
    -----
    As `driven_share`. Source: as `driven_share`.
    """
    swing = turns_ratio if sense == "same" else -turns_ratio
    return driven_share((0.0, 1.0), (0.0, swing))


def layered_share(layers: int, facing: Literal["hot", "cold"]) -> float:
    """Driven share of a primary in several layers, of which the nearest faces a quiet secondary.

    C_hot/C_ps = (2m − 1)/(2m) with the switch node's layer nearest, 1/(2m) with the quiet layer nearest

    Parameters
    ----------
    layers : m
    facing : which end of the primary lies next to the secondary

    Returns
    -------
    float

    Notes
    -----
    As `driven_share`: start the primary at the switch node, farthest from the secondary. Source: as `driven_share`.
    """
    share = 1.0 / layers
    return driven_share((0.0, share) if facing == "cold" else (1.0 - share, 1.0))


def displacement_current(capacitance_f: float, slope_v_per_s: float) -> float:
    """Current through a capacitance on a voltage edge.

    i = C·dV/dt

    Parameters
    ----------
    capacitance_f : C_hot, F
    slope_v_per_s : dV/dt, V/s

    Returns
    -------
    float, A

    Notes
    -----
    Exact for an edge into a low impedance; an upper estimate otherwise. Source: definition of capacitance.
    """
    return capacitance_f * slope_v_per_s


def gap_voltage(switch_v: float, hot_f: float, cold_f: float, bridge_f: float = 0.0, stray_f: float = 0.0) -> float:
    """Voltage across the gap that the switch node drives into capacitances.

    V_gap = V_sw·C_hot/(C_hot + C_cold + C_bridge + C_stray)

    Parameters
    ----------
    switch_v : V_sw, in the sense in which the result is wanted (peak, rms, peak to peak), V
    hot_f, cold_f : C_hot, C_cold, F
    bridge_f : Y-capacitor, F
    stray_f : everything else across the gap, F

    Returns
    -------
    float, V

    Notes
    -----
    Below the resonances of the bridge with its leads. Source: capacitive divider.
    """
    return switch_v * hot_f / (hot_f + cold_f + bridge_f + stray_f)


def bridged_gap_voltage(
    f_hz: ArrayLike, switch_v: ArrayLike, hot_f: float, cold_f: float, bridge_ohm: ArrayLike
) -> Complex:
    """Voltage across the gap over a bridge of any impedance.

    V_gap = V_sw·jωC_hot·Z_b/(1 + jω(C_hot + C_cold)·Z_b)

    Parameters
    ----------
    f_hz : f (F,), Hz
    switch_v : V_sw, one value or (F,), V
    hot_f, cold_f : C_hot, C_cold, strays counted into the latter, F
    bridge_ohm : Z_b, one value or (F,), finite, Ω

    Returns
    -------
    (F,) complex, V

    Notes
    -----
    Exact for the two-capacitor model; that one ±3 dB to some megahertz. Source: Thévenin's equivalent of the winding.
    """
    jw = 2j * math.pi * np.asarray(f_hz, np.float64)
    bridge = np.asarray(bridge_ohm, np.complex128)
    drive = np.asarray(switch_v, np.complex128) * jw * hot_f * bridge
    return np.asarray(drive / (1.0 + jw * (hot_f + cold_f) * bridge), np.complex128)


def least_bridge_capacitance(
    switch_v: float, wanted_v: float, hot_f: float, cold_f: float, stray_f: float = 0.0
) -> float:
    """Least Y-capacitor that holds the gap at a wanted voltage.

    C_Y ≥ C_hot·V_sw/V_gap − (C_hot + C_cold + C_stray), never below 0

    Parameters
    ----------
    switch_v, wanted_v : V_sw, V_gap, both in the same sense, V
    hot_f, cold_f, stray_f : C_hot, C_cold, C_stray, F

    Returns
    -------
    float, F; 0 where none is needed

    Notes
    -----
    As `gap_voltage`; take the capacitor's lower tolerance against it. Source: `gap_voltage` solved for C_bridge.
    """
    return max(0.0, hot_f * switch_v / wanted_v - (hot_f + cold_f + stray_f))
