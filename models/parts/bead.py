"""Ferrite bead as DC resistance and Foster cells, with what a direct current leaves of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Self

from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.codec import ListOf, Text
from models.declare import Table, flat, quantity, value
from models.errors import QuantityError
from models.formulas.bead import BIAS_FAMILIES, family_bias_ratio
from models.formulas.impedance import parallel_rlc
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class Cell:
    """One Foster cell: R, L and C in parallel."""

    resistance_ohm: float = quantity("ohm", "loss resistance", positive=True, usual=(10.0, 3e3))
    inductance_h: float = quantity("H", "low-frequency inductance", positive=True, usual=(1e-8, 1e-5))
    capacitance_f: float = quantity("F", "parasitic capacitance", default=0.0, usual=(1e-14, 1e-11))

    def impedance(self, omega: Real, *, left: float = 1.0) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s, with a share left of the inductance."""
        return parallel_rlc(omega, 1.0 / self.resistance_ohm, left * self.inductance_h, self.capacitance_f)

    def scaled(self, factor: float) -> Cell:
        """Return the cell with its impedance multiplied."""
        return Cell(
            resistance_ohm=self.resistance_ohm * factor,
            inductance_h=self.inductance_h * factor,
            capacitance_f=self.capacitance_f / factor,
        )


def foster_chain(omega: Real, cells: Sequence[Cell], rdc_ohm: float, *, left: float = 1.0) -> Complex:
    """Impedance of cells in series with a resistance.

    Z = Rdc + Σ 1/(1/R + 1/(jω·left·L) + jωC)

    Parameters
    ----------
    omega : (F,) rad/s, above 0
    cells : at least one
    rdc_ohm : Rdc, Ω
    left : share of the inductances that a direct current leaves

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    Passive and causal for any values. Source: R. M. Foster, *A reactance theorem*, 1924.
    """
    z = cells[0].impedance(omega, left=left)
    for cell in cells[1:]:
        z += cell.impedance(omega, left=left)
    z.real += rdc_ohm
    return z


@frozen(kw_only=True, cache_hash=True)
class Bead:
    """Ferrite bead: Z = Rdc + Σ 1/(1/R + 1/(jωL) + jωC), L → L/(1 + (|I|/Isat)^n) under a bias current.

    One cell follows a real bead within ±20 to 30 % between 1 MHz and 1 GHz; several cells follow it better, since
    permeability disperses. Bias: R and C stay, so that the peak moves up; Isat and n come from the family and are
    estimates, ±0.2 in what is left of L. The rated current is a rise in temperature and says nothing of the impedance.
    Source: H. W. Ott, *Electromagnetic Compatibility Engineering*; `models.formulas.bead`.
    """

    kind: ClassVar[str] = "bead"

    rdc_ohm: float = quantity("ohm", "DC resistance", default=0.0, usual=(1e-3, 2.0))
    cells: tuple[Cell, ...] = value(
        ListOf(item=Table(of=Cell), least=1, most=12, noun="a list of cells"), "Foster cells"
    )
    rated_current_a: float | None = quantity(
        "A", "rated current, a rating of temperature", default=None, positive=True, usual=(0.05, 10.0)
    )
    bias_current_a: float = quantity(
        "A", "direct current through it, ripple of low frequency counted", default=0.0, usual=(0.0, 10.0)
    )
    bias_family: str = value(
        Text(choices=tuple(BIAS_FAMILIES)), "how fast it saturates: power, between, or signal", default="mid"
    )
    rating: Rating = flat(Rating, default=Rating())

    def __attrs_post_init__(self) -> None:
        """Refuse a bias of which nobody can say what it does, and a family that is none."""
        if self.bias_current_a and self.rated_current_a is None:
            raise QuantityError("a bias_current without a rated_current", "both, or a bias_current of 0")
        if self.bias_family not in BIAS_FAMILIES:
            raise QuantityError(f'bias_family "{self.bias_family}"', " or ".join(f'"{each}"' for each in BIAS_FAMILIES))

    def inductance_left(self) -> float:
        """Return L/L0 under the bias current: 1 without one."""
        if not self.bias_current_a or self.rated_current_a is None:
            return 1.0
        return float(family_bias_ratio(self.bias_current_a, self.rated_current_a, self.bias_family))

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        return foster_chain(omega, self.cells, self.rdc_ohm, left=self.inductance_left())

    def dc_ohm(self) -> float:
        """Return the DC resistance in Ω: the cells' inductances are shorts."""
        return self.rdc_ohm

    def blocks_dc(self) -> bool:
        """Return False: a bead is not isolation."""
        return False

    def scaled(self, factor: float) -> Self:
        """Return the bead with the impedance of its cells multiplied."""
        return evolve(self, cells=tuple(cell.scaled(factor) for cell in self.cells))
