"""Touch current: the networks that stand for a person, and the capacitance that a limit allows.

For design, no certification: the standards' current editions and local codes decide, and a qualified person checks.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.formulas.impedance import Complex, Real

Network = Literal["unweighted", "perception", "let-go", "medical"]


class _Values(NamedTuple):
    """Skin R ‖ C, then the measuring resistance with its filter: series R, shunt C, and a second shunt of R and C."""

    skin_ohm: float
    skin_f: float
    measuring_ohm: float
    filter_f: float
    filter_rc: tuple[float, float]


_FILTER_OHM = 10e3
_NETWORKS: Final[Mapping[Network, _Values]] = MappingProxyType(
    {
        "unweighted": _Values(1500.0, 0.22e-6, 500.0, 0.0, (0.0, 0.0)),
        "perception": _Values(1500.0, 0.22e-6, 500.0, 22e-9, (0.0, 0.0)),
        "let-go": _Values(1500.0, 0.22e-6, 500.0, 9.1e-9, (20e3, 6.2e-9)),
        "medical": _Values(0.0, 0.0, 1000.0, 15e-9, (0.0, 0.0)),
    }
)


def transfer_impedance(f_hz: ArrayLike, network: Network) -> Complex:
    """Voltage at the network's output for a current through it, with the filter's load on the measuring resistance.

    U/I = 1/[(1/R + Y_f)·(1 + R_f·Y_s)], Y_f = Y_s/(1 + R_f·Y_s); U1, U2, U3 or the medical device's output

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    network : "unweighted" (U1), "perception" (U2), "let-go" (U3) of IEC 60990, "medical" of IEC 60601-1

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Exact for the nominal values: 500 Ω behind 1500 Ω ‖ 0.22 µF; filters 10 kΩ with 22 nF, or with 9.1 nF ‖ (20 kΩ +
    6.2 nF); medical 1 kΩ with 10 kΩ and 15 nF. The arrangement of the let-go filter is from memory: check the current
    edition. Source: IEC 60990, figures 3 to 5; IEC 60601-1, measuring device.
    """
    values = _NETWORKS[network]
    shunt = _filter_admittance(f_hz, values)
    after = 1.0 + _FILTER_OHM * shunt
    return np.asarray(1.0 / ((1.0 / values.measuring_ohm + shunt / after) * after), np.complex128)


def input_impedance(f_hz: ArrayLike, network: Network) -> Complex:
    """Impedance of the network between the part that is touched and earth.

    Z = R_s/(1 + jωR_sC_s) + 1/(1/R + Y_f)

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    network : as in `transfer_impedance`

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    As `transfer_impedance`. Source: as there.
    """
    values = _NETWORKS[network]
    jw = 2j * math.pi * np.asarray(f_hz, np.float64)
    shunt = _filter_admittance(f_hz, values)
    skin = values.skin_ohm / (1.0 + jw * values.skin_ohm * values.skin_f)
    measuring = 1.0 / (1.0 / values.measuring_ohm + shunt / (1.0 + _FILTER_OHM * shunt))
    return np.asarray(skin + measuring, np.complex128)


def weighting(f_hz: ArrayLike, network: Network) -> Complex:
    """Factor from a current to the reading that a limit is set against.

    U/(R·I), R = 500 Ω, or 1 kΩ for the medical device

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    network : as in `transfer_impedance`

    Returns
    -------
    (F,) complex, about 1 at mains frequency

    Notes
    -----
    As `transfer_impedance`. High-frequency currents are weighted down by it, but burns have limits of their own.
    Source: as there.
    """
    return np.asarray(transfer_impedance(f_hz, network) / _NETWORKS[network].measuring_ohm, np.complex128)


def _filter_admittance(f_hz: ArrayLike, values: _Values) -> NDArray[np.complex128]:
    jw = 2j * math.pi * np.asarray(f_hz, np.float64)
    series_ohm, series_f = values.filter_rc
    return np.asarray(jw * values.filter_f + jw * series_f / (1.0 + jw * series_f * series_ohm), np.complex128)


def touch_current(capacitance_f: ArrayLike, voltage_v_rms: float, f_hz: float) -> Real:
    """Current through a person from a capacitance to the mains.

    I = 2πfCV

    Parameters
    ----------
    capacitance_f : C with interwinding and every other capacitance, upper tolerance, any shape, F
    voltage_v_rms : V, V rms
    f_hz : f, Hz

    Returns
    -------
    as the capacitance, A rms

    Notes
    -----
    The network takes off 0.01 % for 2.2 nF at 50 Hz, 0.1 % for 20 nF, 0.7 % for 100 nF. Source: IEC 60990 for the
    measurement.
    """
    return np.asarray(2.0 * math.pi * f_hz * voltage_v_rms * np.asarray(capacitance_f, np.float64), np.float64)


def most_capacitance(limit_a_rms: float, voltage_v_rms: float, f_hz: float, tolerance: float = 0.0) -> float:
    """Greatest nominal capacitance that a limit of touch current allows.

    C = I/(2πfV·(1 + tol))

    Parameters
    ----------
    limit_a_rms : I, A rms
    voltage_v_rms : highest mains voltage V, V rms
    f_hz : highest mains frequency f, Hz
    tolerance : tol of the capacitor, share

    Returns
    -------
    float, F, everything across the barrier counted

    Notes
    -----
    As `touch_current`. Source: `touch_current` solved for C.
    """
    return limit_a_rms / (2.0 * math.pi * f_hz * voltage_v_rms * (1.0 + tolerance))


def half_sine_ac_rms(voltage_v_rms: float) -> float:
    """Alternating part of the half-sine that a capacitor from a rectified rail sees.

    √(1/2 − 2/π²)·V = 0.5453·V

    Parameters
    ----------
    voltage_v_rms : mains voltage V, V rms

    Returns
    -------
    float, V rms without the mean

    Notes
    -----
    For a bridge without reservoir; a large one lets the rail float most of the time, and the full voltage is the bound.
    Source: rms and mean of a half-wave.
    """
    return math.sqrt(0.5 - 2.0 / math.pi**2) * voltage_v_rms


def half_sine_current(capacitance_f: float, voltage_v_rms: float, f_hz: float) -> float:
    """Current of a capacitor from a rectified rail to the secondary.

    I = 2πfCV/√2, its peak being that of the full sine

    Parameters
    ----------
    capacitance_f : C, F
    voltage_v_rms : mains voltage V, V rms
    f_hz : f, Hz

    Returns
    -------
    float, A rms

    Notes
    -----
    As `half_sine_ac_rms`; a typical value, no bound. Source: derivative of a half-wave.
    """
    return math.sqrt(2.0) * math.pi * f_hz * capacitance_f * voltage_v_rms
