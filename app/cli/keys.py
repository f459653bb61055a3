"""`isthmus keys`: every table and key of a case file, with unit, default and meaning."""

from __future__ import annotations

import click
from rich.box import SIMPLE_HEAD
from rich.markup import escape
from rich.table import Table

from app.cli.screen import Screen
from app.present.key_help import TableHelp, matching


@click.command(short_help="List the keys of a case file.")
@click.argument("name", required=False)
def keys(name: str | None) -> None:
    """List the keys of a case file, or those of the tables and kinds that NAME is part of."""
    found = matching(name)
    if not found:
        raise click.BadParameter(f'found "{name}"; accepted: a table, a kind or a key; without a name, all are listed')
    console = Screen(highlight=False)
    for table in found:
        console.print(f"[bold]{escape(table.name)}[/]   {escape(table.meaning)}")
        console.print(_table(table))


def _table(spec: TableHelp) -> Table:
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    table.add_column("key", no_wrap=True)
    for head in ("accepted", "without it", "meaning"):
        table.add_column(head, overflow="fold")
    for key in spec.keys:
        table.add_row(*(escape(text) for text in (key.key, key.accepted, key.default, key.meaning)))
    return table
