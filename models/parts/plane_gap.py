"""Gap between two planes on the same layer: what couples them along their facing edges."""

from __future__ import annotations

import math
from typing import ClassVar, Self

from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.declare import flat, quantity
from models.errors import QuantityError
from models.formulas.gap import GapLine, gap_line
from models.formulas.open_line import filling_loss, open_line_impedance
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class PlaneGap:
    """Plane gap as a slot line with open ends, looked into where the bridge stands: Z = Zc/(tanh γa + tanh γb).

    Far below resonance it is the capacitance C'·length of the edges with the board's loss. 5 to 8 % low for planes on
    one layer; copper on several layers adds 20 to 60 %. To where a quarter wave spans the depth of a plane; radiation
    and copper loss are left out, so that resonances come out too sharp. Source: `models.formulas.gap`, by conformal
    mapping.
    """

    kind: ClassVar[str] = "plane-gap"

    gap_m: float = quantity("m", "width of the gap", positive=True, usual=(1e-4, 2e-2))
    length_m: float = quantity("m", "length of the gap along the edges", positive=True, usual=(5e-3, 0.3))
    depth_m: float = quantity("m", "depth of the first plane away from the gap", positive=True, usual=(5e-3, 0.2))
    other_depth_m: float | None = quantity(
        "m", "depth of the second plane; none for the same", default=None, positive=True, usual=(5e-3, 0.2)
    )
    board_m: float = quantity("m", "thickness of the board", default=1.6e-3, positive=True, usual=(4e-4, 3.2e-3))
    permittivity: float = quantity("", "relative permittivity of the board", default=4.3, high=100.0, usual=(2.0, 10.0))
    dissipation_factor: float = quantity("", "loss of the board, tan δ", default=0.02, high=1.0, usual=(1e-3, 0.05))
    feed: float = quantity(
        "", "place along the gap where the bridge stands, as a share of its length", default=0.5, high=1.0
    )
    rating: Rating = flat(Rating, default=Rating())

    def __attrs_post_init__(self) -> None:
        """Refuse a board lighter than air."""
        if self.permittivity < 1.0:
            raise QuantityError(f"permittivity {self.permittivity:g}", "1 or more")

    def line(self) -> GapLine:
        """Return the slot line of the gap."""
        other_m = self.depth_m if self.other_depth_m is None else self.other_depth_m
        return gap_line(self.gap_m, self.depth_m, other_m, self.board_m, self.permittivity)

    def capacitance_f(self) -> float:
        """Return the capacitance of the edges at low frequency in F."""
        return self.line().capacitance_f_per_m * self.length_m

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        line = self.line()
        return open_line_impedance(
            omega,
            line.capacitance_f_per_m,
            line.inductance_h_per_m,
            (self.feed * self.length_m, (1.0 - self.feed) * self.length_m),
            tan_delta=filling_loss(self.permittivity, line.permittivity, self.dissipation_factor),
        )

    def dc_ohm(self) -> float:
        """Return ``inf``: no DC crosses a gap."""
        return math.inf

    def blocks_dc(self) -> bool:
        """Return True: a gap blocks DC. That is not yet insulation: see the standard for clearance and creepage."""
        return True

    def scaled(self, factor: float) -> Self:
        """Return the gap with its capacitance multiplied, by its length."""
        return evolve(self, length_m=self.length_m * factor)
