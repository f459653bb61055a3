"""Usual bridges and parts, as starting points that a person then changes. Values are typical, not of any product."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from models.case.document import Branch, Candidate
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part, Rating
from models.parts.resistor import Resistor
from models.quantity import format_quantity

COPPER = Copper(resistance_ohm=0.5e-3, inductance_h=0.7e-9)
BEAD = Bead(rdc_ohm=0.3, cells=(Cell(resistance_ohm=700.0, inductance_h=1.39e-6, capacitance_f=0.455e-12),))
Y_CAPACITOR = Capacitor(
    capacitance_f=2.2e-9,
    esr_ohm=0.2,
    esl_h=9e-9,
    dissipation_factor=0.025,
    insulation_resistance_ohm=10e9,
    rating=Rating(tolerance=0.2, safety_class="Y1", withstand_v=4000.0),
)
CHIP_CAPACITOR = Capacitor(capacitance_f=1e-9, esr_ohm=20e-3, esl_h=1.2e-9, rating=Rating(tolerance=0.1))
BLEED = Resistor(resistance_ohm=1e6, inductance_h=1e-9, capacitance_f=0.1e-12)
DAMPING = Resistor(resistance_ohm=10.0, inductance_h=1e-9)
LINK = Resistor(resistance_ohm=10e-3, inductance_h=0.8e-9)

PARTS: Mapping[str, Part] = MappingProxyType(
    {
        "Copper": COPPER,
        "Resistor": DAMPING,
        "Capacitor": CHIP_CAPACITOR,
        "Y-capacitor": Y_CAPACITOR,
        "Bead": BEAD,
        "Inductor": Inductor(inductance_h=10e-6, rdc_ohm=0.05, capacitance_f=5e-12, parallel_resistance_ohm=5e3),
    }
)
"""A usual part of every kind that a menu offers."""


def _across(*branches: tuple[Part, ...]) -> tuple[Branch, ...]:
    return tuple(Branch(parts=parts) for parts in branches)


_NAMED_BY_VALUE = ("bead", "capacitor", "common-mode-choke", "inductor", "resistor")


def bridge_of(part: Part) -> Candidate:
    """Return a candidate of one part across the pair, called as the trade calls the part."""
    from models.catalogue.figures import key_figures

    safety = part.rating.safety_class or ""
    kind = part.kind.replace("-", " ").replace("common mode", "common-mode").capitalize()
    name = "Y-capacitor" if safety.startswith("Y") else kind
    if part.kind in _NAMED_BY_VALUE:
        main = key_figures(part)[0]
        name = f"{name} {format_quantity(main.value, main.unit, digits=3)}"
    return Candidate(name=name, branches=_across((part,)))


BRIDGES: tuple[Candidate, ...] = (
    Candidate(name="Copper", branches=_across((COPPER,))),
    Candidate(name="0 Ω link", branches=_across((LINK,))),
    Candidate(name="Bead 600 Ω", branches=_across((BEAD,))),
    Candidate(name="Resistor 10 Ω", branches=_across((DAMPING,))),
    Candidate(name="Capacitor 1 nF", branches=_across((CHIP_CAPACITOR,))),
    Candidate(name="Y-capacitor 2.2 nF", branches=_across((Y_CAPACITOR,))),
    Candidate(name="Y-capacitor, damped", branches=_across((Y_CAPACITOR, DAMPING))),
    Candidate(name="Capacitor and bleed", branches=_across((CHIP_CAPACITOR,), (BLEED,))),
    Candidate(name="Bead and capacitor", branches=_across((BEAD,), (CHIP_CAPACITOR,))),
    Candidate(name="Nothing"),
)
"""Bridges that a menu offers."""
