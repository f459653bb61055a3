"""A bead's one cell from the few numbers of a data sheet."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

from models.errors import QuantityError
from models.quantity import hertz, ohms


class Cell(NamedTuple):
    """Values of one cell, R, L and C in parallel: Ω, H, F."""

    resistance_ohm: float
    inductance_h: float
    capacitance_f: float


class Prior(NamedTuple):
    """What is usual for a bead of which only one point is known: peak frequency in Hz, peak over test impedance."""

    peak_hz: float
    peak_ratio: float


PRIORS: Final[Mapping[str, Prior]] = MappingProxyType({"general": Prior(200e6, 1.2), "gigahertz": Prior(900e6, 3.6)})
"""Estimates, to be edited."""


def crossover_hz(cell: Cell) -> float:
    """Frequency at which a cell's resistance equals its reactance.

    1/(ωL) − ωC = 1/Rp, so ω = 2/(L/Rp + √((L/Rp)² + 4LC)); close to Rp/(2πL) far below the peak

    Parameters
    ----------
    cell : Rp, L, C

    Returns
    -------
    float, Hz; below it the bead stores, above it the bead burns

    Notes
    -----
    Exact for one cell, Rdc left out. Source: real and imaginary part of the single cell.
    """
    tau = cell.inductance_h / cell.resistance_ohm
    omega = 2.0 / (tau + math.sqrt(tau * tau + 4.0 * cell.inductance_h * cell.capacitance_f))
    return omega / math.tau


def cell_from_peak(
    test_ohm: float, peak_ohm: float, peak_hz: float, *, test_hz: float = 100e6, rdc_ohm: float = 0.0
) -> Cell:
    """Cell from the impedance at the test frequency and the peak.

    Rp = Zpk − Rdc, L = Rp·|1 − (f1/f0)²|/(2πf1·√((Rp/Z1)² − 1)), C = 1/((2πf0)²L)

    Parameters
    ----------
    test_ohm : |Z| at the test frequency Z1, Ω
    peak_ohm, peak_hz : height Zpk and frequency f0 of the peak, Ω, Hz
    test_hz : f1, below or above the peak, Hz
    rdc_ohm : Rdc, Ω

    Returns
    -------
    Cell

    Raises
    ------
    QuantityError
        Where the peak is not above the impedance at the test frequency, or lies on that frequency.

    Notes
    -----
    Z1 counts for the parallel part alone: an error of Rdc/Z1 at most. Source: algebra on the single cell.
    """
    resistance = peak_ohm - rdc_ohm
    if resistance <= test_ohm:
        raise QuantityError(
            f"a peak of {ohms(peak_ohm)}", f"more than the {ohms(test_ohm)} at the test frequency and Rdc"
        )
    if peak_hz == test_hz:
        raise QuantityError(f"a peak at the test frequency, {hertz(test_hz)}", "a peak at another frequency")
    slope = abs(1.0 - (test_hz / peak_hz) ** 2)
    inductance = resistance * slope / (math.tau * test_hz * math.sqrt((resistance / test_ohm) ** 2 - 1.0))
    return _with_peak(resistance, inductance, peak_hz)


def cell_from_crossover(test_ohm: float, crossing_hz: float, peak_hz: float, *, test_hz: float = 100e6) -> Cell:
    """Cell from the impedance at the test frequency, the R = X crossover and the frequency of the peak.

    τ = L/Rp = (1 − (fx/f0)²)/ωx, q = |1 − (f1/f0)²|/(ω1τ), Rp = Z1·√(1 + q²), L = τRp

    Parameters
    ----------
    test_ohm : |Z| at the test frequency Z1, Ω
    crossing_hz : fx at which R = X, below the peak, Hz
    peak_hz : f0, Hz
    test_hz : f1, Hz

    Returns
    -------
    Cell

    Raises
    ------
    QuantityError
        Where the crossover is not below the peak.

    Notes
    -----
    The height of the peak follows; a data sheet's own is a check on it. Source: algebra on the single cell.
    """
    tau = _crossing_time(crossing_hz, peak_hz)
    q = abs(1.0 - (test_hz / peak_hz) ** 2) / (math.tau * test_hz * tau)
    resistance = test_ohm * math.hypot(1.0, q)
    return _with_peak(resistance, tau * resistance, peak_hz)


def cell_from_peak_and_crossover(peak_ohm: float, peak_hz: float, crossing_hz: float, *, rdc_ohm: float = 0.0) -> Cell:
    """Cell from the peak and the R = X crossover, without any test frequency.

    Rp = Zpk − Rdc, L = Rp·(1 − (fx/f0)²)/ωx, C = 1/((2πf0)²L)

    Parameters
    ----------
    peak_ohm, peak_hz : height Zpk and frequency f0 of the peak, Ω, Hz
    crossing_hz : fx at which R = X, below the peak, Hz
    rdc_ohm : Rdc, Ω

    Returns
    -------
    Cell

    Raises
    ------
    QuantityError
        Where the crossover is not below the peak, or the peak not above Rdc.

    Notes
    -----
    Real beads cross lower than one cell does, so that the slope below is 10 to 30 % high. Source: algebra on the single
    cell.
    """
    if peak_ohm <= rdc_ohm:
        raise QuantityError(f"a peak of {ohms(peak_ohm)}", f"more than the DC resistance, {ohms(rdc_ohm)}")
    resistance = peak_ohm - rdc_ohm
    return _with_peak(resistance, resistance * _crossing_time(crossing_hz, peak_hz), peak_hz)


def _with_peak(resistance_ohm: float, inductance_h: float, peak_hz: float) -> Cell:
    return Cell(resistance_ohm, inductance_h, 1.0 / ((math.tau * peak_hz) ** 2 * inductance_h))


def _crossing_time(crossing_hz: float, peak_hz: float) -> float:
    if crossing_hz >= peak_hz:
        raise QuantityError(f"R = X at {hertz(crossing_hz)}", f"a frequency below the peak, {hertz(peak_hz)}")
    return (1.0 - (crossing_hz / peak_hz) ** 2) / (math.tau * crossing_hz)
