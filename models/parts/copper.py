"""Copper: a track, a net tie, a strip, given by its values or by its geometry."""

from __future__ import annotations

from typing import ClassVar, Self

from attrs import evolve, frozen

from models.declare import flat, quantity
from models.formulas.impedance import Complex, Real, series_rl
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class Copper:
    """Copper: Z = R + jωL."""

    kind: ClassVar[str] = "copper"

    resistance_ohm: float = quantity("ohm", "resistance", default=0.0, usual=(1e-4, 1.0))
    inductance_h: float = quantity("H", "inductance", default=0.0, usual=(1e-10, 1e-7))
    length_m: float | None = quantity("m", "length of a flat bar", default=None, positive=True, usual=(1e-3, 0.1))
    width_m: float | None = quantity("m", "width of a flat bar", default=None, positive=True, usual=(1e-4, 0.05))
    thickness_m: float | None = quantity(
        "m", "thickness of a flat bar", default=None, positive=True, usual=(1e-5, 1e-3)
    )
    rating: Rating = flat(Rating, default=Rating())

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        return series_rl(omega, self.resistance_ohm, self.inductance_h)

    def dc_ohm(self) -> float:
        """Return the resistance in Ω."""
        return self.resistance_ohm

    def blocks_dc(self) -> bool:
        """Return False."""
        return False

    def scaled(self, factor: float) -> Self:
        """Return the copper with its values multiplied."""
        return evolve(self, resistance_ohm=self.resistance_ohm * factor, inductance_h=self.inductance_h * factor)
