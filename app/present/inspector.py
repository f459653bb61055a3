"""The inspector's page for whatever is selected: every value typed or dragged."""

from __future__ import annotations

from collections.abc import Iterator

from app.present.answers import cautions, question
from app.present.fields import Walk
from app.present.specs import FieldSpec, FormSpec, SectionSpec
from app.state.estimable import targets
from app.state.view import View
from models.case.document import Case
from models.codec import KeyPath
from models.declare import get_path

_TITLES = {"common-mode-choke": "Common-mode choke", "waveform": "Measured waveform"}
MORE, FEWER = ("more", "All values"), ("fewer", "Fewer values")


def inspector_form(case: Case, view: View) -> FormSpec:
    """Return the page for the selected subject of a case."""
    kind, index = view.subject
    walk = Walk(case=case, everything=view.everything)
    if kind == "case":
        return _case_form(walk)
    entries = getattr(case, f"{kind}s")
    if not entries:
        return FormSpec(title="Nothing selected", subtitle="Choose a candidate, or something in the drawing.")
    index = min(index, len(entries) - 1)
    if kind == "candidate":
        return _candidate_form(walk, index)
    return _coupling_form(walk, index) if kind == "coupling" else _plain_form(walk, kind, index)


def title_of(kind: str) -> str:
    """Return the name of a kind of part or source as a heading."""
    return _TITLES.get(kind, kind.replace("-", " ").capitalize())


def _candidate_form(walk: Walk, index: int) -> FormSpec:
    case, path = walk.case, ("candidates", index)
    candidate = case.candidates[index]
    parts = [
        _part_section(walk, path, branch, place)
        for branch, each in enumerate(candidate.branches)
        for place in range(len(each.parts))
    ]
    last = SectionSpec(
        title="Branches",
        note="" if candidate.branches else "Nothing joins the regions here.",
        actions=(("add-branch", "Add branch"), ("duplicate", "Duplicate"), ("remove", "Remove candidate")),
    )
    return FormSpec(
        title=candidate.name,
        subtitle="bridge across the pair" if candidate.branches else "the regions are left apart",
        sections=(
            SectionSpec(
                title="Candidate", fields=tuple(walk.fields(path, only=("name", "note"))), actions=(_switch(walk),)
            ),
            *parts,
            last,
        ),
        caution=" ".join(cautions(case)),
    )


def _switch(walk: Walk) -> tuple[str, str]:
    return FEWER if walk.everything else MORE


def _part_section(walk: Walk, path: KeyPath, branch: int, place: int) -> SectionSpec:
    part_path: KeyPath = (*path, "branches", branch, "parts", place)
    part = get_path(walk.case, part_path)
    ends = walk.case.ends_of(get_path(walk.case, part_path[:4]))
    across = walk.case.pair.is_joined_by(ends)
    where = f"branch {branch + 1}, across the pair" if across else f"branch {branch + 1}, {ends[0]} to {ends[1]}"
    return SectionSpec(
        title=title_of(part.kind),
        note=where if place == 0 else "in series",
        fields=tuple(walk.fields(part_path)),
        actions=((f"add-part:{branch}", "Add in series"), (f"remove-part:{branch}:{place}", "Remove")),
    )


def _coupling_form(walk: Walk, index: int) -> FormSpec:
    coupling = walk.case.couplings[index]
    path: KeyPath = ("couplings", index)
    parts = tuple(
        SectionSpec(
            title=title_of(part.kind),
            fields=tuple(walk.fields((*path, "parts", place))),
            actions=_from_geometry(walk.case, (*path, "parts", place)),
        )
        for place, part in enumerate(coupling.parts)
    )
    first = SectionSpec(
        title="Coupling",
        fields=tuple(walk.fields(path, only=("name", "between"))),
        actions=(_switch(walk), (f"remove-subject:coupling:{index}", "Remove")),
    )
    return FormSpec(
        title=coupling.name,
        subtitle=f"always there, {coupling.between[0]} to {coupling.between[1]}",
        sections=(first, *parts),
        caution=" ".join(cautions(walk.case)),
    )


def _plain_form(walk: Walk, kind: str, index: int) -> FormSpec:
    path: KeyPath = (f"{kind}s", index)
    subject = get_path(walk.case, path)
    title = getattr(subject, "name", None) or question(subject)
    what = kind if kind == "requirement" else title_of(getattr(subject, "kind", kind))
    section = SectionSpec(
        title=what.capitalize(),
        fields=tuple(walk.fields(path)),
        actions=(_switch(walk), (f"remove-subject:{kind}:{index}", "Remove")),
    )
    return FormSpec(
        title=title,
        subtitle=what.lower(),
        sections=(section, *_unmeasured(walk.case, path)),
        caution=" ".join(cautions(walk.case)),
    )


def _unmeasured(case: Case, path: KeyPath) -> Iterator[SectionSpec]:
    """Yield where a transformer's values come from when nobody measured them."""
    for action, _ in _from_geometry(case, path):
        yield SectionSpec(
            title="Values",
            note="Not measured? Both follow from how it is wound.",
            actions=((f"wound-as:{path[1]}", "Catalogue…"), (action, "Geometry…")),
        )


def _from_geometry(case: Case, path: KeyPath) -> tuple[tuple[str, str], ...]:
    """Return the action that works out what stands at a place, where a value there can be."""
    if not any(each.path[: len(path)] == path for each in targets(case)):
        return ()
    return ((":".join(("work-out", *map(str, path))), "From geometry…"),)


def _region_section(name: str, number: int) -> SectionSpec:
    field = FieldSpec(path=("pair", "others", number), label="Name", text=name, help="name of a further region")
    return SectionSpec(
        title="Further region", fields=(field,), actions=((f"remove-region:{number}", "Remove with all that joins it"),)
    )


def _mains_section(every: Walk) -> SectionSpec:
    if every.case.mains is None:
        return SectionSpec(title="Mains", note="No mains feed the regions.", actions=(("add-mains", "Add mains"),))
    return SectionSpec(
        title="Mains", fields=tuple(every.fields(("mains",))), actions=(("remove-mains", "Remove mains"),)
    )


def _case_form(walk: Walk) -> FormSpec:
    case = walk.case
    every = Walk(case=case, everything=True)
    sections = [
        SectionSpec(title="Case", fields=tuple(every.fields((), only=("title", "notes", "bead_bias")))),
        SectionSpec(
            title="Regions",
            fields=tuple(every.fields(("pair",), only=("a", "b"))),
            actions=(("add-region", "Add region"),),
        ),
        *(_region_section(name, number) for number, name in enumerate(case.pair.others)),
        _mains_section(every),
        SectionSpec(title="Sweep", fields=tuple(every.fields(("sweep",)))),
    ]
    return FormSpec(
        title=case.title, subtitle="the case itself", sections=tuple(sections), caution=" ".join(cautions(case))
    )
