"""`isthmus check`: the verdicts of a case, and an exit status that a build can act on."""

from __future__ import annotations

from pathlib import Path

import click
from rich.markup import escape

from app.cli.cases import candidate_named, cases_argument, given, many
from app.cli.output import reader_may_leave
from app.cli.screen import Screen
from models.case.document import Case
from models.decide.judges import judge
from models.decide.verdict import Verdict
from models.outcomes.evaluation import Evaluator, Outcome

_SIGNS = {"pass": "[green]pass[/]", "fail": "[red]FAIL[/]", "not-applicable": "[dim]n/a [/]"}


@click.command()
@cases_argument
@click.option("--candidate", "name", help="Only the candidate of this name.")
def check(cases: tuple[Path, ...], name: str | None) -> int:
    """Print the verdicts of CASES, files or folders. Exit 1 where a candidate does not meet a requirement."""
    failed = False
    for place, each in enumerate(given(cases)):
        verdicts = _verdicts(each.case, name)
        with reader_may_leave():
            if many(cases):
                print(f"{'' if place == 0 else chr(10)}{each.path}")
            _print(each.case, verdicts)
        failed = failed or any(verdict.outcome == "fail" for _, found in verdicts for verdict in found)
    return int(failed)


def _verdicts(case: Case, name: str | None) -> list[tuple[Outcome, tuple[Verdict, ...]]]:
    if name is not None:
        candidate_named(case, name)
    evaluator = Evaluator()
    chosen = [each for each in evaluator.evaluate(case).outcomes if name in (None, each.name)]
    return [(outcome, judge(evaluator, case, outcome)) for outcome in chosen]


def _print(case: Case, verdicts: list[tuple[Outcome, tuple[Verdict, ...]]]) -> None:
    from app.present.answers import cautions, question

    console = Screen(highlight=False, soft_wrap=True)
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
