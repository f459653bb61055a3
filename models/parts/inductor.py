"""Inductor with winding resistance, winding capacitance and core loss."""

from __future__ import annotations

import math
from typing import ClassVar, Self

from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.declare import flat, quantity
from models.formulas.impedance import series_rl, shunted
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class Inductor:
    """Inductor: Z = (Rdc + jωL) ∥ 1/(jωC) ∥ Rp.

    Good to a few times the self-resonance. Source: contract of the case file; any text on inductors.
    """

    kind: ClassVar[str] = "inductor"

    inductance_h: float = quantity("H", "inductance", positive=True, usual=(1e-9, 1e-1))
    rdc_ohm: float = quantity("ohm", "winding resistance at DC", default=0.0, usual=(1e-3, 1e2))
    capacitance_f: float = quantity("F", "winding capacitance", default=0.0, usual=(1e-13, 1e-10))
    parallel_resistance_ohm: float | None = quantity(
        "ohm", "core loss as a parallel resistance", default=None, positive=True, usual=(1e2, 1e6)
    )
    rating: Rating = flat(Rating, default=Rating())

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        winding = series_rl(omega, self.rdc_ohm, self.inductance_h)
        return shunted(winding, omega, self._loss_siemens(), self.capacitance_f)

    def dc_ohm(self) -> float:
        """Return Rdc ∥ Rp in Ω."""
        return self.rdc_ohm / (1.0 + self.rdc_ohm * self._loss_siemens())

    def blocks_dc(self) -> bool:
        """Return False: an inductor passes DC."""
        return False

    def scaled(self, factor: float) -> Self:
        """Return the inductor with its inductance multiplied."""
        return evolve(self, inductance_h=self.inductance_h * factor)

    def _loss_siemens(self) -> float:
        resistance = math.inf if self.parallel_resistance_ohm is None else self.parallel_resistance_ohm
        return 1.0 / resistance
