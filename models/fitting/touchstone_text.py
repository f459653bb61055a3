"""Touchstone text of version 1 and 2 to one- and two-port matrices: what stands in the file, checked line by line.

A general reader is lenient where files are odd (orders of the option line, normalised parameters of version 1, numbers
that wrap); here each of these is read as the format says, or refused with its line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.fitting.data import fault
from models.fitting.textfile import is_number, read_lines, to_numbers
from models.fitting.touchstone_header import OPTIONS, UNITS, Header, read_header, read_keyword

Rows = list[tuple[int, list[str]]]


@frozen(kw_only=True, eq=False)
class Matrices:
    """The numbers of a file: parameters as absolute values, one reference a port."""

    source: str
    f_hz: Real
    parameter: str
    """s, y, z, g or h; Y, Z, G and H in siemens, ohm and ratios, never normalised."""
    values: Complex
    """(F, n, n)."""
    reference_ohm: tuple[float, ...]
    warnings: tuple[str, ...]


@frozen(kw_only=True, eq=False)
class _Sorted:
    """A file taken apart: keywords and option lines, numbers, notes."""

    source: str
    keywords: list[tuple[int, str, str]]
    """(line, name in small letters, the rest of the line)."""
    options: list[tuple[int, list[str]]]
    network: Rows
    warnings: list[str]


def read_matrices(path: str | Path, lines: Sequence[str] | None = None) -> Matrices:
    """Read a Touchstone file of one or two ports.

    Parameters
    ----------
    path : file, version 1.0 to 2.1
    lines : what stands in it, where it was read already

    Returns
    -------
    Matrices

    Raises
    ------
    DataError
        For anything the format does not allow, and for mixed-mode data and more than two ports.
    """
    source = Path(path).name
    parts = _sort_lines(read_lines(path) if lines is None else lines, source)
    header = read_header(source, parts.options, parts.keywords, parts.warnings)
    rows = _without_noise(parts.network, header, parts.warnings)
    ports = header.ports or _ports_by_numbers(rows, source)
    if ports > 2:
        raise fault(source, None, f"{ports} ports", "one port, or two for a part measured series-thru or shunt-thru")
    reference = header.reference_ohm * (ports if len(header.reference_ohm) == 1 else 1)
    if len(reference) != ports:
        raise fault(source, None, f"{len(reference)} references for {ports} ports", "one reference, or one a port")
    header = evolve(header, ports=ports, reference_ohm=reference)
    table = _records(rows, header)
    # what overflows is set aside with the other values that are not finite
    with np.errstate(over="ignore", invalid="ignore"):
        return _matrices(table, header, tuple(parts.warnings))


def _sort_lines(lines: Sequence[str], source: str) -> _Sorted:
    parts = _Sorted(source=source, keywords=[], options=[], network=[], warnings=[])
    section, about, port_comment = "network", False, False
    for number, line in enumerate(lines, start=1):
        text, mark, comment = line.partition("!")
        text = text.strip()
        port_comment = port_comment or (bool(mark) and "port impedance" in comment.lower())
        if not text:
            continue
        if text[0] == "[":
            name, rest = read_keyword(text, number, source)
            about = name == "begin information" or (about and name != "end information")
            section = _section(section, name, rest)
            parts.keywords.append((number, name, rest))
        elif about or section in ("noise", "end"):
            continue
        elif text[0] == "#":
            parts.options.append((number, text[1:].lower().split()))
        elif section == "reference":
            parts.keywords[-1] = (*parts.keywords[-1][:2], f"{parts.keywords[-1][2]} {text}")
        else:
            _check_place(section, parts, number, text)
            parts.network.append((number, text.split()))
    if port_comment:
        parts.warnings.append("comments that speak of a port impedance are not part of the format and are not used")
    if any(name == "noise data" for _, name, _ in parts.keywords):
        parts.warnings.append("the noise data is left out")
    return parts


def _section(before: str, name: str, rest: str) -> str:
    """Return what the lines after a keyword are."""
    if before in ("noise", "end"):
        return before
    if name == "version":
        return "header" if rest.startswith("2") else "network"
    named = {"network data": "network", "noise data": "noise", "reference": "reference", "end": "end"}
    return named.get(name, "header" if before == "reference" else before)


def _check_place(section: str, parts: _Sorted, line: int, text: str) -> None:
    """Refuse data before the option line or before its keyword, and what is no data at all."""
    known = is_number(text.split(maxsplit=1)[0])
    if not parts.options:
        found = "numbers before any option line" if known else f'"{text[:40]}"'
        raise fault(parts.source, line, found, OPTIONS if known else "a comment after !, or an option line: " + OPTIONS)
    if section == "header":
        raise fault(parts.source, line, f'"{text[:40]}" before [Network Data]', "keywords and the option line")


def _ports_by_numbers(rows: Rows, source: str) -> int:
    lengths = {len(row) for _, row in rows}
    ports = {3: 1, 9: 2}.get(max(lengths, default=0)) if len(lengths) == 1 else None
    if ports is None:
        raise fault(source, None, "no number of ports", "a name that ends in .s1p or .s2p, or [Number of Ports]")
    return ports


def _without_noise(rows: Rows, header: Header, warnings: list[str]) -> Rows:
    """Cut off a version 1 noise block: five numbers a line, from a frequency at or below the last one."""
    if header.version != 1 or header.ports != 2:
        return rows
    count, highest = 0, -np.inf
    for place, (_, row) in enumerate(rows):
        if count % 9 == 0 and is_number(row[0]):
            if len(row) == 5 and float(row[0]) <= highest:
                warnings.append("the noise data is left out")
                return rows[:place]
            highest = float(row[0])
        count += len(row)
    return rows


def _records(rows: Rows, header: Header) -> Real:
    """Return one row a frequency, whatever the lines were wrapped to."""
    ports = header.ports or 1
    entries = ports**2 if header.matrix == "full" else ports * (ports + 1) // 2
    size = 1 + 2 * entries
    count = 0
    for line, row in rows:
        count += len(row)
        if count > size:
            found = f"{count} numbers for one frequency"
            raise fault(header.source, line, found, f"{size} numbers ({ports}-port, {header.matrix} matrix)")
        count %= size
    if count:
        raise fault(header.source, rows[-1][0], f"{count} numbers at the end", f"{size} numbers a frequency")
    if not rows:
        raise fault(header.source, None, "no data", f"{size} numbers a frequency")
    table = to_numbers(rows, header.source).reshape(-1, size)
    if header.frequencies not in (None, len(table)):
        accepted = f"{header.frequencies}, as [Number of Frequencies] says"
        raise fault(header.source, None, f"{len(table)} frequencies", accepted)
    return table


def _matrices(table: Real, header: Header, warnings: tuple[str, ...]) -> Matrices:
    entries = _complex(table[:, 1::2], table[:, 2::2], header.form)
    ports = header.ports or 1
    values = np.empty((len(table), ports, ports), np.complex128)
    for column, (row, col) in enumerate(_places(ports, header)):
        values[:, row, col] = entries[:, column]
        if header.matrix != "full":
            values[:, col, row] = entries[:, column]
    if ports == 1 and header.parameter in ("g", "h"):
        found = f"{header.parameter.upper()}-parameters of one port"
        raise fault(header.source, None, found, "S, Y or Z; G and H need two ports")
    if header.version == 1 and header.parameter != "s":
        values = values * _unit(header.parameter, header.reference_ohm)
        warnings = (*warnings, _normalised(header))
    return Matrices(
        source=header.source,
        f_hz=table[:, 0] * UNITS[header.unit],
        parameter=header.parameter,
        values=values,
        reference_ohm=header.reference_ohm,
        warnings=warnings,
    )


def _complex(first: Real, second: Real, form: str) -> Complex:
    if form == "ri":
        return first + 1j * second
    size = first if form == "ma" else 10 ** (first / 20)
    return np.asarray(size * np.exp(1j * np.radians(second)), np.complex128)


def _places(ports: int, header: Header) -> Iterator[tuple[int, int]]:
    if header.matrix == "full" and ports == 2 and header.swapped:
        yield from ((0, 0), (1, 0), (0, 1), (1, 1))
        return
    for row in range(ports):
        first, last = {"full": (0, ports), "lower": (0, row + 1), "upper": (row, ports)}[header.matrix]
        yield from ((row, col) for col in range(first, last))


def _unit(parameter: str, reference: tuple[float, ...]) -> Real:
    """What the normalised entries of version 1 are multiplied with.

    Z is a ratio to √(R1·R2), Y to its inverse; H11 and G22 are impedances, H22 and G11 admittances, the rest ratios.
    """
    root = np.sqrt(np.outer(reference, reference))
    if parameter in ("z", "y"):
        return np.asarray(root if parameter == "z" else 1 / root, np.float64)
    first, last = reference[0], reference[-1]
    return np.array([[first, 1.0], [1.0, 1 / last]] if parameter == "h" else [[1 / first, 1.0], [1.0, last]])


def _normalised(header: Header) -> str:
    reference = " and ".join(f"{value:g}" for value in dict.fromkeys(header.reference_ohm))
    return f"{header.parameter.upper()}-parameters of version 1 are read as ratios to the reference of {reference} ohm"
