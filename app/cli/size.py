"""`isthmus size`: the window of a Y-capacitor between the least that works and the most that is allowed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from app.cli.arguments import case_argument
from app.cli.cases import the_case
from app.cli.output import print_json
from app.present.lead_words import lead_words
from models.case.document import Case
from models.decide.sizing import Sizing, size
from models.decide.template import Template, template_of


@click.command(name="size", short_help="Size a Y-capacitor: least, most, standard values between.")
@case_argument
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
@click.option("--candidate", "name", help="Size the capacitor of this candidate, its other branches kept.")
@click.option(
    "--series", type=click.Choice(["3", "6", "12", "24"]), default="6", help="E series of the values; 6 by default."
)
def size_command(case: Path, as_json: bool, name: str | None, series: str) -> None:
    """Size a Y-capacitor across the pair of CASE: least, most, and the standard values between."""
    document = the_case(case)
    sizing = size(document, template=_template(document, name), series=int(series))
    if as_json:
        print_json(_plain(sizing))
    else:
        print("\n".join(_lines(sizing)))


def _template(case: Case, name: str | None) -> Template:
    try:
        return template_of(case, name)
    except ValueError as error:
        accepted = ", ".join(f'"{each.name}"' for each in case.candidates) or "none; the case has no candidate"
        raise click.BadParameter(f"{error}; candidates: {accepted}", param_hint="--candidate") from None


def _plain(sizing: Sizing) -> dict[str, Any]:
    return {
        "least_f": sizing.least_f,
        "most_f": sizing.most_f,
        "standard_values_f": list(sizing.standard_values_f),
        "interwinding_f": sizing.interwinding_f,
        "why": sizing.why,
        "least_ratio": sizing.least_ratio,
        "most_ratio": sizing.most_ratio,
        "assumed": list(sizing.assumed),
        "openings": [
            {"change": each.change, "now": each.now, "needed": each.needed, "unit": each.unit, "text": each.text}
            for each in sizing.openings
        ],
        "caution": sizing.caution,
    }


def _lines(sizing: Sizing) -> list[str]:
    lines = [sizing.why, *sizing.assumed]
    if sizing.openings:
        lines += ["", "What would open the window:", *(f"  {each.text}" for each in sizing.openings)]
    if sizing.resonance is not None:
        lines += ["", *lead_words(sizing.resonance)]
    return [*lines, "", sizing.caution]
