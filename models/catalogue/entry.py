"""One entry of the catalogue: a part, or what a transformer's construction couples, with its name and its caution."""

from __future__ import annotations

from typing import Any, ClassVar

from attrs import evolve, frozen

from models.codec import Text
from models.declare import quantity, value
from models.parts.capacitor import Capacitor
from models.parts.part import Part, Rating


@frozen(kw_only=True, cache_hash=True)
class Construction:
    """How a transformer is wound, as the interwinding capacitance that a case's transformer wants.

    The driven share is the part of the capacitance that hangs on the switch node; the rest hangs on the quiet end.
    Values are those of whole families of windings: ±50 %, to be replaced by a measurement. Source: two-capacitor model
    of common-mode noise; `models.formulas.winding` for a winding's own numbers.
    """

    kind: ClassVar[str] = "transformer"

    interwinding_capacitance_f: float = quantity(
        "F", "total interwinding capacitance, all windings shorted", positive=True, usual=(1e-12, 1e-9)
    )
    driven_fraction: float = quantity(
        "", "share of it that hangs on the switch node", default=0.5, high=1.0, usual=(0.01, 1.0)
    )
    tolerance: float = quantity("", "tolerance of the capacitance", default=0.0, high=0.9, usual=(0.0, 0.5))
    shield: str = value(
        Text(choices=("none", "single", "double")),
        "screens between the windings",
        default="none",
    )
    withstand_v: float | None = quantity("V", "withstand voltage, tested", default=None, positive=True)
    note: str | None = value(Text(limit=2000), "note", default=None)

    def capacitor(self) -> Capacitor:
        """Return the whole interwinding capacitance as a part, to be plotted."""
        rating = Rating(tolerance=self.tolerance, withstand_v=self.withstand_v, note=self.note)
        return Capacitor(capacitance_f=self.interwinding_capacitance_f, rating=rating)


@frozen(kw_only=True)
class Entry:
    """A named subject of the catalogue."""

    id: str
    title: str
    family: str
    """What a person looks under: bead, safety-capacitor, chip-capacitor, link, isolator, …"""
    subject: Part | Construction
    caution: str | None = None
    own: bool = False
    """Whether it comes from the person's own folder."""

    @property
    def kind(self) -> str:
        """Kind of the part as files know it, or ``transformer``."""
        return self.subject.kind

    @property
    def note(self) -> str:
        """Where it is used, what is an estimate and what a rating."""
        subject = self.subject
        return (subject.note if isinstance(subject, Construction) else subject.rating.note) or ""

    @property
    def part(self) -> Part:
        """The part, with the id it came from; a transformer stands as its whole interwinding capacitance."""
        if isinstance(self.subject, Construction):
            return self.subject.capacitor()
        return from_catalogue(self.subject, self.id)


def from_catalogue(part: Part, id: str | None) -> Part:
    """Return the part, marked with the id of the entry that it came from; None for a part that stands on its own."""
    owner: Any = part
    marked: Part = evolve(owner, rating=evolve(part.rating, catalogue=id))
    return marked
