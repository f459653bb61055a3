"""What the case is made of besides its candidates, as things to select."""

from __future__ import annotations

from app.present.answers import question
from app.present.numbers import reading
from app.present.specs import SceneGroupSpec, SceneItemSpec, SceneSpec
from app.state.view import View
from models.case.document import Case, Coupling
from models.parts.capacitor import Capacitor
from models.quantity import format_quantity
from models.sources.registry import Source


def scene(case: Case, view: View) -> SceneSpec:
    """Return the groups of things that the inspector can open."""

    def item(label: str, note: str, kind: str, index: int) -> SceneItemSpec:
        subject = (kind, index)
        return SceneItemSpec(label=label, note=note, subject=subject, selected=subject == view.subject)

    there = [
        item(each.name, format_quantity(each.interwinding_capacitance_f, "F", digits=3), "transformer", index)
        for index, each in enumerate(case.transformers)
    ]
    there += [item(each.name, _coupling_note(each), "coupling", index) for index, each in enumerate(case.couplings)]
    drives = [item(each.name, _source_note(each), "source", index) for index, each in enumerate(case.sources)]
    wanted = [item(question(each), "", "requirement", index) for index, each in enumerate(case.requirements)]
    mains = "no mains" if case.mains is None else f"mains {format_quantity(case.mains.voltage_v, 'V')}"
    groups = (
        ("Case", [item(f"{case.pair.a} · {case.pair.b}", mains, "case", 0)]),
        ("Always there", there),
        ("Drives", drives),
        ("Wanted", wanted),
    )
    return SceneSpec(groups=tuple(SceneGroupSpec(title=title, items=tuple(items)) for title, items in groups if items))


def _coupling_note(coupling: Coupling) -> str:
    part = coupling.parts[0]
    if isinstance(part, Capacitor):
        return format_quantity(part.capacitance_f * part.count, "F", digits=3)
    return part.kind


def _source_note(source: Source) -> str:
    unit = "V" if hasattr(source, "amplitude_v") else "A"
    return f"{reading(source.level(), unit)}, {format_quantity(source.wave.frequency_hz, 'Hz', digits=3)}"
