"""What the part chooser shows: the catalogue as a list, the highlighted part as a curve and in words."""

from __future__ import annotations

import cmath
import math

import numpy as np
from attrs import frozen

from app.present.impedance_plot import ohm_axis, reactance_guides
from app.present.numbers import reading
from app.present.specs import AxisSpec, CurveSpec, FieldSpec, FormSpec, Ink, PlotSpec, ReadoutSpec, SectionSpec
from app.state.sheet import ENTRIES, NOT_SAID, Sheet
from models.catalogue.entry import Construction, Entry
from models.catalogue.figures import key_figures
from models.catalogue.shelf import Catalogue
from models.parts.part import Part, valid_hz
from models.quantity import format_quantity

ALL = "all parts"
OWN = "my own parts"
FIRST_HZ = 100e6
_CAUTION = {
    "bead": "A bead passes DC and mains current: it is no insulation.",
    "capacitor": "An estimate for design, not a certification. Across a safety barrier its own safety class, the "
    "current standard, local codes and a qualified person decide.",
}
_LOW_HZ, _HIGH_HZ, _POINTS = 1e3, 1e9, 601


@frozen(kw_only=True)
class ChoiceRow:
    """One entry of the list."""

    id: str
    title: str
    note: str


@frozen(kw_only=True)
class PartWords:
    """What there is to say about a part: its ratings, where it is used, what is assumed, what to be careful about."""

    title: str
    ratings: str
    text: str
    caution: str = ""


def families(shelf: Catalogue) -> tuple[str, ...]:
    """Return what the list can be narrowed to."""
    shown = dict.fromkeys(entry.family for entry in shelf.entries.values() if not _is_transformer(entry))
    own = (OWN,) if any(entry.own for entry in shelf.entries.values()) else ()
    return (ALL, *own, *shown)


def choices(shelf: Catalogue, family: str, words: str) -> tuple[ChoiceRow, ...]:
    """Return the entries of a family that have all the words; transformers are no parts of a bridge.

    What is called by the words comes before what has them in its note.
    """
    kind = None if family in (ALL, OWN) else family
    found = sorted(shelf.chosen(kind=kind, contains=words), key=lambda entry: not _is_called(entry, words))
    return tuple(
        ChoiceRow(id=entry.id, title=entry.title, note=_figures(entry))
        for entry in found
        if not _is_transformer(entry) and (family != OWN or entry.own)
    )


def _is_called(entry: Entry, words: str) -> bool:
    called = f"{entry.id} {entry.title} {entry.family} {entry.kind}".lower()
    return all(word in called for word in words.lower().split())


def _is_transformer(entry: Entry) -> bool:
    return isinstance(entry.subject, Construction)


def constructions(shelf: Catalogue) -> tuple[ChoiceRow, ...]:
    """Return the ways to wind a transformer, with the values each usually comes to."""
    found = (entry for entry in shelf.entries.values() if _is_transformer(entry))
    return tuple(ChoiceRow(id=entry.id, title=entry.title, note=_figures(entry)) for entry in found)


def _figures(entry: Entry) -> str:
    shown = [f"{each.label} {format_quantity(each.value, each.unit, digits=3)}" for each in key_figures(entry.subject)]
    return " · ".join(shown[:3])


def entry_words(entry: Entry) -> PartWords:
    """Return what to say about an entry."""
    own = "Your own part. " if entry.own else ""
    return PartWords(
        title=entry.title, ratings=_ratings(entry.part), text=own + entry.note, caution=entry.caution or ""
    )


NO_PART = PartWords(title="Part", ratings="", text="No part has all these words.")
NO_SHEET = PartWords(
    title="Part from its data sheet", ratings="", text="Type what the data sheet says; one number is a beginning."
)


def sheet_words(part: Part, assumed: tuple[str, ...]) -> PartWords:
    """Return what was assumed for a part from a data sheet."""
    return PartWords(
        title=f"{part.kind.capitalize()} from its data sheet",
        ratings=_ratings(part),
        text=" ".join(assumed),
        caution=_CAUTION[part.kind],
    )


def _ratings(part: Part) -> str:
    rating, shown = part.rating, []
    current_a: float | None = getattr(part, "rated_current_a", None)
    if current_a is not None:
        shown.append(f"rated {reading(current_a, 'A')}")
    if rating.safety_class:
        shown.append(f"Class {rating.safety_class}")
    if rating.tolerance:
        shown.append(f"±{format_quantity(rating.tolerance, '', digits=2)}")
    if rating.rated_voltage_v is not None:
        shown.append(f"rated {reading(rating.rated_voltage_v, 'V')}")
    if rating.withstand_v is not None:
        shown.append(f"withstands {reading(rating.withstand_v, 'V')}, tested")
    return " · ".join(shown)


def part_plot(part: Part | None, words: PartWords, cursor_hz: float) -> PlotSpec:
    """Return the impedance of one part over frequency, with what the cursor reads; words where there is no part."""
    title = words.title
    if part is None:
        return PlotSpec(title=title, empty=words.text)
    f_hz = np.geomspace(_LOW_HZ, _HIGH_HZ, _POINTS)
    z = part.impedance(math.tau * f_hz)
    size = np.abs(z)
    at = complex(part.impedance(np.array([math.tau * cursor_hz]))[0])
    x = AxisSpec(unit="Hz", log=True, low=_LOW_HZ, high=_HIGH_HZ)
    rows = (
        ("|Z|", abs(at), f"{reading(abs(at), 'ohm')}  {math.degrees(cmath.phase(at)):+.0f}°"),
        ("R", None, reading(at.real, "ohm")),
        ("X", None, reading(abs(at.imag), "ohm") + (" inductive" if at.imag >= 0.0 else " capacitive")),
    )
    return PlotSpec(
        title=title,
        subtitle="|Z|, the part alone",
        x=x,
        y=ohm_axis([size]),
        curves=(CurveSpec(label="|Z|", ink=Ink(), x=f_hz, y=size, strong=True, valid_x=valid_hz(part), z_ohm=z),),
        guides=reactance_guides(x),
        cursor_x=cursor_hz,
        cursor_text=format_quantity(cursor_hz, "Hz", digits=3),
        readouts=tuple(
            ReadoutSpec(label=label, ink=Ink(), text=text.replace("-", "−"), y=y) for label, y, text in rows
        ),
    )


def sheet_form(sheet: Sheet) -> FormSpec:
    """Return the fields of a data sheet."""
    fields = []
    for entry in ENTRIES[sheet.kind]:
        value = sheet.values.get(entry.name)
        text = value if isinstance(value, str) else "" if value is None else format_quantity(value, entry.unit)
        fields.append(
            FieldSpec(
                path=(entry.name,),
                label=entry.label,
                text=text or (NOT_SAID if entry.choices else ""),
                unit="" if entry.choices else entry.unit or "ratio",
                value=None if isinstance(value, str) else value,
                choices=entry.choices,
                help=entry.help,
                optional=True,
            )
        )
    return FormSpec(
        title="What the data sheet says",
        subtitle="as much as it does; the rest is assumed and said",
        sections=(SectionSpec(title=sheet.kind.capitalize(), fields=tuple(fields)),),
    )
