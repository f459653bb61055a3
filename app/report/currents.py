"""The section drawing at the frequency where the noise starts and far above."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from app.present.section import Drafter
from app.report.blocks import Block, Figure, Paragraph
from app.report.matter import Matter
from models.quantity import format_quantity

WIDTH = 680.0
DRAWN_WIDTH = 740.0
"""The width that a drawing is laid out in before it is made as small as the page: paper shows names in full at once."""


def drawings(matter: Matter) -> Iterator[Block]:
    """Yield the drawing of the shown candidate at every frequency of interest."""
    case = matter.case
    if not case.candidates:
        return
    name = case.candidates[matter.shown].name
    yield Paragraph(
        text=f"The board from the side with “{name}”. A test current enters {case.pair.b} and leaves {case.pair.a}; "
        "the width of each path is its share of it. What does not take the bridge runs where nobody wants it."
    )
    drafter = Drafter(measure=matter.measure)
    for f_hz in matter.frequencies_hz:
        view = evolve(matter.view, cursor_hz=f_hz, subject=("none", -1))
        height = drafter.height(case, view, DRAWN_WIDTH)
        spec = drafter.draw(case, matter.desk.readings(case, f_hz), view, (DRAWN_WIDTH, height))
        at = format_quantity(f_hz, "Hz", digits=3)
        yield Figure(
            spec=spec,
            height=spec.height * WIDTH / DRAWN_WIDTH,
            alt=f"Section of the board at {at}: {spec.summary}",
            caption=f"At {at}.",
        )
