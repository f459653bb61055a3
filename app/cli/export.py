"""`isthmus export`: results for other programs, as CSV, Touchstone, or a small case."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeVar

import click
from attrs import evolve, frozen

from app.cli.arguments import case_argument
from app.cli.cases import only, the_case
from app.cli.output import say
from app.present.origin import produced_by
from app.state.files import write_whole

if TYPE_CHECKING:
    from models.arrays import Complex
    from models.case.document import Candidate, Case
    from models.sources.source import Source

Named = TypeVar("Named", "Candidate", "Source")
_TABLES = ("impedance", "transfer", "spectrum", "waveform", "conducted", "radiated")
_EQUIVALENT = "equivalent"
_FORMATS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "impedance": ("csv", "touchstone"),
        "transfer": ("csv", "touchstone"),
        "spectrum": ("csv",),
        "waveform": ("csv",),
        "conducted": ("csv",),
        "radiated": ("csv",),
        _EQUIVALENT: ("toml",),
    }
)
_ENDINGS = MappingProxyType({".csv": "csv", ".s1p": "touchstone", ".s2p": "touchstone", ".toml": "toml"})
_PORTS = MappingProxyType({"impedance": ".s1p", "transfer": ".s2p"})
"""The ending of a Touchstone file, which tells other programs how many ports it has."""


@frozen(kw_only=True)
class _Wanted:
    """What is to be exported."""

    case: Case
    what: str
    bridge: bool
    origin: str
    """The version of the program, and the whole case before anything was chosen of it."""


@click.command()
@case_argument
@click.option("--what", type=click.Choice((*_TABLES, _EQUIVALENT)), required=True, help="What is exported.")
@click.option(
    "--format", "wanted", type=click.Choice(("csv", "touchstone", "toml")), help="By default what the ending says."
)
@click.option("--candidate", "name", help="Only the candidate of this name.")
@click.option("--source", help="Only the source of this name.")
@click.option("--bridge", is_flag=True, help="Touchstone of the bridge alone, rather than of the pair in circuit.")
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The file; by default standard output.")
def export(
    *,
    case: Path,
    what: str,
    wanted: str | None,
    name: str | None,
    source: str | None,
    bridge: bool,
    output: Path | None,
) -> None:
    """Write results of CASE for other programs.

    Tables have one row a frequency or instant. An impedance as Touchstone is one port; a transfer function two, the
    source's terminals and the pair. The equivalent is a small case whose couplings stand for all that always stands.
    """
    form = _format(what, wanted, output)
    if bridge and (what, form) != ("impedance", "touchstone"):
        raise click.BadParameter(f"found {what} as {form}; accepted: impedance as touchstone", param_hint="--bridge")
    whole = the_case(case)
    chosen = _one_source(only(whole, name), source)
    _write(_WRITERS[form](_Wanted(case=chosen, what=what, bridge=bridge, origin=produced_by(whole))), output)


def _format(what: str, wanted: str | None, output: Path | None) -> str:
    possible = _FORMATS[what]
    ending = None if output is None else _ENDINGS.get(output.suffix.lower())
    form = wanted or ending or possible[0]
    if form not in possible:
        raise click.BadParameter(f"found {form} for {what}; accepted: {', '.join(possible)}", param_hint="--format")
    if ending == form == "touchstone" and output is not None and output.suffix.lower() != _PORTS[what]:
        raise click.BadParameter(f"found {output.suffix} for {what}; accepted: {_PORTS[what]}", param_hint="-o")
    return form


def _one_source(case: Case, name: str | None) -> Case:
    if name is None:
        return case
    kept = tuple(each for each in case.sources if each.name == name)
    if not kept:
        known = ", ".join(f'"{each.name}"' for each in case.sources) or "none; the case has no source"
        raise click.BadParameter(f'found "{name}"; accepted: {known}', param_hint="--source")
    return evolve(case, sources=kept)


def _tables(wanted: _Wanted) -> Iterator[str]:
    from app.exchange.tables import TABLES, csv_text
    from models.outcomes.evaluation import Evaluator

    evaluator = Evaluator()
    lines = csv_text(TABLES[wanted.what](evaluator, evaluator.evaluate(wanted.case)))
    yield next(lines)
    first = next(lines, "")
    if not first:
        say(f"{wanted.what}: the case has none, so the table has no rows")
    yield first
    yield from lines


def _touchstone(wanted: _Wanted) -> Iterator[str]:
    from models.fitting.export import touchstone_text

    case = wanted.case
    candidate = _the_one(case.candidates, "--candidate", "candidate")
    source = None if wanted.what == "impedance" else _the_one(case.sources, "--source", "source")
    name = candidate.name if source is None else f"{source.name}, {candidate.name}"
    yield touchstone_text(
        case.sweep.f_hz(), _scattering(wanted, candidate, source), name=name, notes=_notes(wanted, candidate, source)
    )


def _scattering(wanted: _Wanted, candidate: Candidate, source: Source | None) -> Complex:
    from app.exchange.two_port import two_port
    from models.fitting.export import reflection
    from models.network.grid import sweep_grid
    from models.network.solver import Solver

    grid, solver = sweep_grid(wanted.case.sweep), Solver()
    if source is not None:
        return two_port(solver, wanted.case, candidate, source, grid)
    solve = solver.bridge if wanted.bridge else solver.in_circuit
    return reflection(solve(wanted.case, candidate, grid))


def _notes(wanted: _Wanted, candidate: Candidate, source: Source | None) -> tuple[str, ...]:
    pair = wanted.case.pair
    if source is None:
        what = "bridge alone" if wanted.bridge else "in circuit"
        ports = f"{candidate.name}: impedance between {pair.b} and {pair.a}, {what}"
    else:
        ports = f"{candidate.name}. Port 1: {source.name}. Port 2: {pair.b} against {pair.a}"
    return ports, wanted.origin


def _the_one(found: tuple[Named, ...], option: str, noun: str) -> Named:
    if len(found) != 1:
        names = ", ".join(f'"{each.name}"' for each in found) or f"a case with a {noun}"
        raise click.BadParameter(f"found {len(found)} of them; accepted: one of {names}", param_hint=option)
    return found[0]


def _small_case(wanted: _Wanted) -> Iterator[str]:
    from app.exchange.equivalent import equivalent
    from models.case.write import case_text

    found = equivalent(wanted.case)
    low, high = found.range_hz
    say(
        f"fitted from {low:.4g} Hz to {high:.4g} Hz, rms error {found.rms_error_db:.2g} dB and "
        f"{found.rms_error_deg:.2g}°"
    )
    yield case_text(found.case)


_WRITERS: Mapping[str, Callable[[_Wanted], Iterable[str]]] = MappingProxyType(
    {"csv": _tables, "touchstone": _touchstone, "toml": _small_case}
)


def _write(lines: Iterable[str], output: Path | None) -> None:
    if output is None:
        sys.stdout.writelines(lines)
        return
    text = "".join(lines)
    try:
        if output.exists() and not output.is_file():
            output.write_text(text, encoding="utf-8", newline="")
        else:
            write_whole(output, text)
    except OSError as error:
        raise click.FileError(str(output), error.strerror) from None
