"""Return currents that cross a split: what the bridge, the detour and the plane itself cost."""

from __future__ import annotations

import cmath
import math
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.constants import ETA0, LIGHT_M_PER_S, MU0
from models.formulas.impedance import Complex


def edge_voltage(inductance_h: float, step_a: float, edge_s: float) -> float:
    """Voltage across the gap while a return current rises.

    V = L·ΔI/t

    Parameters
    ----------
    inductance_h : L of the bridge with its detour, H
    step_a : ΔI, A
    edge_s : t, 0 to 100 %, s

    Returns
    -------
    float, V

    Notes
    -----
    For edges slow against the way to the bridge; an upper estimate where the gap's capacitance helps. Source: V =
    L·di/dt.
    """
    return inductance_h * step_a / edge_s


def crossing_impedance(
    f_hz: ArrayLike, bridge_ohm: ArrayLike, inductance_h_per_m: float, distance_m: float, sides: Literal[1, 2] = 1
) -> Complex:
    """Impedance that a signal's return meets where it crosses a split, with the nearest bridge some way off.

    Z = (Zb + jωL'D)/n for bridges at the same distance on n sides

    Parameters
    ----------
    f_hz : f (F,), Hz
    bridge_ohm : Zb of one bridge, one value or (F,), Ω
    inductance_h_per_m : L' of the slot line, H/m
    distance_m : D, m
    sides : n, bridges on one side or on both

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    While D is below a tenth of a wavelength; `gap.gap_impedance` is exact. Source: short stretch of the slot line.
    """
    jw = 2j * math.pi * np.asarray(f_hz, np.float64)
    detour = detour_inductance(inductance_h_per_m, distance_m)
    return np.asarray((np.asarray(bridge_ohm, np.complex128) + jw * detour) / sides, np.complex128)


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


def detour_inductance_by_rule(distance_m: float, trace_m: float) -> float:
    """Inductance of a detour around a split, by the rule of the books.

    L = 5 nH/in·D·ln(D/w)

    Parameters
    ----------
    distance_m : D from the trace to the end of the split, m
    trace_m : width of the trace w, m

    Returns
    -------
    float, H

    Notes
    -----
    About twice what the slot line gives; a cross-check. Source: H. Johnson, M. Graham, *High-Speed Digital Design*.
    """
    return 5e-9 / 25.4e-3 * distance_m * math.log(distance_m / trace_m)


def plane_net_inductance(width_m: float, height_m: float, offset_m: float = 0.0) -> float:
    """Net inductance per length of a return plane of finite width: what drives the cables at its ends.

    L' = (µ0/2π)·ln|z + √(z² − 1)|, z = 2(x0 + jh)/w; in the middle (µ0/2π)·asinh(2h/w)

    Parameters
    ----------
    width_m : w of the plane, m
    height_m : h of the trace above it, m
    offset_m : x0 of the trace from the middle, m

    Returns
    -------
    float, H/m

    Notes
    -----
    Exact for a thin plane and a thin trace above it, without skin loss; checked by a moment method. Source: conformal
    map of a strip onto a circle.
    """
    return MU0 / (2.0 * math.pi) * abs(cmath.acosh(2.0 * complex(offset_m, height_m) / width_m).real)


def slot_resonance_hz(
    length_m: float, permittivity: float = 1.0, ends: Literal["alike", "open-closed"] = "alike"
) -> float:
    """Lowest frequency at which a split radiates as a slot.

    f = c/(2S√ε_eff) with both ends closed or both open, c/(4S√ε_eff) with one end bridged

    Parameters
    ----------
    length_m : S, m
    permittivity : ε_eff of the slot line
    ends : both alike, or one open and one closed

    Returns
    -------
    float, Hz

    Notes
    -----
    Within 10 %: ends lengthen it. Source: half and quarter wave of the slot line.
    """
    waves = 2.0 if ends == "alike" else 4.0
    return LIGHT_M_PER_S / (waves * length_m * math.sqrt(permittivity))


def slot_impedance(dipole_ohm: complex) -> complex:
    """Impedance of a slot in a large plane, from that of the dipole which fills it.

    Z_slot = η0²/(4·Z_dipole)

    Parameters
    ----------
    dipole_ohm : impedance of the flat dipole of the slot's shape, Ω

    Returns
    -------
    complex, Ω

    Notes
    -----
    Exact for an endless thin plane in air. Source: H. Booker, *Slot aerials and their relation to complementary wire
    aerials*, 1946.
    """
    return ETA0**2 / (4.0 * dipole_ohm)


def bridge_spacing(f_hz: float, permittivity: float, share: float = 0.05) -> float:
    """Greatest distance between bridges that still act as one.

    s = share·c/(f√εr)

    Parameters
    ----------
    f_hz : highest frequency of concern, Hz
    permittivity : εr of the board
    share : of a wavelength, a twentieth by custom

    Returns
    -------
    float, m

    Notes
    -----
    A rule of thumb. Source: custom of the trade.
    """
    return share * LIGHT_M_PER_S / (f_hz * math.sqrt(permittivity))


def triangle_harmonic(peak_to_peak: float, order: int) -> float:
    """Peak of a harmonic of a symmetric triangle, as of converter ripple.

    4Δ/(π²n²) for odd n, 0 for even n

    Parameters
    ----------
    peak_to_peak : Δ, A or V
    order : n, from 1

    Returns
    -------
    float, peak, in the unit of Δ

    Notes
    -----
    Exact at half duty; uneven slopes add even harmonics. Source: Fourier series.
    """
    return 4.0 * peak_to_peak / (math.pi * order) ** 2 if order % 2 else 0.0
