"""`isthmus check`: the verdicts of a case, and an exit status that a build can act on."""

from __future__ import annotations

import sys
from pathlib import Path

import click
from rich.console import Console
from rich.markup import escape

from app.cli.arguments import case_argument
from models.case.document import Case
from models.case.read import load_case
from models.decide.verdict import Verdict, judge
from models.outcomes.evaluation import Evaluator, Outcome

_SIGNS = {"pass": "[green]pass[/]", "fail": "[red]FAIL[/]", "not-applicable": "[dim]n/a [/]"}


@click.command()
@case_argument
@click.option("--candidate", "name", help="Only the candidate of this name.")
def check(case: Path, name: str | None) -> int:
    """Print the verdicts of CASE. Exit 1 where a candidate does not meet a requirement."""
    document = load_case(case)
    for warning in document.warnings():
        print(f"isthmus: {case.name}: {warning}", file=sys.stderr)
    evaluator = Evaluator()
    chosen = [each for each in evaluator.evaluate(document).outcomes if name in (None, each.name)]
    if name is not None and not chosen:
        known = ", ".join(f'"{each.name}"' for each in document.candidates) or "none; the case has no candidate"
        raise click.BadParameter(f'found "{name}"; accepted: {known}', param_hint="--candidate")
    verdicts = [(outcome, judge(evaluator, document, outcome)) for outcome in chosen]
    _print(document, verdicts)
    return int(any(each.outcome == "fail" for _, found in verdicts for each in found))


def _print(case: Case, verdicts: list[tuple[Outcome, tuple[Verdict, ...]]]) -> None:
    from app.present.answers import cautions, question

    console = Console(highlight=False, soft_wrap=True)
    if not case.requirements:
        console.print("The case states no requirement: nothing to check.")
    if not verdicts:
        console.print("The case has no candidate: nothing to check.")
    for outcome, found in verdicts:
        console.print(f"[bold]{escape(outcome.name)}[/]")
        for requirement, verdict in zip(case.requirements, found, strict=True):
            margin = "" if verdict.margin_db is None else f" ({verdict.margin_db:+.1f} dB)"
            text = escape(f"{question(requirement)}{margin}: {verdict.why}")
            console.print(f"  {_SIGNS[verdict.outcome]}  {text}")
    for line in cautions(case):
        console.print(line, style="dim")
