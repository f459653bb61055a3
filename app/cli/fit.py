"""`isthmus fit`: measured data turned into a part of a case file."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import click

from app.cli.arguments import Quantity
from app.cli.output import print_json, say
from models.fitting.as_part import confidence_table, fitted_part, part_table
from models.fitting.checks import guess_kind
from models.fitting.connection import CONNECTIONS
from models.fitting.fit import KINDS, fit_part
from models.fitting.load import load_measurement
from models.fitting.result import FitResult
from models.quantity import format_quantity


@click.command(short_help="Fit a part to measured data: Touchstone or a table.")
@click.argument("data", type=click.Path(path_type=Path))
@click.option("--kind", type=click.Choice(KINDS), help="What the part is; without it, what the data looks like.")
@click.option(
    "--connection",
    type=click.Choice(CONNECTIONS),
    help="How the part was connected, for Touchstone; without it, one-port.",
)
@click.option("--from", "from_hz", type=Quantity("Hz"), help="Leave out what lies below, such as 1MHz.")
@click.option("--to", "to_hz", type=Quantity("Hz"), help="Leave out what lies above.")
@click.option(
    "--rdc", "rdc_ohm", type=Quantity("ohm"), help="DC resistance of a bead, where it is known from elsewhere."
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
def fit(
    *,
    data: Path,
    kind: str | None,
    connection: str | None,
    from_hz: float | None,
    to_hz: float | None,
    rdc_ohm: float | None,
    as_json: bool,
) -> None:
    """Fit a part to DATA: Touchstone, or a table of frequency with |Z|, phase, R, X, C and their like."""
    measurement = load_measurement(data, connection).within(from_hz, to_hz)
    chosen = kind or guess_kind(measurement)
    if rdc_ohm is not None and chosen != "bead":
        raise click.BadParameter(f"found it for {_article(chosen)}; accepted: for a bead alone", param_hint="--rdc")
    result = fit_part(measurement, chosen, rdc_ohm=rdc_ohm)
    fitted_part(result)
    guessed = () if kind else (f"no kind was given: the data looks like {_article(chosen)}",)
    warnings = (*guessed, *result.warnings)
    if as_json:
        print_json(_plain(result, warnings, measurement.f_hz.size))
    else:
        _print(result, warnings, measurement.f_hz.size)


def _article(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def _plain(result: FitResult, warnings: tuple[str, ...], points: int) -> dict[str, Any]:
    return {
        "part": part_table(result),
        "rms_error_db": result.rms_error_db,
        "rms_error_deg": result.rms_error_deg,
        "range_hz": list(result.range_hz),
        "warnings": list(warnings),
        "points": points,
        "cells": result.cells,
        "confidence_95": {
            name: [low, high if math.isfinite(high) else None] for name, (low, high) in confidence_table(result).items()
        },
    }


def _print(result: FitResult, warnings: tuple[str, ...], points: int) -> None:
    """Print the part alone on standard output, so that it can be piped; what to know about it beside it."""
    from models.case.write import part_text
    from models.catalogue.codec import PartKinds

    print(part_text(PartKinds().write(fitted_part(result))))
    low, high = (format_quantity(f_hz, "Hz", digits=3) for f_hz in result.range_hz)
    phase = f" and {result.rms_error_deg:.2g}°" if result.rms_error_deg else ""
    print(
        f"# holds from {low} to {high} ({points} points), rms error {result.rms_error_db:.2g} dB{phase}; "
        "outside it is the circuit's own continuation"
    )
    for warning in warnings:
        say(warning)
