"""Ferrite beads: impedance of one cell and of several, and what a direct current does to it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.bead_cell import Cell
from models.formulas.impedance import Complex, Real


class BiasFamily(NamedTuple):
    """How fast a kind of bead saturates: saturation current as a share of the rated one, and exponent."""

    saturation_share: float
    exponent: float


BIAS_FAMILIES: Final[Mapping[str, BiasFamily]] = MappingProxyType(
    {"power": BiasFamily(0.25, 2.0), "mid": BiasFamily(0.35, 1.6), "signal": BiasFamily(1.0, 2.0)}
)
"""Estimates, to be edited: high-current power beads, those between, and signal beads whose rating is thermal."""


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
