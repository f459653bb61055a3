"""The content of a report: which sections it has, in which order. No Qt, no HTML."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from types import MappingProxyType

from app.present.origin import produced_by
from app.present.section_specs import Measure
from app.report.appendix import whole_case
from app.report.blocks import Block, Document, Section
from app.report.choice import sizing, tolerance
from app.report.currents import drawings
from app.report.first_page import first_page
from app.report.matter import Matter
from app.report.options import SECTIONS, Options
from app.report.people import separation, touch_current
from app.report.plots import common_mode, conducted, impedance, radiated
from models.case.document import Case

_WRITERS: Mapping[str, Callable[[Matter], Iterator[Block]]] = MappingProxyType(
    {
        "drawing": drawings,
        "impedance": impedance,
        "common-mode": common_mode,
        "conducted": conducted,
        "radiated": radiated,
        "touch-current": touch_current,
        "separation": separation,
        "sizing": sizing,
        "tolerance": tolerance,
        "case": whole_case,
    }
)


def document(
    case: Case, options: Options, measure: Measure, tell: Callable[[str], None] = lambda _text: None
) -> Document:
    """Return the report on a case; a section that the case has nothing for is left out.

    Parameters
    ----------
    case : checked
    options : what is wanted
    measure : widths of texts on paper
    tell : is told what is worked on, before each section
    """
    tell("Verdicts …")
    matter = Matter(case=case, options=options, measure=measure)
    day = (options.date or date.today()).isoformat()
    return Document(
        title=options.title or case.title,
        ends=case.pair.ends,
        author=options.author.strip(),
        origin=produced_by(case),
        date=day,
        paper=options.paper,
        sections=(first_page(matter), *_sections(matter, tell)),
    )


def _sections(matter: Matter, tell: Callable[[str], None]) -> Iterator[Section]:
    for key, title in SECTIONS.items():
        if key in matter.options.sections:
            tell(f"{title} …")
            blocks = tuple(_WRITERS[key](matter))
            if blocks:
                yield Section(key=key, title=title, blocks=blocks)
