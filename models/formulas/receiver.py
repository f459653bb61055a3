"""The measuring receiver: bandwidths, its filter, and the time constants of its detectors."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real

FIELD_HZ: Final = 30e6
"""Where fields are measured from, and voltages at terminals up to, Hz."""


class QuasiPeak(NamedTuple):
    """Time constants of the quasi-peak detector: charge, discharge, meter, s."""

    charge_s: float
    discharge_s: float
    meter_s: float


class Band(NamedTuple):
    """A band of CISPR 16-1-1: its name, ends in Hz, 6 dB bandwidth in Hz, and detector where it has one."""

    name: str
    start_hz: float
    stop_hz: float
    bandwidth_hz: float
    quasi_peak: QuasiPeak | None


BANDS: Final = (
    Band("A", 9e3, 150e3, 200.0, QuasiPeak(45e-3, 500e-3, 160e-3)),
    Band("B", 150e3, FIELD_HZ, 9e3, QuasiPeak(1e-3, 160e-3, 160e-3)),
    Band("C/D", FIELD_HZ, 1e9, 120e3, QuasiPeak(1e-3, 550e-3, 100e-3)),
    Band("E", 1e9, 18e9, 1e6, None),
)
"""Bands of CISPR 16-1-1; check the current edition."""


def filter_weight(offset_hz: ArrayLike, bandwidth_hz: float) -> Real:
    """Gaussian model of the receiver's filter.

    |H| = 2^(−(2Δf/B)²)

    Parameters
    ----------
    offset_hz : Δf from the tuned frequency, any shape, Hz
    bandwidth_hz : B between the 6 dB points, Hz

    Returns
    -------
    same shape, 1 in the middle, 1/2 at ±B/2

    Notes
    -----
    Close to real filters down to −20 dB; their skirts vary. Source: CISPR 16-1-1 for the 6 dB points.
    """
    return np.asarray(np.exp2(-((2.0 * np.asarray(offset_hz, np.float64) / bandwidth_hz) ** 2)), np.float64)
