"""Ferrite beads: impedance of cells, cells from data-sheet numbers, and what a direct current does to them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from models.errors import QuantityError
from models.formulas.impedance import Complex, Real


class Cell(NamedTuple):
    """Values of one cell, R, L and C in parallel: Ω, H, F."""

    resistance_ohm: float
    inductance_h: float
    capacitance_f: float


class BiasFamily(NamedTuple):
    """How fast a kind of bead saturates: saturation current as a share of the rated one, and exponent."""

    saturation_share: float
    exponent: float


class Prior(NamedTuple):
    """What is usual for a bead of which only one point is known: peak frequency in Hz, peak over test impedance."""

    peak_hz: float
    peak_ratio: float


BIAS_FAMILIES: Final[Mapping[str, BiasFamily]] = MappingProxyType(
    {"power": BiasFamily(0.25, 2.0), "mid": BiasFamily(0.35, 1.6), "signal": BiasFamily(1.0, 2.0)}
)
"""Estimates, to be edited: high-current power beads, those between, and signal beads whose rating is thermal."""

PRIORS: Final[Mapping[str, Prior]] = MappingProxyType({"general": Prior(200e6, 1.2), "gigahertz": Prior(900e6, 3.6)})
"""Estimates, to be edited."""


def single_cell_impedance(f_hz: ArrayLike, cell: Cell, rdc_ohm: float = 0.0) -> Complex:
    """Impedance of a bead as one cell.

    Z = Rdc + 1/(1/Rp + 1/(jωL) + jωC)

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    cell : Rp, L, C
    rdc_ohm : Rdc, Ω

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Within 20 to 30 % of a real bead from 1 MHz to 1 GHz; its hump is broader and its resistance falls more slowly
    downwards, because permeability disperses. Source: H. W. Ott, *Electromagnetic Compatibility Engineering*;
    C. R. Paul, *Introduction to Electromagnetic Compatibility*.
    """
    jw = 2j * math.pi * np.asarray(f_hz, np.float64)
    below = jw * cell.inductance_h / cell.resistance_ohm + 1.0 + jw * jw * cell.inductance_h * cell.capacitance_f
    return np.asarray(rdc_ohm + jw * cell.inductance_h / below, np.complex128)


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
    return omega / (2.0 * math.pi)


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
        raise QuantityError(f"a peak of {peak_ohm:g} Ω", f"more than the {test_ohm:g} Ω at the test frequency and Rdc")
    if peak_hz == test_hz:
        raise QuantityError(f"a peak at the test frequency, {test_hz:g} Hz", "a peak at another frequency")
    slope = abs(1.0 - (test_hz / peak_hz) ** 2)
    inductance = resistance * slope / (2.0 * math.pi * test_hz * math.sqrt((resistance / test_ohm) ** 2 - 1.0))
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
    q = abs(1.0 - (test_hz / peak_hz) ** 2) / (2.0 * math.pi * test_hz * tau)
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
        raise QuantityError(f"a peak of {peak_ohm:g} Ω", f"more than the DC resistance, {rdc_ohm:g} Ω")
    resistance = peak_ohm - rdc_ohm
    return _with_peak(resistance, resistance * _crossing_time(crossing_hz, peak_hz), peak_hz)


def cell_from_test_point(
    test_ohm: float,
    *,
    test_hz: float = 100e6,
    rdc_ohm: float = 0.0,
    peak_ohm: float | None = None,
    peak_hz: float | None = None,
    prior: Literal["general", "gigahertz"] = "general",
) -> Cell:
    """Cell from the one impedance that every data sheet states, with what is usual for the rest.

    As `cell_from_peak`, with f0 and Zpk/Z1 taken from the prior where they are not known

    Parameters
    ----------
    test_ohm : |Z| at the test frequency, Ω
    test_hz : Hz
    rdc_ohm : Rdc, Ω
    peak_ohm, peak_hz : height and frequency of the peak where known, Ω, Hz
    prior : a bead for general use, or one meant for gigahertz

    Returns
    -------
    Cell

    Raises
    ------
    QuantityError
        As `cell_from_peak`.

    Notes
    -----
    Right at the test frequency, within a factor of 2 at the ends. Source: estimate over catalogue beads.
    """
    usual = PRIORS[prior]
    height = usual.peak_ratio * test_ohm + rdc_ohm if peak_ohm is None else peak_ohm
    place = usual.peak_hz if peak_hz is None else peak_hz
    return cell_from_peak(test_ohm, height, place, test_hz=test_hz, rdc_ohm=rdc_ohm)


def _with_peak(resistance_ohm: float, inductance_h: float, peak_hz: float) -> Cell:
    return Cell(resistance_ohm, inductance_h, 1.0 / ((2.0 * math.pi * peak_hz) ** 2 * inductance_h))


def _crossing_time(crossing_hz: float, peak_hz: float) -> float:
    if crossing_hz >= peak_hz:
        raise QuantityError(f"R = X at {crossing_hz:g} Hz", f"a frequency below the peak, {peak_hz:g} Hz")
    return (1.0 - (crossing_hz / peak_hz) ** 2) / (2.0 * math.pi * crossing_hz)


def debye_impedance(f_hz: ArrayLike, inductance_h: float, relaxation_hz: float) -> Complex:
    """Impedance of a coil on a core with one relaxation.

    Z = jωL0/(1 + jf/f_r), which is L0 in parallel with `debye_resistance`

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    inductance_h : L0 at low frequency, H
    relaxation_hz : f_r at which µ'' is greatest, Hz

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Exact for µ = µi/(1 + jf/f_r); ferrites need two or three such terms. Source: P. Debye's relaxation applied to
    permeability.
    """
    f = np.asarray(f_hz, np.float64)
    return np.asarray(2j * math.pi * f * inductance_h / (1.0 + 1j * f / relaxation_hz), np.complex128)


def debye_resistance(inductance_h: float, relaxation_hz: float) -> float:
    """Resistance in parallel with L0 that stands for one relaxation.

    R = ω_r·L0

    Parameters
    ----------
    inductance_h : L0, H
    relaxation_hz : f_r, Hz

    Returns
    -------
    float, Ω

    Notes
    -----
    Exact. Source: the two forms of `debye_impedance` side by side.
    """
    return 2.0 * math.pi * relaxation_hz * inductance_h


def foster_impedance(
    f_hz: ArrayLike,
    resistances_ohm: Sequence[float],
    inductances_h: Sequence[float],
    *,
    shunt_f: float = 0.0,
    rdc_ohm: float = 0.0,
) -> Complex:
    """Impedance of a bead as a chain of relaxations with one capacitance across them all.

    Z = Rdc + [(Σ 1/(1/R_k + 1/(jωL_k)))⁻¹ + jωC_p]⁻¹

    Parameters
    ----------
    f_hz : f (F,), 0 allowed, Hz
    resistances_ohm, inductances_h : R_k, L_k, Ω, H
    shunt_f : C_p, F
    rdc_ohm : Rdc, Ω

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Passive and causal by construction; 3 cells follow measured beads within 5 to 10 %. Source: R. Foster, *A reactance
    theorem*, 1924, with each cell one Debye term.
    """
    jw = 2j * math.pi * np.asarray(f_hz, np.float64)
    chain = sum(
        (jw * low / (1.0 + jw * low / loss) for loss, low in zip(resistances_ohm, inductances_h, strict=True)),
        start=np.zeros_like(jw),
    )
    return np.asarray(rdc_ohm + chain / (1.0 + jw * shunt_f * chain), np.complex128)


def bias_ratio(current_a: ArrayLike, saturation_a: float, exponent: float) -> Real:
    """What is left of a bead's inductance under direct current.

    L/L0 = 1/(1 + (|I|/Isat)^n)

    Parameters
    ----------
    current_a : I, any shape, A
    saturation_a : Isat at which half of the inductance is left, A
    exponent : n, 1.6 to 2

    Returns
    -------
    as the current: L/L0. Rp and C stay, so that the peak moves up by 1/√(L/L0)

    Notes
    -----
    Shape right within 0.1 in L/L0 where Isat is known; Isat itself is an estimate unless a bias curve is at hand. The
    rated current is a rise in temperature and says nothing about it. Source: fit to published bias curves.
    """
    share = np.abs(np.asarray(current_a, np.float64)) / saturation_a
    return np.asarray(1.0 / (1.0 + share**exponent), np.float64)


def family_bias_ratio(current_a: ArrayLike, rated_a: float, family: str) -> Real:
    """What is left of a bead's inductance, where only its rated current and its kind are known.

    As `bias_ratio` with Isat = share·Ir of the family

    Parameters
    ----------
    current_a : I, any shape, A
    rated_a : Ir, A
    family : one of `BIAS_FAMILIES`

    Returns
    -------
    as the current: L/L0

    Notes
    -----
    An estimate for a kind of part, ±0.2 in L/L0. Source: published bias curves of such kinds.
    """
    kind = BIAS_FAMILIES[family]
    return bias_ratio(current_a, kind.saturation_share * rated_a, kind.exponent)


def biased_cell(cell: Cell, ratio: float) -> Cell:
    """Cell under direct current.

    L → ratio·L; Rp and C stay

    Parameters
    ----------
    cell : Rp, L, C without current
    ratio : L/L0, as from `bias_ratio`

    Returns
    -------
    Cell

    Notes
    -----
    First order: real beads lose some Rp too. Source: published bias curves.
    """
    return cell._replace(inductance_h=ratio * cell.inductance_h)
