"""Touch current: the networks of IEC 60990 that stand for a person, and what is read in them.

For design, no certification: the standards' current editions and local codes decide, and a qualified person checks.
"""

from __future__ import annotations

import math
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Complex

Network = Literal["unweighted", "perception"]
NETWORKS: Final[tuple[Network, ...]] = ("unweighted", "perception")
_SKIN_OHM, _SKIN_F, _MEASURING_OHM = 1500.0, 0.22e-6, 500.0
_FILTER_OHM, _FILTER_F = 10e3, 22e-9


def transfer_impedance(f_hz: ArrayLike, network: Network) -> Complex:
    """Voltage at the network's output for a current through it, with the filter's load on the measuring resistance.

    U1/I = R; U2/I = 1/[(1/R + Y_f)·(1 + jωR_fC_f)], Y_f = jωC_f/(1 + jωR_fC_f)

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    network : "unweighted" (U1), or "perception" (U2) with the filter for perception and startle

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Exact for the nominal values: 500 Ω behind 1500 Ω ‖ 0.22 µF, filter of 10 kΩ and 22 nF. Source: IEC 60990, figures 3
    and 4; edition believed 2016, to be checked against the current one.
    """
    after = 1.0 + _FILTER_OHM * _filter_siemens(f_hz, network)
    return np.asarray(_measuring_ohm(f_hz, network) / after, np.complex128)


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
    skin = _SKIN_OHM / (1.0 + 1j * math.tau * np.asarray(f_hz, np.float64) * _SKIN_OHM * _SKIN_F)
    return np.asarray(skin + _measuring_ohm(f_hz, network), np.complex128)


def weighting(f_hz: ArrayLike, network: Network) -> Complex:
    """Factor from a current to the reading that a limit is set against.

    U/(R·I), R = 500 Ω

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
    return np.asarray(transfer_impedance(f_hz, network) / _MEASURING_OHM, np.complex128)


def _measuring_ohm(f_hz: ArrayLike, network: Network) -> Complex:
    """Return the measuring resistance with the filter across it."""
    shunt = _filter_siemens(f_hz, network)
    return np.asarray(1.0 / (1.0 / _MEASURING_OHM + shunt / (1.0 + _FILTER_OHM * shunt)), np.complex128)


def _filter_siemens(f_hz: ArrayLike, network: Network) -> Complex:
    """Return what the filter's capacitor takes behind its resistor, nothing without a filter."""
    farad = _FILTER_F if network == "perception" else 0.0
    return np.asarray(1j * math.tau * np.asarray(f_hz, np.float64) * farad, np.complex128)
