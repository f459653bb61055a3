"""Capacitor with ESR, ESL, dielectric loss and insulation resistance."""

from __future__ import annotations

import math
from typing import ClassVar, Self

from attrs import evolve, frozen

from models.declare import Count, flat, quantity, value
from models.formulas.impedance import Complex, Real, lossy_capacitor
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class Capacitor:
    """Capacitor: Z = [ESR + jωESL + 1/(ωC(tanδ + j) + 1/Rins)] / count.

    One resonance only: above about 3 times the self-resonance a real part and its mounting show further ones.
    Source: contract of the case file; definitions of ESR and tanδ as in IEC 60384-1.
    """

    kind: ClassVar[str] = "capacitor"

    capacitance_f: float = quantity("F", "capacitance", positive=True, usual=(1e-12, 1e-6))
    esr_ohm: float = quantity("ohm", "equivalent series resistance of metal and leads", default=0.0, usual=(1e-3, 10.0))
    esl_h: float = quantity("H", "equivalent series inductance, mounted", default=0.0, usual=(1e-10, 5e-8))
    dissipation_factor: float = quantity("", "dielectric loss, tan δ", default=0.0, high=1.0, usual=(1e-4, 0.1))
    insulation_resistance_ohm: float | None = quantity(
        "ohm", "insulation resistance", default=None, positive=True, usual=(1e6, 1e12)
    )
    count: int = value(Count(), "how many in parallel", default=1)
    rating: Rating = flat(Rating, default=Rating())

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        insulation = 0.0 if self.insulation_resistance_ohm is None else 1.0 / self.insulation_resistance_ohm
        z = lossy_capacitor(omega, self.capacitance_f, self.esr_ohm, self.esl_h, self.dissipation_factor, insulation)
        return z if self.count == 1 else z / self.count

    def dc_ohm(self) -> float:
        """Return the insulation resistance in Ω, with ESR; ``inf`` where none is stated."""
        if self.insulation_resistance_ohm is None:
            return math.inf
        return (self.esr_ohm + self.insulation_resistance_ohm) / self.count

    def blocks_dc(self) -> bool:
        """Return True: a capacitor blocks DC. That is not yet separation: see its safety class."""
        return True

    def scaled(self, factor: float) -> Self:
        """Return the capacitor with its capacitance multiplied."""
        return evolve(self, capacitance_f=self.capacitance_f * factor)
