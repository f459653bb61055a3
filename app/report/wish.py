"""What a person wished of the last report, and what stands against a file that one is to be written to."""

from __future__ import annotations

import os
from pathlib import Path

from attrs import frozen

from app.report.options import ENDINGS, SECTIONS, Options
from app.state.files import plain_name


@frozen(kw_only=True)
class Wish:
    """A report as the dialog holds it: texts as they are typed."""

    file: str = ""
    title: str = ""
    author: str = ""
    notes: str = ""
    sections: tuple[str, ...] = tuple(SECTIONS)
    paper: str = "a4"

    def options(self, case_text: str) -> Options:
        """Return what the writer of reports is given."""
        return Options(
            title=self.title.strip() or None,
            author=self.author,
            notes=self.notes,
            sections=self.sections,
            case_text=case_text,
            paper=self.paper,
        )


def usual_file(folder: Path, name: str) -> Path:
    """Return a free-standing file name for the report on a case."""
    return folder / f"{plain_name(name, 'report')}.pdf"


def fault(file: str) -> str:
    """Return why no report can be written to a file; empty where one can."""
    path = Path(file.strip()).expanduser()
    if not file.strip():
        return "Found no file; accepted: a name that ends in .pdf or .html."
    if path.suffix.lower() not in ENDINGS:
        return f"Found the ending “{path.suffix}”; accepted: {' or '.join(ENDINGS)}."
    if not path.parent.is_dir():
        return f"Found no folder “{path.parent}”; accepted: one that is there."
    if path.is_dir():
        return "Found a folder of this name; accepted: a file."
    if not os.access(path if path.exists() else path.parent, os.W_OK):
        return f"Nothing can be written to “{path if path.exists() else path.parent}”; choose another place."
    return ""


def form_of(file: str) -> str:
    """Return what a file of this name comes to be, as a note beside its field."""
    path = Path(file.strip()).expanduser()
    form = {".pdf": "PDF", ".html": "One HTML file, pictures inside"}.get(path.suffix.lower(), "")
    return f"{form}; takes the place of the file that is there." if form and path.is_file() else f"{form}."
