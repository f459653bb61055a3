"""The first page: purpose, candidates, verdicts, recommendation, cautions. Who reads no further has the answer."""

from __future__ import annotations

from collections.abc import Iterator

from app.present.answers import answers_table, cautions, question
from app.present.section_parts import part_class, part_name, part_value
from app.present.specs import CellSpec
from app.report.blocks import Block, Bullets, Cell, Grid, Heading, Paragraph, Section, side_by_side
from app.report.matter import Matter
from models.case.document import Branch, Candidate, Case
from models.declare import get_path, keys_of
from models.parts.measured import Measured
from models.parts.part import Part
from models.quantity import format_quantity

_LONG_NOTES = 1500
"""Characters beyond which the notes of a case stand behind the verdicts, which belong on the first page."""


def first_page(matter: Matter) -> Section:
    """Return the answer."""
    return Section(key="answer", title="Answer", blocks=tuple(_blocks(matter)))


def _blocks(matter: Matter) -> Iterator[Block]:
    for number, text in enumerate(matter.recommendation.sentences):
        yield Paragraph(text=text, role="lead" if number == 0 else "body")
    yield from (Paragraph(text=text, role="caution") for text in _cautions(matter))
    told = matter.case.notes or ""
    long = len(told) > _LONG_NOTES
    yield Heading(text="Purpose")
    if not long:
        yield from _texts(told)
    if matter.case.requirements:
        yield Bullets(items=tuple(_purpose(matter.case)))
    else:
        yield Paragraph(text="The case states no requirement.")
    if matter.case.candidates:
        yield Heading(text="Verdicts")
        yield from side_by_side(_verdicts(matter))
        yield Heading(text="Candidates")
        yield _candidates(matter.case)
    if matter.options.notes:
        yield Heading(text="Notes")
        yield from _texts(matter.options.notes)
    if long:
        yield Heading(text="Notes of the case")
        yield from _texts(told)


def _texts(text: str) -> Iterator[Block]:
    """Yield the paragraphs of a text, each on one line."""
    return (Paragraph(text=" ".join(each.split())) for each in text.split("\n\n") if each.strip())


def _cautions(matter: Matter) -> tuple[str, ...]:
    return (" ".join(cautions(matter.case)), *(f"{text}." for text in matter.case.warnings()))


def _purpose(case: Case) -> Iterator[str]:
    for each in case.requirements:
        yield question(each) + (f": {each.note}" if each.note else "")


def _verdicts(matter: Matter) -> Grid:
    spec = answers_table(matter.results, matter.shown)
    return Grid(
        caption="What is asked for, and what each candidate comes to; in the worst case where it says so.",
        head=("", *(name for name, _ in spec.columns)),
        rows=tuple((Cell(text=name), *map(_cell, cells)) for name, cells in spec.rows),
    )


def _cell(cell: CellSpec) -> Cell:
    return Cell(text=cell.text, outcome=cell.outcome, strong=cell.worst)


def _candidates(case: Case) -> Grid:
    return Grid(
        caption="The ways of joining the regions that were compared.",
        head=("Candidate", "Made of"),
        rows=tuple((Cell(text=each.name), Cell(text=_made_of(case, each))) for each in case.candidates),
        wide=True,
    )


def _made_of(case: Case, candidate: Candidate) -> str:
    made = "; in parallel: ".join(_branch_text(case, branch) for branch in candidate.branches) or "nothing: open"
    return f"{made}. {candidate.note}" if candidate.note else made


def _branch_text(case: Case, branch: Branch) -> str:
    parts = " + ".join(_part_text(part) for part in branch.parts)
    return parts if case.is_across(branch) else f"{parts} ({' to '.join(case.ends_of(branch))})"


def _part_text(part: Part) -> str:
    what = part.file if isinstance(part, Measured) else part_value(part)
    sides = _sides(part)
    if what in sides.values():
        # one side alone does not say what a piece of copper is
        what = ", ".join(f"{name} {side}" for name, side in sides.items())
    return f"{part_name(part).lower()} {what}{part_class(part)}"


def _sides(part: Part) -> dict[str, str]:
    """Return the lengths that a part is given by, by their names."""
    lengths = {name: key for name, key in keys_of(type(part)).items() if key.unit == "m"}
    known = ((name, get_path(part, key.path)) for name, key in lengths.items())
    return {name.replace("_", " "): format_quantity(value, "m") for name, value in known if value}
