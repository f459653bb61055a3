"""`isthmus evaluate`: the answers of a case, as a table for people or as JSON for scripts."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click
from attrs import evolve

from app.cli.arguments import Frequencies, case_argument
from models.case.document import Case
from models.case.read import load_case


@click.command()
@case_argument
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
@click.option("--at", type=Frequencies(), help="Frequencies such as 1kHz,1MHz,100MHz; by default the whole sweep.")
@click.option("--candidate", "name", help="Only the candidate of this name.")
def evaluate(case: Path, as_json: bool, at: tuple[float, ...] | None, name: str | None) -> None:
    """Print what comes of CASE: impedance, common-mode voltage, touch current, verdicts."""
    document = _only(load_case(case), name)
    for warning in document.warnings():
        print(f"isthmus: {case.name}: {warning}", file=sys.stderr)
    if as_json:
        from app.present.as_json import evaluation_json

        print(json.dumps(evaluation_json(document, at), ensure_ascii=False, allow_nan=False))
    else:
        from app.cli.answers_table import print_answers

        print_answers(document, at)


def _only(case: Case, name: str | None) -> Case:
    if name is None:
        return case
    chosen = tuple(each for each in case.candidates if each.name == name)
    if not chosen:
        known = ", ".join(f'"{each.name}"' for each in case.candidates) or "none; the case has no candidate"
        raise click.BadParameter(f'found "{name}"; accepted: {known}', param_hint="--candidate")
    return evolve(case, candidates=chosen)
