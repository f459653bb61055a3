"""Common-mode choke between two regions: what current sees that does not return through its other windings."""

from __future__ import annotations

from typing import ClassVar, Self

from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.codec import ListOf
from models.declare import Table, flat, quantity, value
from models.parts.bead import Cell, foster_chain
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class CommonModeChoke:
    """Common-mode choke: Z = Rdc + Σ 1/(1/R + 1/(jωL) + jωC), from one region's ground to the other's.

    It stands between regions whose supply and return both run through it. Current that goes and comes back through its
    windings meets only Rdc and the leakage, and does not bias the core; what is computed here is the impedance for all
    other current. Rdc is that of the ground's own winding. With one cell within ±30 % to its first resonance, with two
    or three to about 10 times that. Source: R. M. Foster, *A reactance theorem*, 1924; any EMC text on chokes.
    """

    kind: ClassVar[str] = "common-mode-choke"

    rdc_ohm: float = quantity("ohm", "DC resistance of the winding in the ground", default=0.0, usual=(1e-3, 5.0))
    cells: tuple[Cell, ...] = value(
        ListOf(item=Table(of=Cell), least=1, most=12, noun="a list of cells"), "Foster cells of its common mode"
    )
    rated_current_a: float | None = quantity(
        "A", "rated current of a winding, a rating of temperature", default=None, positive=True, usual=(0.05, 20.0)
    )
    rating: Rating = flat(Rating, default=Rating())

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        return foster_chain(omega, self.cells, self.rdc_ohm)

    def dc_ohm(self) -> float:
        """Return the DC resistance of the ground's winding in Ω."""
        return self.rdc_ohm

    def blocks_dc(self) -> bool:
        """Return False: a choke passes DC."""
        return False

    def scaled(self, factor: float) -> Self:
        """Return the choke with the impedance of its cells multiplied."""
        return evolve(self, cells=tuple(cell.scaled(factor) for cell in self.cells))
