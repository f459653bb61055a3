"""What a person can choose of a report."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from attrs import frozen

from models.errors import IsthmusError

SECTIONS: Mapping[str, str] = MappingProxyType(
    {
        "drawing": "Where the current returns",
        "impedance": "Impedance between the regions",
        "common-mode": "Common-mode voltage",
        "conducted": "Conducted noise",
        "radiated": "Radiated field",
        "touch-current": "Touch current",
        "separation": "Separation and insulation",
        "sizing": "Size of the capacitor",
        "tolerance": "What survives the tolerances",
        "case": "The whole case",
    }
)
"""Every section after the first page, by its name; the first page is always there."""
ENDINGS = (".pdf", ".html")
PAPERS: Mapping[str, str] = MappingProxyType({"a4": "A4", "letter": "Letter"})
"""Sizes of paper, by the names that the command line knows them by."""


class ReportError(IsthmusError):
    """A report that cannot be written."""


@frozen(kw_only=True)
class Options:
    """How a report is to be.

    Attributes
    ----------
    title : in place of that of the case
    author : who answers for the report
    notes : of the writer, below the answer; empty lines part paragraphs
    sections : names of `SECTIONS` that are wanted; a section that the case has nothing for is left out anyway
    date : that stands in it; None for today
    case_text : the case as its file has it, comments included; None for the case written anew
    paper : a name of `PAPERS`; what a printed HTML page stands on, its reader chooses
    """

    title: str | None = None
    author: str = ""
    notes: str = ""
    sections: tuple[str, ...] = tuple(SECTIONS)
    date: date | None = None
    case_text: str | None = None
    paper: str = "a4"

    def __attrs_post_init__(self) -> None:
        """Refuse a section, or a paper, that there is not."""
        if self.paper not in PAPERS:
            raise ReportError(f'paper: found "{self.paper}"; accepted: {", ".join(PAPERS)}')
        for name in self.sections:
            if name not in SECTIONS:
                raise ReportError(f'sections: found "{name}"; accepted: {", ".join(SECTIONS)}')
