"""The inspector's page for whatever is selected: every value typed or dragged."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import attrs

from app.present.answers import cautions
from app.present.specs import FieldSpec, FormSpec, Path, SectionSpec
from app.state.typed import ARROW, NONE
from app.state.view import View
from models.case.document import Case
from models.case.requirement import DEMANDS, Requirement
from models.declare import Between, Count, Key, Quantity, Text, get_path, keys_of
from models.eseries import standard_values
from models.quantity import format_quantity

_TITLES = {
    "copper": "Copper",
    "resistor": "Resistor",
    "capacitor": "Capacitor",
    "bead": "Bead",
    "inductor": "Inductor",
    "common-mode-choke": "Common-mode choke",
    "via": "Via",
    "plane-gap": "Plane gap",
    "plane-overlap": "Plane overlap",
    "switch-node": "Switch node",
    "return-current": "Return current",
    "crossing-signal": "Crossing signal",
}
_LABELS = {
    "esr": "ESR",
    "esl": "ESL",
    "rdc": "DC resistance",
    "dissipation_factor": "Loss, tan δ",
    "interwinding_capacitance": "Interwinding capacitance",
    "driven_fraction": "Driven share",
    "withstand": "Withstand voltage",
}
_SERIES = {"F": 6, "ohm": 12, "H": 12}
_SLIDER_WIDTH = 100.0
"""How far a slider reaches beyond a value that lies outside the usual range."""


def inspector_form(case: Case, view: View) -> FormSpec:
    """Return the page for the selected subject of a case."""
    kind, index = view.subject
    subjects = {
        "candidate": case.candidates,
        "coupling": case.couplings,
        "transformer": case.transformers,
        "source": case.sources,
        "requirement": case.requirements,
    }
    if kind == "case":
        return _case_form(case)
    entries = subjects[kind]
    if not entries:
        return FormSpec(title="Nothing selected", subtitle="Choose a candidate, coupling or source.")
    index = min(index, len(entries) - 1)
    if kind == "candidate":
        return _candidate_form(case, index)
    return _coupling_form(case, index) if kind == "coupling" else _plain_form(case, kind, index)


def _candidate_form(case: Case, index: int) -> FormSpec:
    candidate = case.candidates[index]
    path: Path = ("candidates", index)
    sections = [SectionSpec(title="Candidate", fields=tuple(_fields(case, path, only=("name", "note"))))]
    for number, branch in enumerate(candidate.branches):
        for place, part in enumerate(branch.parts):
            part_path: Path = (*path, "branches", number, "parts", place)
            ends = case.ends_of(branch)
            first = place == 0
            sections.append(
                SectionSpec(
                    title=_TITLES[part.kind],
                    note=_branch_note(case, number, ends) if first else "in series",
                    fields=tuple(_fields(case, part_path)),
                    actions=(
                        (f"add-part:{number}", "Add in series"),
                        (f"remove-part:{number}:{place}", "Remove"),
                    ),
                )
            )
    sections.append(
        SectionSpec(
            title="Branches",
            note="" if candidate.branches else "Nothing joins the regions here.",
            actions=(("add-branch", "Add branch"), ("duplicate", "Duplicate"), ("remove", "Remove candidate")),
        )
    )
    return FormSpec(
        title=candidate.name,
        subtitle="bridge across the pair" if candidate.branches else "the regions are left apart",
        sections=tuple(sections),
        caution=" ".join(cautions(case)),
    )


def _branch_note(case: Case, number: int, ends: tuple[str, str]) -> str:
    if set(ends) == {case.pair.a, case.pair.b}:
        return f"branch {number + 1}, across the pair"
    return f"branch {number + 1}, {ends[0]} to {ends[1]}"


def _coupling_form(case: Case, index: int) -> FormSpec:
    coupling = case.couplings[index]
    path: Path = ("couplings", index)
    parts = tuple(
        SectionSpec(title=_TITLES[part.kind], fields=tuple(_fields(case, (*path, "parts", place))))
        for place, part in enumerate(coupling.parts)
    )
    return FormSpec(
        title=coupling.name,
        subtitle=f"always there, {coupling.between[0]} to {coupling.between[1]}",
        sections=(SectionSpec(title="Coupling", fields=tuple(_fields(case, path, only=("name", "between")))), *parts),
        caution=" ".join(cautions(case)),
    )


def _plain_form(case: Case, kind: str, index: int) -> FormSpec:
    path: Path = (f"{kind}s", index)
    subject = get_path(case, path)
    title = getattr(subject, "name", None) or subject.demand.question.replace("{}", "").strip()
    return FormSpec(
        title=title,
        subtitle=_TITLES.get(getattr(subject, "kind", ""), kind),
        sections=(
            SectionSpec(
                title=_TITLES.get(getattr(subject, "kind", ""), kind.capitalize()), fields=tuple(_fields(case, path))
            ),
        ),
        caution=" ".join(cautions(case)),
    )


def _case_form(case: Case) -> FormSpec:
    sections = [
        SectionSpec(title="Case", fields=tuple(_fields(case, (), only=("title", "notes")))),
        SectionSpec(title="Regions", fields=tuple(_fields(case, ("pair",), only=("a", "b")))),
        SectionSpec(title="Sweep", fields=tuple(_fields(case, ("sweep",)))),
    ]
    if case.mains is not None:
        sections.append(SectionSpec(title="Mains", fields=tuple(_fields(case, ("mains",)))))
    return FormSpec(
        title=case.title, subtitle="the case itself", sections=tuple(sections), caution=" ".join(cautions(case))
    )


def _fields(case: Case, path: Path, only: tuple[str, ...] | None = None) -> Iterator[FieldSpec]:
    owner: Any = get_path(case, path) if path else case
    for name, key in keys_of(type(owner)).items():
        if only is not None and name not in only:
            continue
        if name == "cells":
            for number, cell in enumerate(owner.cells):
                yield from _cell_fields(cell, (*path, "cells", number), number)
            continue
        field = _field(case, owner, path, key)
        if field is not None:
            yield field


def _cell_fields(cell: Any, path: Path, number: int) -> Iterator[FieldSpec]:
    for key in keys_of(type(cell)).values():
        yield attrs.evolve(_quantity_field(cell, path, key), label=f"Cell {number + 1}, {key.key}")


def _field(case: Case, owner: Any, path: Path, key: Key) -> FieldSpec | None:
    if isinstance(key.codec, Quantity):
        return _quantity_field(owner, path, key)
    value = get_path(owner, key.path)
    place: Path = (*path, *key.path)
    label = _label(key.key)
    if isinstance(key.codec, Text):
        choices = (NONE, *key.codec.choices) if key.codec.choices and not key.required else key.codec.choices
        return FieldSpec(
            path=place,
            label=label,
            text=value or (NONE if choices else ""),
            choices=choices,
            help=key.attribute.metadata["doc"],
            optional=not key.required,
        )
    if isinstance(key.codec, Count):
        return FieldSpec(path=place, label=label, text=str(value), help=key.attribute.metadata["doc"])
    if isinstance(key.codec, Between):
        ends = value or (case.pair.a, case.pair.b)
        return FieldSpec(
            path=place,
            label="From, to",
            text=_between_text(ends),
            choices=tuple(_between_text(each) for each in _all_ends(case)),
            help=key.attribute.metadata["doc"],
        )
    return None


def _all_ends(case: Case) -> Iterator[tuple[str, str]]:
    nodes = (*case.regions, case.surroundings.name)
    return ((one, other) for one in nodes for other in nodes if one != other)


def _between_text(ends: tuple[str, str]) -> str:
    return ARROW.join(ends)


def _quantity_field(owner: Any, path: Path, key: Key) -> FieldSpec:
    value = get_path(owner, key.path)
    unit = key.unit or ""
    if isinstance(owner, Requirement):
        unit = DEMANDS[owner.kind].unit or ""
    low, high = _slider(value, key.attribute.metadata.get("usual"))
    return FieldSpec(
        path=(*path, *key.path),
        label=_label(key.key),
        text="" if value is None else format_quantity(value, unit),
        unit=unit,
        value=value,
        low=low,
        high=high,
        zero=key.attribute.default == 0.0,
        steps=_steps(unit, low, high),
        help=key.attribute.metadata["doc"],
        optional=not key.required,
    )


def _slider(value: float | None, usual: tuple[float, float] | None) -> tuple[float | None, float | None]:
    """Return the ends of the slider: the usual range, widened where the value lies outside it; none without a range."""
    if usual is None or value is None:
        return None, None
    low = usual[0] if usual[0] > 0.0 else usual[1] / 1e3
    if 0.0 < value < low:
        low = value / _SLIDER_WIDTH
    return low, max(usual[1], value * 10.0 if value > usual[1] else 0.0)


def _steps(unit: str, low: float | None, high: float | None) -> tuple[float, ...]:
    if low is None or high is None or unit not in _SERIES:
        return ()
    return standard_values(_SERIES[unit], low, high)


def _label(key: str) -> str:
    return _LABELS.get(key, key.replace("_", " ").capitalize())
