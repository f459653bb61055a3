"""The answers as a table in the terminal: candidates across, questions down, worst numbers marked."""

from __future__ import annotations

import textwrap

from rich.box import SIMPLE_HEAD
from rich.markup import escape
from rich.table import Table

from app.cli.screen import Screen
from app.present.answers import answers_table, cautions, value_cells
from app.present.specs import CellSpec, TableSpec
from app.state.results import Desk, Results
from models.case.document import Case
from models.quantity import format_quantity

_DEFAULT_HZ = (50.0, 1e3, 1e6, 30e6, 100e6, 1e9)
_WORD_AT_MOST = 14
_SIGNS = {"pass": "[green]✓[/] ", "fail": "[red]✗[/] ", "not-applicable": "[dim]–[/] ", "note": ""}


def print_answers(case: Case, at: tuple[float, ...] | None) -> None:
    """Print the answers of a case, with impedances at the given or at usual frequencies."""
    console = Screen(highlight=False)
    desk = Desk()
    results = desk.results(case)
    console.print(f"[bold]{escape(case.title)}[/]   {escape(case.pair.a)} to {escape(case.pair.b)}")
    if case.notes:
        console.print(escape(textwrap.shorten(case.notes, 400, placeholder=" …")), style="dim")
    spec = answers_table(results, 0)
    if spec.empty:
        console.print(spec.empty)
        return
    console.print(_table(spec, _impedance_rows(desk, results, at)))
    for line in ("▲ the worst of its row. Impedances are in circuit; each source alone.", *cautions(case)):
        console.print(line, style="dim")


def _impedance_rows(
    desk: Desk, results: Results, at: tuple[float, ...] | None
) -> list[tuple[str, tuple[CellSpec, ...]]]:
    case = results.case
    wanted = at or tuple(f_hz for f_hz in _DEFAULT_HZ if case.sweep.start_hz <= f_hz <= case.sweep.stop_hz)
    return [
        (
            "Impedance at DC" if f_hz == 0.0 else f"Impedance at {format_quantity(f_hz, 'Hz')}",
            value_cells([abs(z) for z in desk.impedances(case, f_hz)], "ohm"),
        )
        for f_hz in wanted
    ]


def _table(spec: TableSpec, more: list[tuple[str, tuple[CellSpec, ...]]]) -> Table:
    table = Table(box=SIMPLE_HEAD, pad_edge=False, collapse_padding=True)
    table.add_column("", overflow="fold")
    for label, _ in spec.columns:
        table.add_column(escape(label), justify="right", overflow="fold", min_width=_widest_word(label))
    for name, cells in (*spec.rows, *more):
        table.add_row(escape(name), *(_text(cell) for cell in cells))
    return table


def _widest_word(label: str) -> int:
    """Return the width that keeps every word of a name whole, within reason."""
    return min(max(map(len, label.split()), default=0), _WORD_AT_MOST)


def _text(cell: CellSpec) -> str:
    text = _SIGNS[cell.outcome] + escape(cell.text)
    return f"[bold]▲ {text}[/]" if cell.worst else text
