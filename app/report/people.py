"""What concerns people: touch current, separation, insulation."""

from __future__ import annotations

from collections.abc import Iterator

from app.present.numbers import reading
from app.report.blocks import Block, Cell, Grid, Paragraph
from app.report.matter import Matter
from app.report.working import working
from models.decide.verdict import SAFETY_CAUTION
from models.outcomes.touch import TouchCurrent
from models.quantity import format_quantity


def touch_current(matter: Matter) -> Iterator[Block]:
    """Yield the current through a person who touches the box."""
    mains = matter.case.mains
    if mains is None or not matter.case.candidates:
        return
    voltage = format_quantity(mains.voltage_v, "V")
    yield Paragraph(
        text=f"The mains, {voltage} at {format_quantity(mains.frequency_hz, 'Hz')} within "
        f"{format_quantity(mains.tolerance, '')}, feed {mains.feeds}; a person touches {mains.touched}. The body "
        "stands to earth as in IEC 60990. Worst: mains at the upper end, and every capacitor at its own."
    )
    rows = [(each.name, each.touch) for each in matter.results.evaluation.outcomes if each.touch is not None]
    yield Grid(
        caption="Touch current, rms.",
        head=("Candidate", "Unweighted", "Weighted", "Worst unweighted", "Worst weighted"),
        rows=tuple((Cell(text=name), *_cells(touch)) for name, touch in rows),
    )
    yield from working(matter, "touch-current")
    if not any(each.kind == "touch-current" for each in matter.case.requirements):
        yield Paragraph(text=SAFETY_CAUTION, role="caution")


def _cells(touch: TouchCurrent) -> tuple[Cell, ...]:
    values = (touch.unweighted_a, touch.weighted_a, touch.worst_unweighted_a, touch.worst_weighted_a)
    return tuple(Cell(text=reading(value, "A")) for value in values)


def separation(matter: Matter) -> Iterator[Block]:
    """Yield the verdicts on direct current, separation, withstand voltage and static charge."""
    yield from working(matter, "blocks-dc", "separation", "withstand", "static-bleed")
