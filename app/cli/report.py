"""`isthmus report`: cases as documents for a design review."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from app.cli.cases import Given, cases_argument, given, many
from app.cli.output import interrupts_held, say
from models.toml_text import read_text

_SECTIONS = (
    "drawing",
    "impedance",
    "common-mode",
    "conducted",
    "radiated",
    "touch-current",
    "separation",
    "sizing",
    "tolerance",
    "case",
)
_FORMATS = ("pdf", "html")
_PAPERS = ("a4", "letter")


@click.command(short_help="Write a report on cases, as PDF or HTML.")
@cases_argument
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The file, .pdf or .html; of several, a folder.")
@click.option("--format", "form", type=click.Choice(_FORMATS), help="By default what the ending says, else pdf.")
@click.option("--title", help="In place of the title of the case.")
@click.option("--by", "author", default="", metavar="TEXT", help="Who answers for it; stands under the title.")
@click.option("--notes", default="", help="Text of your own for the first page.")
@click.option("--paper", type=click.Choice(_PAPERS), default="a4", help="Size of the pages of a PDF; a4 by default.")
@click.option(
    "--only", multiple=True, type=click.Choice(_SECTIONS), help="Of the sections only this; several times for several."
)
@click.option(
    "--without", multiple=True, type=click.Choice(_SECTIONS), help="Leave this section out; several times for several."
)
def report(
    *,
    cases: tuple[Path, ...],
    output: Path | None,
    form: str | None,
    title: str | None,
    author: str,
    notes: str,
    paper: str,
    only: tuple[str, ...],
    without: tuple[str, ...],
) -> None:
    """Write a report on CASES, files or folders: the answer on one page, then what it rests on.

    An estimate for design, not a certification. Nothing opens; no display is needed.
    """
    found = given(cases)
    sections = tuple(name for name in only or _SECTIONS if name not in without)
    for each, path in tuple(_targets(found, output, form, several=many(cases))):
        _write(each, path, title=title, author=author, notes=notes, sections=sections, paper=paper)
        say(str(path))


def _targets(
    found: tuple[Given, ...], output: Path | None, form: str | None, *, several: bool
) -> Iterator[tuple[Given, Path]]:
    """Yield each case with the file of its report, beside the case where nothing else is said."""
    ending = f".{form or 'pdf'}"
    folder = several or output is None or output.is_dir()
    if not folder:
        assert output is not None
        if not output.parent.is_dir():
            accepted = "a file in a folder that is there"
            raise click.BadParameter(f"found no folder {output.parent}; accepted: {accepted}", param_hint="-o")
        if form is not None and output.suffix.lower() not in ("", ending):
            accepted = f"a name that ends in {ending}"
            raise click.BadParameter(f"found {output.name} for {form}; accepted: {accepted}", param_hint="-o")
        yield found[0], output if output.suffix else output.with_suffix(ending)
        return
    if output is not None and output.exists() and not output.is_dir():
        raise click.BadParameter(f"found the file {output}; accepted: a folder, for several reports", param_hint="-o")
    if output is not None:
        output.mkdir(parents=True, exist_ok=True)
    taken: set[Path] = set()
    for each in found:
        path = (output or each.path.parent) / f"{each.path.stem}{ending}"
        if path in taken:
            accepted = "cases of different names, or one command for each"
            raise click.BadParameter(f"found two cases for {path}; accepted: {accepted}", param_hint="CASES")
        taken.add(path)
        yield each, path


def _write(each: Given, path: Path, **wishes: Any) -> None:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with interrupts_held():
        from app.qt.start import application

        application()
    from app.report.options import Options
    from app.report.write import write_report

    write_report(each.case, path, Options(case_text=read_text(each.path), **wishes))
