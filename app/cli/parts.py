"""`isthmus parts`: the catalogue, listed and filtered."""

from __future__ import annotations

from typing import Any

import click

from app.cli.output import print_json, say
from models.catalogue.codec import PartKinds
from models.catalogue.entry import Construction, Entry
from models.catalogue.figures import Figure, key_figures
from models.catalogue.folder import own_folder
from models.catalogue.shelf import Catalogue, catalogue
from models.declare import write_object
from models.quantity import format_quantity


@click.command()
@click.option("--kind", help="Only this kind or family, such as bead or safety-capacitor.")
@click.option("--contains", help="Only entries with all these words in id, title or note.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
def parts(kind: str | None, contains: str | None, as_json: bool) -> None:
    """List the parts of the catalogue, your own among them."""
    shelf = catalogue()
    for message in shelf.messages:
        say(message)
    chosen = shelf.chosen(kind=_known(shelf, kind), contains=contains)
    if as_json:
        print_json({"parts": [_plain(entry) for entry in chosen]})
    else:
        _print_table(chosen)


def _known(shelf: Catalogue, kind: str | None) -> str | None:
    known = tuple(dict.fromkeys((*shelf.families, *(entry.kind for entry in shelf.entries.values()))))
    if kind is not None and kind not in known:
        raise click.BadParameter(f'found "{kind}"; accepted: {", ".join(known)}', param_hint="--kind")
    return kind


def _plain(entry: Entry) -> dict[str, Any]:
    subject = entry.subject
    figures = [{"label": each.label, "value": each.value, "unit": each.unit} for each in key_figures(subject)]
    what: dict[str, Any] = (
        {"transformer": write_object(subject)}
        if isinstance(subject, Construction)
        else {"part": PartKinds().write(subject)}
    )
    return {
        "id": entry.id,
        "kind": entry.kind,
        "family": entry.family,
        "title": entry.title,
        "note": entry.note,
        "caution": entry.caution,
        "own": entry.own,
        "figures": figures,
        **what,
    }


def _print_table(chosen: tuple[Entry, ...]) -> None:
    from rich.box import SIMPLE_HEAD
    from rich.markup import escape
    from rich.table import Table

    from app.cli.screen import Screen

    console = Screen(highlight=False)
    for family in dict.fromkeys(entry.family for entry in chosen):
        members = [entry for entry in chosen if entry.family == family]
        table = Table(box=SIMPLE_HEAD, pad_edge=False, title=family, title_justify="left", title_style="bold")
        table.add_column("id, for a case file", no_wrap=True)
        table.add_column("what it is", overflow="fold")
        table.add_column("figures", overflow="fold")
        for entry in members:
            figures = ", ".join(_text(figure) for figure in key_figures(entry.subject))
            table.add_row(entry.id, escape(entry.title + (" (own)" if entry.own else "")), figures)
        console.print(table)
        for caution in dict.fromkeys(entry.caution for entry in members if entry.caution):
            console.print(escape(caution), style="dim")
    console.print(
        f"\n{len(chosen)} entries. In a case file: "
        + escape('{ kind = "catalogue", part = "id" }, and any key that shall differ.')
        + f"\nYour own entries: .toml files in {escape(str(own_folder()))}. Notes and all keys: --json.",
        style="dim",
        soft_wrap=True,
    )


def _text(figure: Figure) -> str:
    return f"{figure.label} {format_quantity(figure.value, figure.unit, digits=3)}"
