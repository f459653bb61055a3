"""Resistor with its lead inductance and end-to-end capacitance."""

from __future__ import annotations

from typing import ClassVar, Self

from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.declare import flat, quantity
from models.formulas.impedance import series_rl, shunted
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class Resistor:
    """Resistor: Z = (R + jωL) ∥ 1/(jωC).

    Good to some hundred megahertz for chip parts. Source: contract of the case file; any EMC text on resistors.
    """

    kind: ClassVar[str] = "resistor"

    resistance_ohm: float = quantity("ohm", "resistance", usual=(1e-3, 1e7))
    inductance_h: float = quantity("H", "inductance of body and leads", default=0.0, usual=(1e-10, 1e-7))
    capacitance_f: float = quantity("F", "capacitance end to end", default=0.0, usual=(1e-14, 1e-11))
    rating: Rating = flat(Rating, default=Rating())

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        return shunted(series_rl(omega, self.resistance_ohm, self.inductance_h), omega, 0.0, self.capacitance_f)

    def dc_ohm(self) -> float:
        """Return the resistance in Ω."""
        return self.resistance_ohm

    def blocks_dc(self) -> bool:
        """Return False: a resistor passes DC."""
        return False

    def scaled(self, factor: float) -> Self:
        """Return the resistor with its resistance multiplied."""
        return evolve(self, resistance_ohm=self.resistance_ohm * factor)
