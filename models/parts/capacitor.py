"""Capacitor with ESR, ESL, dielectric loss, slow branches, insulation resistance and DC bias."""

from __future__ import annotations

import math
from typing import ClassVar, Self

import numpy as np
from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.codec import Count, ListOf
from models.declare import Table, flat, quantity, value
from models.errors import QuantityError
from models.formulas.capacitor import bias_ratio, lead_pair_inductance, metal_resistance
from models.formulas.impedance import lossy_capacitor
from models.parts.part import Rating


@frozen(kw_only=True, cache_hash=True)
class SlowBranch:
    """A resistance and a capacitance in series across a capacitor: one relaxation of its dielectric."""

    resistance_ohm: float = quantity("ohm", "resistance", positive=True, usual=(1.0, 1e9))
    capacitance_f: float = quantity("F", "capacitance", positive=True, usual=(1e-13, 1e-7))


@frozen(kw_only=True, cache_hash=True)
class Capacitor:
    """Capacitor: Z = [ESR + Rm·√(1 + f/fm) + jωESL + 1/(ωC(tanδ + j) + 1/Rins)] / count.

    Rm is the resistance of electrodes and leads with skin effect above the corner fm. Slow branches add their
    admittance Σ 1/(Rb + 1/(jωCb)) to that of C. Under a bias voltage C and Cb fall to 1/(1 + (|V|/V50)^p) of
    themselves; without V50 they stay, as C0G and film do. Leads add the inductance of a pair of wires to the ESL. One
    resonance only: above about 3 times the self-resonance a real part and its mounting show further ones. Source:
    contract of the case file; definitions of ESR and tanδ as in IEC 60384-1; `models.formulas.capacitor`.
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
    metal_resistance_ohm: float = quantity(
        "ohm",
        "resistance of electrodes and leads, on top of the ESR, that skin effect raises",
        default=0.0,
        usual=(1e-3, 1.0),
    )
    metal_corner_hz: float | None = quantity(
        "Hz",
        "frequency above which skin effect raises it; none for no skin effect",
        default=None,
        positive=True,
        usual=(1e6, 1e8),
    )
    bias_voltage_v: float = quantity("V", "DC voltage across it", default=0.0, usual=(0.0, 1e3))
    bias_half_voltage_v: float | None = quantity(
        "V",
        "DC voltage that halves the capacitance; none for no effect, as with C0G and film",
        default=None,
        positive=True,
        usual=(3.0, 5e3),
    )
    bias_exponent: float = quantity(
        "", "how steeply it falls with voltage", default=1.8, positive=True, high=10.0, usual=(1.5, 2.2)
    )
    lead_length_m: float = quantity(
        "m", "length of each lead, on top of the ESL", default=0.0, high=1.0, usual=(1e-3, 2e-2)
    )
    lead_pitch_m: float = quantity("m", "pitch of the leads", default=10e-3, positive=True, usual=(5e-3, 3e-2))
    lead_diameter_m: float = quantity("m", "diameter of a lead", default=0.6e-3, positive=True, usual=(4e-4, 1e-3))
    branches: tuple[SlowBranch, ...] = value(
        ListOf(item=Table(of=SlowBranch), most=12, noun="a list of branches"), "slow branches across it", default=()
    )
    rating: Rating = flat(Rating, default=Rating())

    def __attrs_post_init__(self) -> None:
        """Refuse leads that overlap."""
        if self.lead_length_m and self.lead_pitch_m <= self.lead_diameter_m:
            raise QuantityError("a lead_pitch within the lead_diameter", "a pitch above the diameter")

    def inductance_h(self) -> float:
        """Return the series inductance in H: ESL and leads."""
        if not self.lead_length_m:
            return self.esl_h
        return self.esl_h + lead_pair_inductance(self.lead_length_m, self.lead_pitch_m, self.lead_diameter_m)

    def capacitance_left(self) -> float:
        """Return C/C0 under the bias voltage: 1 without one, or where the dielectric has no such effect."""
        if not self.bias_voltage_v or self.bias_half_voltage_v is None:
            return 1.0
        return float(bias_ratio(self.bias_voltage_v, self.bias_half_voltage_v, self.bias_exponent))

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        left = self.capacitance_left()
        insulation = 0.0 if self.insulation_resistance_ohm is None else 1.0 / self.insulation_resistance_ohm
        z = lossy_capacitor(omega, left * self.capacitance_f, 0.0, 0.0, self.dissipation_factor, insulation)
        if self.branches:
            z = 1.0 / (1.0 / z + self._slow_siemens(omega, left))
        z.real += self.esr_ohm
        if self.metal_resistance_ohm:
            corner_hz = math.inf if self.metal_corner_hz is None else self.metal_corner_hz
            z.real += metal_resistance(omega / math.tau, self.metal_resistance_ohm, corner_hz)
        z.imag += omega * self.inductance_h()
        return z if self.count == 1 else z / self.count

    def dc_ohm(self) -> float:
        """Return the insulation resistance in Ω, with ESR; ``inf`` where none is stated."""
        if self.insulation_resistance_ohm is None:
            return math.inf
        return (self.esr_ohm + self.metal_resistance_ohm + self.insulation_resistance_ohm) / self.count

    def blocks_dc(self) -> bool:
        """Return True: a capacitor blocks DC. That is not yet separation: see its safety class."""
        return True

    def scaled(self, factor: float) -> Self:
        """Return the capacitor with its capacitance multiplied, slow branches included."""
        branches = tuple(
            SlowBranch(resistance_ohm=each.resistance_ohm / factor, capacitance_f=each.capacitance_f * factor)
            for each in self.branches
        )
        return evolve(self, capacitance_f=self.capacitance_f * factor, branches=branches)

    def _slow_siemens(self, omega: Real, left: float) -> Complex:
        total = np.zeros(omega.shape, np.complex128)
        for each in self.branches:
            jwc = 1j * omega * (left * each.capacitance_f)
            total += jwc / (1.0 + jwc * (each.resistance_ohm / left))
        return total
