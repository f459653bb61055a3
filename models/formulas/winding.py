"""Interwinding coupling: its share on the switch node, the voltage it drives, the capacitor that holds that."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Complex
from models.formulas.overlap import plate_capacitance


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


def two_ended_share(layers: int) -> float:
    """Driven share of a primary whose ends swing oppositely, as in a full bridge or with a quiet centre tap.

    C_hot/C_ps = 1 − 1/m of the layer at one end, relative to the swing of that end; 0 for a single layer

    Parameters
    ----------
    layers : m, of which the nearest faces a quiet secondary

    Returns
    -------
    float

    Notes
    -----
    As `driven_share`. Only while both ends swing at the same moment: between the edges of two legs that are shifted in
    phase nothing cancels. What unevenness leaves is `uneven_share`. Source: as `driven_share`.
    """
    return driven_share((1.0 - 2.0 / layers, 1.0))


def uneven_share(imbalance: float, layers: int = 1) -> float:
    """Driven share that comes of a facing layer one half of which couples more than the other, both ends swinging.

    C_hot/C_ps = δ/(2m), halves of (1 ± δ)/2 whose mean potentials lie V_sw/m apart

    Parameters
    ----------
    imbalance : δ, difference of the two halves' capacitances over their sum
    layers : m of the primary

    Returns
    -------
    float

    Notes
    -----
    Each half even in itself. Source: as `driven_share`, with weights.
    """
    return 0.5 * imbalance / layers


def facing_capacitance(
    mean_turn_m: float, width_m: float, insulation_m: float, permittivity: float, interfaces: int = 1
) -> float:
    """Interwinding capacitance of layers that face each other, all windings shorted.

    C_ps = n·ε0εr·l_t·w/d

    Parameters
    ----------
    mean_turn_m : mean length l_t of a turn where the layers meet, m
    width_m : w along the core over which both layers lie, m
    insulation_m : d between the metal of the layers, m
    permittivity : εr of it, air between the turns counted in
    interfaces : n, 2 for a primary in two halves around the secondary

    Returns
    -------
    float, F

    Notes
    -----
    For foil within 10 %; layers of round wire have 5 to 20 % less, what lies askew and the leads add to it: ±30 % in
    all. Source: `overlap.plate_capacitance`, rolled up.
    """
    return interfaces * plate_capacitance(width_m, mean_turn_m, insulation_m, permittivity)


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
    jw = 1j * math.tau * np.asarray(f_hz, np.float64)
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
