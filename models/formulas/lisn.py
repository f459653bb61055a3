"""Conducted measurement: the mains network, and what common-mode current reads in it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.impedance import Complex, Real

PORT_OHM = 50.0
"""Input of the measuring receiver."""


def network_impedance(
    f_hz: ArrayLike, inductance_h: float = 50e-6, series_ohm: float = 0.0, port_ohm: float = PORT_OHM
) -> Complex:
    """Impedance of one line of the V-network against reference ground.

    Z = (R_s + jωL)·R/(R_s + jωL + R)

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    inductance_h : L, 50 µH; 5 µH for vehicles
    series_ohm : R_s, 5 Ω for the type that reaches down to 9 kHz, 0 for 0.15 to 30 MHz
    port_ohm : R of the receiver

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Real networks are within ±20 % and ±11.5° of it in their band; below it the coupling capacitor spoils them. Source:
    CISPR 16-1-2.
    """
    coil = series_ohm + 2j * math.pi * np.asarray(f_hz, np.float64) * inductance_h
    return np.asarray(coil * port_ohm / (coil + port_ohm), np.complex128)


def common_mode_impedance(
    f_hz: ArrayLike, inductance_h: float = 50e-6, series_ohm: float = 0.0, port_ohm: float = PORT_OHM
) -> Complex:
    """Impedance of both lines together against reference ground.

    Z_CM = Z/2, 25 Ω far above 150 kHz

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    inductance_h, series_ohm, port_ohm : as in `network_impedance`

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    As `network_impedance`. Source: as there.
    """
    return np.asarray(0.5 * network_impedance(f_hz, inductance_h, series_ohm, port_ohm), np.complex128)


def line_voltage(current_a_rms: ArrayLike, common_mode_ohm: ArrayLike = PORT_OHM / 2.0) -> Real:
    """Voltage that a common-mode current makes on each line.

    V = |Z_CM|·I

    Parameters
    ----------
    current_a_rms : I of both lines together, any shape, A rms
    common_mode_ohm : Z_CM, 25 Ω where not given

    Returns
    -------
    shape of both, V rms

    Notes
    -----
    Where the current shares out evenly; differential mode comes on top. Source: Ohm's law.
    """
    return np.asarray(np.abs(np.asarray(common_mode_ohm)) * np.abs(np.asarray(current_a_rms)), np.float64)


def line_current(v_rms: ArrayLike, common_mode_ohm: ArrayLike = PORT_OHM / 2.0) -> Real:
    """Common-mode current that makes a voltage on each line.

    I = V/|Z_CM|

    Parameters
    ----------
    v_rms : V on a line, any shape, V rms
    common_mode_ohm : Z_CM, 25 Ω where not given

    Returns
    -------
    shape of both, A rms of both lines together

    Notes
    -----
    As `line_voltage`. Source: Ohm's law.
    """
    return np.asarray(np.abs(np.asarray(v_rms)) / np.abs(np.asarray(common_mode_ohm)), np.float64)


def winding_current(
    f_hz: ArrayLike, switch_v_rms: ArrayLike, hot_f: float, total_f: float, loop_ohm: ArrayLike
) -> Complex:
    """Common-mode current that a switch node drives through the mains network, past the bridge.

    I = V_n·jωC_hot/(1 + jωC_tot·Z_loop), from V_th = V_n·C_hot/C_tot behind 1/(jωC_tot)

    Parameters
    ----------
    f_hz : f (F,), Hz
    switch_v_rms : V_n of the harmonic, one value or (F,), V rms
    hot_f : C_hot, F
    total_f : C_tot = C_hot + C_cold + C_Y and strays across the gap, F
    loop_ohm : Z_loop = Z_CM of the mains network and all that is in series with it, finite, Ω

    Returns
    -------
    (F,) complex, A rms

    Notes
    -----
    For a bridge that is a capacitance; a full network solution takes its leads in. Source: Thévenin's equivalent of the
    winding.
    """
    jw = 2j * math.pi * np.asarray(f_hz, np.float64)
    drive = np.asarray(switch_v_rms, np.complex128) * jw * hot_f
    return np.asarray(drive / (1.0 + jw * total_f * np.asarray(loop_ohm, np.complex128)), np.complex128)


def bridge_corner_hz(bridge_f: float, loop_ohm: float = PORT_OHM / 2.0) -> float:
    """Frequency above which a bridge takes current away from a resistive loop.

    f = 1/(2πRC)

    Parameters
    ----------
    bridge_f : C, F
    loop_ohm : R, 25 Ω for the mains network with the far side earthed

    Returns
    -------
    float, Hz; below it the bridge does nothing for this loop

    Notes
    -----
    Exact for R and C. Source: equal currents in R and C.
    """
    return 1.0 / (2.0 * math.pi * loop_ohm * bridge_f)


def artificial_hand_impedance(f_hz: ArrayLike) -> Complex:
    """Impedance of the artificial hand between a handheld housing and reference ground.

    Z = 510 Ω + 1/(jω·220 pF)

    Parameters
    ----------
    f_hz : f (F,), above 0, Hz

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    ±20 % by its tolerances. Source: CISPR 16-1-2.
    """
    return np.asarray(510.0 + 1.0 / (2j * math.pi * np.asarray(f_hz, np.float64) * 220e-12), np.complex128)
