"""The values that one axis of a sweep takes: a range, the values of an E series, or a list."""

from __future__ import annotations

import csv
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
from attrs import frozen

from app.sweep.address import Address, find
from app.sweep.faults import SweepError
from models.case.document import Case
from models.codec import Count, Quantity, shown
from models.eseries import standard_values

MOST_POINTS = 10_000_000
RANGE = "low..high:count, evenly over the logarithm; low..high:count:lin, evenly; low..high:E12, standard values"
ABOVE_0 = "a range above 0, or low..high:count:lin"
_SERIES = (3, 6, 12, 24, 48, 96, 192)


@frozen(kw_only=True)
class Axis:
    """One dimension of a sweep: where its values stand, and the rows of them, one value an address."""

    addresses: tuple[Address, ...]
    rows: tuple[tuple[Any, ...], ...]


def axis(case: Case, text: str) -> Axis:
    """Return the axis that ``PATH=VALUES`` stands for.

    Raises
    ------
    SweepError
        where the path or a value is wrong
    """
    path, sign, values = text.partition("=")
    if not sign or not values.strip():
        raise SweepError(shown(text) or "nothing", "no values", "PATH=VALUES, such as mains.voltage=110..240:5:lin")
    address = find(case, path.strip())
    return Axis(addresses=(address,), rows=tuple((value,) for value in _values(address, values.strip())))


def listed(case: Case, path: Path) -> Axis:
    """Return the axis that a CSV table stands for: paths in its first line, a point in each further line.

    Raises
    ------
    SweepError
        where the file cannot be read or a value is wrong; names the line
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as stream:
            lines = [line for line in csv.reader(stream) if line]
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        found = "a byte that is not UTF-8" if isinstance(error, UnicodeDecodeError) else str(error)
        found = error.strerror if isinstance(error, OSError) and error.strerror else found
        raise SweepError(path.name, found, "a table in CSV with paths in its first line") from None
    if len(lines) < 2:
        raise SweepError(path.name, f"{len(lines)} lines", "paths in the first line and one point in each further line")
    addresses = tuple(find(case, heading.strip()) for heading in lines[0])
    rows = tuple(_row(path, number, addresses, line) for number, line in enumerate(lines[1:], start=2))
    return Axis(addresses=addresses, rows=rows)


def _row(path: Path, number: int, addresses: Sequence[Address], line: Sequence[str]) -> tuple[Any, ...]:
    if len(line) != len(addresses):
        raise SweepError(f"{path.name}, line {number}", f"{len(line)} values", f"{len(addresses)}, one a path")
    try:
        return tuple(address.read(text) for address, text in zip(addresses, line, strict=True))
    except SweepError as error:
        raise SweepError.at(f"{path.name}, line {number}", error) from None


def _values(address: Address, text: str) -> tuple[Any, ...]:
    if ".." not in text:
        return tuple(address.read(entry) for entry in text.split(","))
    if isinstance(address.codec, Count):
        return _whole(address, text)
    if isinstance(address.codec, Quantity):
        return _range(address, text)
    raise SweepError(address.text, f'the range "{shown(text)}"', "a list, such as a,b,c")


def _whole(address: Address, text: str) -> tuple[Any, ...]:
    low, _, high = text.partition("..")
    first, last = address.read(low), address.read(high)
    if last < first:
        raise SweepError(address.text, f'"{shown(text)}", which runs backwards', "low..high")
    return tuple(range(first, last + 1))


def _range(address: Address, text: str) -> tuple[float, ...]:
    span, _, how = text.partition(":")
    low_text, _, high_text = span.partition("..")
    low, high = address.read(low_text), address.read(high_text)
    if not low < high:
        raise SweepError(address.text, f'"{shown(text)}", which does not rise', RANGE)
    if how[:1] in ("E", "e"):
        return _standard(address, how, low, high)
    count, _, spacing = how.partition(":")
    if not count.isascii() or not count.isdigit() or not 2 <= int(count[:9]) <= MOST_POINTS or spacing not in _SPACINGS:
        raise SweepError(address.text, f'"{shown(text)}"', RANGE)
    if spacing == "lin":
        return tuple(np.linspace(low, high, int(count)).tolist())
    if low == 0.0:
        raise SweepError(address.text, f'"{shown(text)}", from 0 over a logarithm', ABOVE_0)
    return tuple(np.geomspace(low, high, int(count)).tolist())


_SPACINGS = ("", "log", "lin")


def _standard(address: Address, series: str, low: float, high: float) -> tuple[float, ...]:
    digits = series[1:]
    if not digits.isascii() or not digits.isdigit() or int(digits[:4]) not in _SERIES:
        accepted = ", ".join(f"E{each}" for each in _SERIES)
        raise SweepError(address.text, f'"{shown(series)}"', accepted)
    values = standard_values(int(digits), low, high) if low > 0.0 and math.isfinite(high) else ()
    if not values:
        raise SweepError(address.text, f"no value of {series.upper()} in the range", "a wider range above 0")
    return values
