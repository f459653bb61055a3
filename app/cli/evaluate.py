"""`isthmus evaluate`: the answers of cases, as tables for people or as JSON for scripts."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from app.cli.arguments import Frequencies
from app.cli.cases import Given, cases_argument, given, many, only
from app.cli.output import json_text
from models.case.document import Case


@click.command(short_help="Print impedance, common mode, touch current and verdicts.")
@cases_argument
@click.option("--json", "as_json", is_flag=True, help='Print one JSON object; of several cases {"cases": [...]}.')
@click.option("--at", type=Frequencies(), help="Frequencies such as 0,1kHz,1MHz, 0 being DC; by default the sweep.")
@click.option("--candidate", "name", help="Only the candidate of this name.")
@click.option("--with", "extra", multiple=True, type=click.Choice(["events"]), help="Tell this too, with --json.")
def evaluate(
    *,
    cases: tuple[Path, ...],
    as_json: bool,
    at: tuple[float, ...] | None,
    name: str | None,
    extra: tuple[str, ...],
) -> None:
    """Print what comes of CASES, files or folders: impedance, common-mode voltage, touch current, verdicts.

    The JSON object tells what is asked for as "purpose", and the candidate to take, or the closest, with the reason as
    "recommendation"; of one candidate alone it is that one. Per candidate it tells, besides the above: "paths", where
    1 A into the second region and out of the first flows at the frequencies of --at; "events", only --with events, what
    a discharge, a burst and a surge of 4 kV into the second region come to: peak, ratings, the charge that is left and
    the time to bleed to 1 % (null: it stays); "load", the direct current through every branch and the drop;
    "beads", the bias that each bead is computed with, where it comes from and what it leaves of the inductance, beside
    what the load current would leave; "cables", "conducted" and "radiated", the current in every cable and what it
    emits. Of a spectrum of more than 2000 lines these three tell the strongest line in each of 2000 bands of equal
    ratio, and how many there are in all; the common-mode voltage is told whole. Branches and parts count from 0.
    """
    if extra and not as_json:
        raise click.BadParameter(f"found {extra[0]} without --json; accepted: both together", param_hint="--with")
    found = [Given(path=each.path, case=only(each.case, name)) for each in given(cases)]
    if as_json:
        _print_json(found, at, extra, several=many(cases))
    else:
        _print_tables(found, at, several=many(cases))


def _print_json(found: list[Given], at: tuple[float, ...] | None, extra: tuple[str, ...], *, several: bool) -> None:
    """Print one case as the contract's object, several one after the other so that none waits for the last."""
    if not several:
        sys.stdout.writelines(_object(found[0].case, at, extra, {}))
        print()
        return
    print('{"cases": [')
    for place, each in enumerate(found, start=1):
        sys.stdout.writelines(_object(each.case, at, extra, {"file": str(each.path)}))
        print("," if place < len(found) else "", flush=True)
    print("]}")


def _object(case: Case, at: tuple[float, ...] | None, extra: tuple[str, ...], first: dict[str, Any]) -> Iterator[str]:
    """Yield the text of the contract's object piece by piece, the candidates last."""
    from app.present.as_json import evaluation_json

    head, candidates = evaluation_json(case, at, extra)
    yield f'{json_text(first | head)[:-1]}, "candidates": ['
    for place, each in enumerate(candidates):
        yield f"{', ' if place else ''}{json_text(each)}"
    yield "]}"


def _print_tables(found: list[Given], at: tuple[float, ...] | None, *, several: bool) -> None:
    from app.cli.answers_table import print_answers

    for place, each in enumerate(found):
        if several:
            print(f"{'' if place == 0 else chr(10)}{each.path}\n")
        print_answers(each.case, at)
