"""The door to reports: a case in, a file out."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from attrs import frozen

from app.report.options import ENDINGS, Options, ReportError
from models.case.document import Case


@frozen(kw_only=True)
class ReportRequest:
    """A report to be written, as a worker is given it."""

    case: Case
    path: Path
    options: Options


def run_report(request: ReportRequest, tell: Callable[[str], None]) -> Path:
    """Write the report that is asked for and return its file; whoever listens may raise, and nothing is written."""
    write_report(request.case, request.path, request.options, tell)
    return request.path


def _quiet(_text: str) -> None:
    """Tell nobody."""


def write_report(case: Case, path: Path, options: Options | None = None, tell: Callable[[str], None] = _quiet) -> None:
    """Write the report on a case as its file's ending says: .pdf or .html.

    Parameters
    ----------
    case : checked
    path : the file; it is the old one until the new one is whole
    options : what is wanted; by default everything
    tell : is told what is worked on

    Raises
    ------
    ReportError
        for another ending, or a file that cannot be written
    """
    content = report_bytes(case, path.suffix, options or Options(), tell)
    tell("Writing …")
    fresh = path.with_name(f".{path.name}.new")
    try:
        fresh.write_bytes(content)
        fresh.replace(path)
    except OSError as error:
        raise ReportError(f"{path}: found {error.strerror}; accepted: a file that can be written") from None
    finally:
        with suppress(OSError):
            fresh.unlink()


def report_bytes(case: Case, ending: str, options: Options, tell: Callable[[str], None] = _quiet) -> bytes:
    """Return the report on a case as the bytes of a file that ends so.

    Raises
    ------
    ReportError
        for an ending that is none of a report
    """
    if ending.lower() not in ENDINGS:
        raise ReportError(f'report: found the ending "{ending}"; accepted: {" or ".join(ENDINGS)}')
    from app.qt.start import application
    from app.report.content import document
    from app.report.figures import text_width
    from app.report.html import html
    from app.report.pdf import pdf

    application()
    from PySide6.QtCore import QEventLoop

    # beside the window, a thread has no timers of its own, which the layout of a text wants
    loop = QEventLoop()
    content = document(case, options, text_width(), tell)
    tell("Pages …")
    found = pdf(content) if ending.lower() == ".pdf" else html(content).encode()
    del loop
    return found
