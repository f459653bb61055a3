"""The one list of part kinds. Files, forms and tests walk it; a new kind is a class and a line here."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.resistor import Resistor

PARTS: Mapping[str, type[Part]] = MappingProxyType(
    {part.kind: part for part in (Copper, Resistor, Capacitor, Bead, Inductor)}
)


def part_kinds() -> Mapping[str, type[Part]]:
    """Return every kind of part by the name that files use."""
    return PARTS
