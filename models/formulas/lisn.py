"""Conducted measurement: the mains network, and what common-mode current reads in it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Complex, Real

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
    coil = series_ohm + 1j * math.tau * np.asarray(f_hz, np.float64) * inductance_h
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
