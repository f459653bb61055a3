"""Measured impedance from CSV or text: frequency and |Z|, phase, R, X, C and their relatives, in any order."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from attrs import frozen

from models.arrays import Real
from models.fitting.columns import read_columns, reads_frequency, units_only
from models.fitting.combine import impedance
from models.fitting.data import Measurement, fault, make_measurement
from models.fitting.textfile import is_number, read_lines, to_numbers

_MARKS = ("\t", ";", ",")
_COMMENT = ("#", "!", "%", "//", "*")
_HEADER = 'a line that names the columns with units, such as "Frequency (Hz), |Z| (ohm), Phase (deg)"'

Rows = list[tuple[int, list[str]]]


@frozen(kw_only=True)
class _Layout:
    """How a file's lines fall into cells."""

    mark: str | None
    """Separator; None for spaces."""
    comma: bool
    """Whether a comma is the decimal sign."""


def read_table(path: str | Path, *, columns: Sequence[str] = (), lines: Sequence[str] | None = None) -> Measurement:
    """Read an impedance from a table of numbers.

    The header line names the columns and their units: frequency, |Z|, phase, R, X, Cs, Cp, Ls, Lp, D, Q, G, B in any
    order; a column without a unit is in SI units. Separator and decimal sign are found from the data.

    Parameters
    ----------
    path : file, text of any encoding
    columns : header to use in place of the file's own, for a file without one
    lines : what stands in it, where it was read already

    Returns
    -------
    Measurement
        Without phase where the table has the magnitude alone.

    Raises
    ------
    DataError
        In one sentence, where the table can be read in more than one way or in none.
    """
    source = Path(path).name
    every = read_lines(path) if lines is None else lines
    filled = [(number, line.strip()) for number, line in enumerate(every, start=1) if line.strip()]
    start, layout = _first_data(filled, source)
    rows, notes = _data(filled[start:], layout, source)
    names = list(columns) or _names(filled[:start], layout, len(rows[0][1]), source)
    if len(names) != len(rows[0][1]):
        found = f"{len(rows[0][1])} columns of numbers under {len(names)} names"
        raise fault(source, rows[0][0], found, "one name a column, and one decimal sign that is not the separator")
    table = _numbers(rows, source)
    chosen, more = read_columns(names, table, source)
    z_ohm, has_phase, said = impedance(chosen, source)
    notes += more + said
    f_hz = next(column for column in chosen if column.role == "f").values
    return make_measurement(f_hz, z_ohm, source=source, warnings=notes, has_phase=has_phase)


def _first_data(lines: list[tuple[int, str]], source: str) -> tuple[int, _Layout]:
    """Return where the numbers start, and how their lines fall into cells."""
    for place, (number, line) in enumerate(lines):
        layouts = _layouts(line)
        if not layouts:
            continue
        follow = [ways for _, text in lines[place : place + 20] if (ways := _layouts(text))]
        lasting = [layout for layout in layouts if all(layout in ways for ways in follow)]
        before = _count_by_header(lines[:place])
        fitting = [layout for layout in lasting if before.get(layout.mark) == len(_cells(line, layout))]
        if fitting or lasting:
            return place, (fitting or lasting)[0]
        raise fault(source, number, f'"{line[:40]}"', "the same separator and decimal sign in all lines")
    raise fault(source, None, "no line of two or more numbers", f"{_HEADER}, then numbers")


def _layouts(line: str) -> list[_Layout]:
    """Return every way to read a line as two or more numbers."""
    ways = []
    for mark in (*_MARKS, None):
        for comma in (False, True):
            layout = _Layout(mark=mark, comma=comma)
            if comma and (mark == "," or "," not in line):
                continue
            cells = _cells(line, layout)
            if len(cells) > 1 and all(is_number(cell) or not cell for cell in cells) and is_number(cells[0]):
                ways.append(layout)
    return ways


def _cells(line: str, layout: _Layout) -> list[str]:
    raw = line.split() if layout.mark is None else line.split(layout.mark)
    cells = [cell.strip().strip('"').strip() for cell in raw]
    if layout.comma:
        cells = [cell.replace(",", ".") if "." not in cell else cell + "?" for cell in cells]
    while len(cells) > 1 and not cells[-1]:
        cells.pop()
    return cells


def _count_by_header(before: list[tuple[int, str]]) -> dict[str | None, int]:
    """Return how many names the line that names the frequency has by each separator."""
    for _, line in reversed(before):
        if reads_frequency(_uncommented(line)):
            return {mark: len(_header_cells(line, mark)) for mark in (*_MARKS, None)}
    return {}


def _data(lines: list[tuple[int, str]], layout: _Layout, source: str) -> tuple[Rows, list[str]]:
    """Return the cells of all data lines; text after the numbers is left out, text between them refused."""
    rows: Rows = []
    odd: tuple[int, str] | None = None
    for number, line in lines:
        if line.startswith(_COMMENT):
            continue
        cells = _cells(line, layout)
        if not is_number(cells[0]):
            odd = odd or (number, line)
            continue
        if odd or (rows and len(cells) != len(rows[0][1])):
            where, text = odd or (number, line)
            accepted = f"{len(rows[0][1])} numbers in every line"
            raise fault(source, where, f'"{text[:40]}"', accepted)
        rows.append((number, cells))
    return rows, [f"the text from line {odd[0]} on is left out"] if odd else []


def _names(before: list[tuple[int, str]], layout: _Layout, count: int, source: str) -> list[str]:
    """Return the names of the columns from the last line that names a frequency, with a line of units under it."""
    for place in range(len(before) - 1, -1, -1):
        if not reads_frequency(_uncommented(before[place][1])):
            continue
        names = _header_cells(before[place][1], layout.mark)
        below = before[place + 1 :]
        if below and len(names) == count:
            units = _header_cells(below[0][1], layout.mark)
            if len(units) == count and units_only(units):
                return [f"{name} ({unit})" for name, unit in zip(names, units, strict=True)]
        return names
    raise fault(source, None, "no header", _HEADER)


def _header_cells(line: str, mark: str | None) -> list[str]:
    line = _uncommented(line)
    if mark is not None:
        cells = [cell.strip().strip('"').strip() for cell in line.split(mark)]
        while len(cells) > 1 and not cells[-1]:
            cells.pop()
        return cells
    wide = re.split(r"\s{2,}", line)
    single = re.findall(r'"[^"]*"|\S+(?:\s*[(\[][^)\]]*[)\]])?', line)
    return [cell.strip('"') for cell in (single if len(wide) < 2 else max(wide, single, key=len))]


def _uncommented(line: str) -> str:
    for mark in _COMMENT:
        line = line.removeprefix(mark)
    return line.strip()


def _numbers(rows: Rows, source: str) -> Real:
    filled = [(number, [cell or "nan" for cell in cells]) for number, cells in rows]
    return to_numbers(filled, source).reshape(len(rows), -1)
