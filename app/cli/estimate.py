"""`isthmus estimate`: a value from geometry, with its equation and its usual error."""

from __future__ import annotations

from typing import Any

import attrs
import click
from click.shell_completion import CompletionItem
from rich.box import SIMPLE_HEAD
from rich.markup import escape
from rich.table import Table

from app.cli.arguments import once
from app.cli.output import print_json
from app.cli.screen import Screen
from app.present.estimate import amount_name, amount_text, error_text, paste_lines
from app.present.key_help import table_of
from app.state.typed import as_in_file
from models.codec import Place
from models.declare import keys_of, read_object
from models.errors import CaseError
from models.estimate.estimate import Estimate, Result
from models.estimate.registry import ESTIMATES


def _names(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:  # noqa: ARG001 - click asks so
    return [
        CompletionItem(each.name, help=each.title) for each in ESTIMATES.values() if each.name.startswith(incomplete)
    ]


def _keys(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:  # noqa: ARG001 - click asks so
    of = ESTIMATES.get(ctx.params.get("name") or "")
    keys = () if of is None else keys_of(of)
    return [CompletionItem(f"{key}=") for key in keys if key.startswith(incomplete)]


@click.command(short_help="Work out a value from geometry: a stray, a lead, a gap.")
@click.argument("name", required=False, shell_complete=_names)
@click.argument("values", nargs=-1, metavar="[KEY=VALUE]...", shell_complete=_keys)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
def estimate(name: str | None, values: tuple[str, ...], as_json: bool) -> None:
    """Work out a value from geometry: a coupling, a stray, the inductance of a lead.

    Without NAME the estimates are listed; NAME alone shows the values that one takes. Each value is typed as a case
    file has it, such as height="2 mm"; one that is left out stands at its default.
    """
    if name is None:
        _list(as_json=as_json)
        return
    of = ESTIMATES.get(name)
    if of is None:
        raise click.BadParameter(f'found "{name}"; accepted: {", ".join(ESTIMATES)}', param_hint="NAME")
    if not values and not as_json:
        _describe(of)
        return
    made = _made(of, values)
    if as_json:
        print_json(_plain(made))
    else:
        print("\n".join(_lines(made)))


def _made(of: type[Estimate], values: tuple[str, ...]) -> Estimate:
    problems: list[Any] = []
    made: Estimate = read_object(of, once(_split(of, each) for each in values), Place((), problems))
    if problems:
        raise CaseError([problem for _, problem in problems], f"estimate {of.name}")
    return made


def _split(of: type[Estimate], text: str) -> tuple[str, object]:
    """Return the key and the value as a file would hold it."""
    key, sign, typed = text.partition("=")
    if not sign:
        example = next(iter(keys_of(of)))
        raise click.BadParameter(f'found "{text}"; accepted: KEY=VALUE, such as {example}=…', param_hint="KEY=VALUE")
    known = keys_of(of).get(key.strip())
    return key.strip(), typed if known is None else as_in_file(known.codec, typed)


def _list(*, as_json: bool) -> None:
    if as_json:
        plain = [{"name": each.name, "about": each.about, "gives": list(each.suits)} for each in ESTIMATES.values()]
        print_json({"estimates": plain})
        return
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    for head in ("name", "what it works out"):
        table.add_column(head, overflow="fold")
    for each in ESTIMATES.values():
        table.add_row(each.name, escape(each.about))
    console = Screen(highlight=False)
    console.print(table)
    console.print("The values of one: isthmus estimate NAME", style="dim")


def _describe(of: type[Estimate]) -> None:
    console = Screen(highlight=False)
    console.print(escape(of.about))
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    for head in ("key", "sign", "accepted", "without it", "meaning"):
        table.add_column(head, overflow="fold")
    for key in table_of(of.name, of).keys:
        cells = (key.key, of.symbols.get(key.key, ""), key.accepted, key.default, key.meaning)
        table.add_row(*(escape(text) for text in cells))
    console.print(table)
    console.print(escape(of().result().equation))
    example = " ".join(f'{key}="{_text(of(), key)}"' for key in list(keys_of(of))[:2])
    console.print(f"\nSuch as: isthmus estimate {of.name} {escape(example)}", style="dim", soft_wrap=True)


def _text(made: Estimate, key: str) -> object:
    declared = keys_of(type(made))[key]
    return declared.codec.write(getattr(made, declared.path[0]))


def _lines(made: Estimate) -> list[str]:
    result = made.result()
    return [
        *(f"{amount_name(each)} {amount_text(each)}, {error_text(each)}" for each in result.amounts),
        "",
        result.equation,
        result.working,
        "",
        result.assumes,
        *result.notes,
        f"Source: {result.source}",
        *([f"Caution: {result.caution}"] if result.caution else []),
        *_paste(result),
    ]


def _paste(result: Result) -> list[str]:
    return [line for where, lines in paste_lines(result) for line in ("", f"Under {where} of a case file:", lines)]


def _plain(made: Estimate) -> dict[str, Any]:
    result = made.result()
    return {
        "estimate": made.name,
        "given": {key: getattr(made, each.path[0]) for key, each in keys_of(type(made)).items()},
        "results": [attrs.asdict(each) for each in result.amounts],
        "equation": result.equation,
        "working": result.working,
        "assumes": result.assumes,
        "notes": list(result.notes),
        "source": result.source,
        "caution": result.caution,
        "paste": [{"under": where, "lines": lines} for where, lines in paste_lines(result)],
    }
