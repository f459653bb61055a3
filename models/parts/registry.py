"""The one list of part kinds. Files, forms and tests walk it; a new kind is a class and a line here."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.choke import CommonModeChoke
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.plane_gap import PlaneGap
from models.parts.plane_overlap import PlaneOverlap
from models.parts.resistor import Resistor
from models.parts.via import Via

_KINDS: tuple[type[Part], ...] = (
    Copper,
    Resistor,
    Capacitor,
    Bead,
    Inductor,
    CommonModeChoke,
    Via,
    PlaneGap,
    PlaneOverlap,
)

PARTS: Mapping[str, type[Part]] = MappingProxyType({part.kind: part for part in _KINDS})


def part_kinds() -> Mapping[str, type[Part]]:
    """Return every kind of part by the name that files use."""
    return PARTS
