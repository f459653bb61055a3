"""Ferrite bead as DC resistance and Foster cells."""

from __future__ import annotations

from typing import ClassVar, Self

from attrs import evolve, frozen

from models.declare import ListOf, Table, flat, quantity, value
from models.formulas.impedance import Complex, Real, parallel_rlc
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class Cell:
    """One Foster cell: R, L and C in parallel."""

    resistance_ohm: float = quantity("ohm", "loss resistance", positive=True, usual=(10.0, 3e3))
    inductance_h: float = quantity("H", "low-frequency inductance", positive=True, usual=(1e-8, 1e-5))
    capacitance_f: float = quantity("F", "parasitic capacitance", default=0.0, usual=(1e-14, 1e-11))


@frozen(kw_only=True, cache_hash=True)
class Bead:
    """Ferrite bead: Z = Rdc + Σ 1/(1/R + 1/(jωL) + jωC).

    One cell follows a real bead within ±20 to 30 % between 1 MHz and 1 GHz; several cells follow it better, since
    permeability disperses. Source: H. W. Ott, *Electromagnetic Compatibility Engineering*.
    """

    kind: ClassVar[str] = "bead"

    rdc_ohm: float = quantity("ohm", "DC resistance", default=0.0, usual=(1e-3, 2.0))
    cells: tuple[Cell, ...] = value(
        ListOf(item=Table(of=Cell), least=1, most=12, noun="a list of cells"), "Foster cells"
    )
    rating: Rating = flat(Rating, default=Rating())

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        z = sum(
            (
                parallel_rlc(omega, 1.0 / cell.resistance_ohm, cell.inductance_h, cell.capacitance_f)
                for cell in self.cells[1:]
            ),
            start=parallel_rlc(
                omega, 1.0 / self.cells[0].resistance_ohm, self.cells[0].inductance_h, self.cells[0].capacitance_f
            ),
        )
        z.real += self.rdc_ohm
        return z

    def dc_ohm(self) -> float:
        """Return the DC resistance in Ω: the cells' inductances are shorts."""
        return self.rdc_ohm

    def blocks_dc(self) -> bool:
        """Return False: a bead is not isolation."""
        return False

    def scaled(self, factor: float) -> Self:
        """Return the bead with the impedance of its cells multiplied."""
        cells = tuple(
            Cell(
                resistance_ohm=cell.resistance_ohm * factor,
                inductance_h=cell.inductance_h * factor,
                capacitance_f=cell.capacitance_f / factor,
            )
            for cell in self.cells
        )
        return evolve(self, cells=cells)
