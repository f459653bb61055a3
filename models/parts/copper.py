"""Copper: a track, a link between planes, a strip, given by its values or by its geometry."""

from __future__ import annotations

import math
from typing import ClassVar, Self

from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.declare import flat, quantity
from models.errors import QuantityError
from models.formulas.copper import bar_ac_resistance, bar_dc_resistance, bar_partial_inductance
from models.formulas.impedance import series_rl
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class Copper:
    """Copper: Z = R + jωL, or with geometry R(f) with skin effect and the partial inductance of a flat bar.

    The partial inductance stands in for the loop's, which depends on where the current returns; it is usually the upper
    end. R(f) within ±15 % of an isolated bar. Source: contract of the case file; `models.formulas.copper`.
    """

    kind: ClassVar[str] = "copper"

    resistance_ohm: float = quantity("ohm", "resistance", default=0.0, usual=(1e-4, 1.0))
    inductance_h: float = quantity("H", "inductance", default=0.0, usual=(1e-10, 1e-7))
    length_m: float | None = quantity("m", "length of a flat bar", default=None, positive=True, usual=(1e-3, 0.1))
    width_m: float | None = quantity("m", "width of a flat bar", default=None, positive=True, usual=(1e-4, 0.05))
    thickness_m: float | None = quantity(
        "m", "thickness of a flat bar", default=None, positive=True, usual=(1e-5, 1e-3)
    )
    rating: Rating = flat(Rating, default=Rating())

    def __attrs_post_init__(self) -> None:
        """Refuse half a geometry, and a geometry beside values."""
        sides = (self.length_m, self.width_m, self.thickness_m)
        given = [side for side in sides if side is not None]
        if given and len(given) < len(sides):
            raise QuantityError("a part of a geometry", "length, width and thickness together, or none of them")
        if given and (self.resistance_ohm or self.inductance_h):
            raise QuantityError("values and a geometry", "resistance and inductance, or length, width and thickness")

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        bar = self._bar()
        if bar is None:
            return series_rl(omega, self.resistance_ohm, self.inductance_h)
        return series_rl(omega, bar_ac_resistance(omega / math.tau, *bar), bar_partial_inductance(*bar))

    def dc_ohm(self) -> float:
        """Return the resistance in Ω, ρl/(wt) for a geometry."""
        bar = self._bar()
        return self.resistance_ohm if bar is None else bar_dc_resistance(*bar)

    def blocks_dc(self) -> bool:
        """Return False: copper passes DC."""
        return False

    def scaled(self, factor: float) -> Self:
        """Return the copper with its impedance multiplied; a geometry becomes longer, which comes near it."""
        if self.length_m is not None:
            return evolve(self, length_m=self.length_m * factor)
        return evolve(self, resistance_ohm=self.resistance_ohm * factor, inductance_h=self.inductance_h * factor)

    def _bar(self) -> tuple[float, float, float] | None:
        if self.length_m is None or self.width_m is None or self.thickness_m is None:
            return None
        return self.length_m, self.width_m, self.thickness_m
