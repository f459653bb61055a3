"""Interwinding coupling: its capacitance and its share on the switch node, from how the layers face each other."""

from __future__ import annotations

from typing import Literal

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
    mean_turn_m: float,
    width_m: float,
    insulation_m: float,
    permittivity: float,
    *,
    interfaces: int = 1,
    wire_m: float = 0.0,
) -> float:
    """Interwinding capacitance of layers that face each other, all windings shorted.

    C_ps = n·ε0εr·l_t·w/(d + 0.11·D)

    Parameters
    ----------
    mean_turn_m : mean length l_t of a turn where the layers meet, m
    width_m : w along the core over which both layers lie, m
    insulation_m : d between the metal of the layers, m
    permittivity : εr of it, air between the turns counted in
    interfaces : n, 2 for a primary in two halves around the secondary
    wire_m : D of round wire, the mean of both windings, 0 for foil, m

    Returns
    -------
    float, F

    Notes
    -----
    Within 4 % for turns that touch, D to 5d; what lies askew, the leads and the permittivity make it ±30 %. Source:
    parallel plates, rolled up; the rule for wire as in E. Snelling, *Soft Ferrites*; checked by line charges.
    """
    return interfaces * plate_capacitance(width_m, mean_turn_m, insulation_m + 0.11 * wire_m, permittivity)
