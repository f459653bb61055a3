"""Planes that overlap on two layers: a capacitor made of the board itself."""

from __future__ import annotations

import math
from typing import ClassVar, Self

from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.codec import Count
from models.declare import flat, quantity, value
from models.errors import QuantityError
from models.formulas.copper import slab_impedance
from models.formulas.impedance import lossy_capacitor
from models.formulas.overlap import overlap_capacitance, overlap_inductance
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class PlaneOverlap:
    """Plane overlap: Z = [2Zs·l/(3w) + jω·µ0hl/(3w) + 1/(jωC(1 − j tanδ))]/count + jωESL.

    C is that of the plates with their fringe. Sides above 5 times the separation; to a tenth of a wavelength in the
    board. ESL is what the vias that feed it add. Source: `models.formulas.overlap`; the third is that of current that
    falls evenly from the fed edge to the open one.
    """

    kind: ClassVar[str] = "plane-overlap"

    width_m: float = quantity(
        "m", "width of the overlap along the edge that feeds it", positive=True, usual=(2e-3, 0.2)
    )
    length_m: float = quantity("m", "length of the overlap away from that edge", positive=True, usual=(2e-3, 0.1))
    separation_m: float = quantity("m", "dielectric between the layers", positive=True, usual=(5e-5, 1.6e-3))
    permittivity: float = quantity("", "relative permittivity of the board", default=4.3, high=100.0, usual=(2.0, 10.0))
    dissipation_factor: float = quantity("", "loss of the board, tan δ", default=0.02, high=1.0, usual=(1e-3, 0.05))
    thickness_m: float = quantity("m", "thickness of the copper", default=35e-6, positive=True, usual=(1.5e-5, 1e-4))
    esl_h: float = quantity("H", "inductance of the vias that feed it", default=0.0, usual=(1e-11, 5e-9))
    count: int = value(Count(high=50), "how many in parallel, on further layers", default=1)
    rating: Rating = flat(Rating, default=Rating())
    share: float = 1.0
    """What a tolerance makes of the capacitance; no key of a file, whose geometry is nominal."""

    def __attrs_post_init__(self) -> None:
        """Refuse a board lighter than air, and an overlap narrower than it is thick, where the fringe is unknown."""
        if self.permittivity < 1.0:
            raise QuantityError(f"permittivity {self.permittivity:g}", "1 or more")
        if min(self.width_m, self.length_m) < self.separation_m:
            raise QuantityError("a side below the separation", "sides of at least the separation, better 5 times of it")

    def capacitance_f(self) -> float:
        """Return the capacitance in F, of all layers together."""
        plates = overlap_capacitance(self.width_m, self.length_m, self.separation_m, self.permittivity)
        return self.share * self.count * plates

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        inductance = overlap_inductance(self.width_m, self.length_m, self.separation_m) / self.count
        z = lossy_capacitor(omega, self.capacitance_f(), 0.0, self.esl_h + inductance, self.dissipation_factor, 0.0)
        squares = 2.0 * self.length_m / (3.0 * self.width_m * self.count)
        return z + slab_impedance(omega / math.tau, self.thickness_m) * squares

    def dc_ohm(self) -> float:
        """Return ``inf``: no DC crosses the board."""
        return math.inf

    def blocks_dc(self) -> bool:
        """Return True: it blocks DC. Whether the board insulates is for the standard's current edition to say."""
        return True

    def scaled(self, factor: float) -> Self:
        """Return the overlap with its capacitance multiplied."""
        return evolve(self, share=self.share * factor)
