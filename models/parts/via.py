"""Via: a plated hole, or several in parallel, by geometry."""

from __future__ import annotations

import math
from typing import ClassVar, Self

from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.codec import Count
from models.declare import flat, quantity, value
from models.errors import QuantityError
from models.formulas.copper import bar_dc_resistance, slab_impedance
from models.formulas.via import via_pair_inductance, via_partial_inductance
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class Via:
    """Via: Z = [Zs·h/(π(d − t)) + jωL] / count, Zs of the plating with current on its outer face.

    L is the partial inductance of one via near its return, or half of the loop of two with opposite currents where the
    spacing to the returning via is given. Within 10 % for h of 0.2 to 3 mm; several in parallel have their own
    inductances only where they stand further apart than they are long, closer ones share less. Source:
    `models.formulas.via`, `models.formulas.copper`.
    """

    kind: ClassVar[str] = "via"

    length_m: float = quantity("m", "length between the layers it joins", positive=True, usual=(2e-4, 3e-3))
    diameter_m: float = quantity("m", "diameter of the hole", positive=True, usual=(1e-4, 1e-3))
    plating_m: float = quantity("m", "thickness of the plating", default=25e-6, positive=True, usual=(1.5e-5, 5e-5))
    spacing_m: float | None = quantity(
        "m",
        "distance to the via of the returning current; none for a close plane",
        default=None,
        positive=True,
        usual=(5e-4, 1e-2),
    )
    count: int = value(Count(), "how many in parallel", default=1)
    rating: Rating = flat(Rating, default=Rating())

    def __attrs_post_init__(self) -> None:
        """Refuse a plating that fills more than the hole, and vias that overlap."""
        if 2.0 * self.plating_m > self.diameter_m:
            raise QuantityError("a plating of more than half the diameter", "a thinner plating or a larger hole")
        if self.spacing_m is not None and self.spacing_m <= self.diameter_m:
            raise QuantityError("a spacing within the hole", "a spacing above the diameter")

    def inductance_h(self) -> float:
        """Return the inductance of one via in H."""
        if self.spacing_m is None:
            return via_partial_inductance(self.length_m, self.diameter_m)
        return 0.5 * via_pair_inductance(self.length_m, self.diameter_m, self.spacing_m)

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        z = slab_impedance(omega / math.tau, self.plating_m) * (self.length_m / self._girth_m())
        z.imag += omega * self.inductance_h()
        return z / self.count

    def dc_ohm(self) -> float:
        """Return the resistance of the plating in Ω."""
        return bar_dc_resistance(self.length_m, self._girth_m(), self.plating_m) / self.count

    def blocks_dc(self) -> bool:
        """Return False: a via passes DC."""
        return False

    def scaled(self, factor: float) -> Self:
        """Return the via longer by the factor, which comes near a multiplied impedance."""
        return evolve(self, length_m=self.length_m * factor)

    def _girth_m(self) -> float:
        return math.pi * (self.diameter_m - self.plating_m)
