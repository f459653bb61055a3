"""What a Touchstone file says about its numbers: option line and keywords, version 1 and 2."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import numpy as np
from attrs import evolve, frozen

from models.fitting.data import fault
from models.fitting.textfile import is_number

UNITS = {"hz": 1.0, "khz": 1e3, "mhz": 1e6, "ghz": 1e9}
_FORMS = ("ma", "db", "ri")
OPTIONS = "# then Hz, kHz, MHz or GHz; S, Y, Z, G or H; MA, DB or RI; R and the reference in ohm"
_KEYWORDS = (
    "version",
    "number of ports",
    "two-port data order",
    "number of frequencies",
    "number of noise frequencies",
    "reference",
    "matrix format",
    "mixed-mode order",
    "begin information",
    "end information",
    "network data",
    "noise data",
    "end",
)


@frozen(kw_only=True)
class Header:
    """What a file says about its numbers, before they are read."""

    source: str
    version: int = 1
    unit: str = "ghz"
    parameter: str = "s"
    form: str = "ma"
    reference_ohm: tuple[float, ...] = (50.0,)
    ports: int | None = None
    swapped: bool | None = None
    """Whether S21 stands before S12."""
    matrix: str = "full"
    frequencies: int | None = None
    warnings: tuple[str, ...] = ()


def read_header(
    source: str, options: Sequence[tuple[int, list[str]]], keywords: Sequence[tuple[int, str, str]], notes: list[str]
) -> Header:
    """Read the first option line and all keywords; doubts are added to the notes.

    Parameters
    ----------
    source : file name, which tells the number of ports in version 1
    options : (line, entries) of each option line
    keywords : (line, name, rest) of each keyword
    notes : list to add to

    Returns
    -------
    Header

    Raises
    ------
    DataError
        For what the format does not allow.
    """
    if not options:
        raise fault(source, None, "no option line", OPTIONS)
    header = _options(*options[0], Header(source=source, ports=_ports_by_name(source)))
    if any(tokens != options[0][1] for _, tokens in options[1:]):
        notes.append(f"the option line in line {options[1][0]} is not used: only the first one counts")
    for line, name, rest in keywords:
        header = _with_keyword(header, line, name, rest)
    return evolve(header, swapped=True) if header.version == 1 else _complete(header, {name for _, name, _ in keywords})


def _complete(header: Header, names: set[str]) -> Header:
    if missing := {"number of ports", "network data"} - names:
        raise fault(header.source, None, f"version 2 without [{min(missing)}]", "[Number of Ports] and [Network Data]")
    if header.ports == 2 and header.swapped is None:
        raise fault(
            header.source, None, "two ports without [Two-Port Data Order]", "[Two-Port Data Order] 12_21 or 21_12"
        )
    return header


def _options(line: int, tokens: list[str], header: Header) -> Header:
    """Read an option line, its entries in any order, those left out at the format's defaults."""
    changes: dict[str, object] = {}
    rest = iter(tokens)
    for token in rest:
        if token in UNITS:
            name, value = "unit", token
        elif token in ("s", "y", "z", "g", "h"):
            name, value = "parameter", token
        elif token in _FORMS:
            name, value = "form", token
        elif token == "r":
            changes["reference_ohm"] = _references(list(rest), line, header.source)
            break
        else:
            raise fault(header.source, line, f'"{token[:40]}" in the option line', OPTIONS)
        if name in changes:
            raise fault(header.source, line, f'"{changes[name]}" and "{token}" in the option line', OPTIONS)
        changes[name] = value
    return evolve(header, **changes)  # type: ignore[arg-type]


def _references(tokens: list[str], line: int, source: str) -> tuple[float, ...]:
    numbers = [token for token in tokens if is_number(token)]
    values = tuple(float(token) for token in numbers)
    if not tokens or len(numbers) != len(tokens) or not all(0 < value < np.inf for value in values):
        found = " ".join(tokens)[:40] or "nothing"
        raise fault(source, line, f'"{found}" as reference', "a real resistance in ohm above 0, one or one a port")
    return values


def _with_keyword(header: Header, line: int, name: str, rest: str) -> Header:
    changes: dict[str, Any] = {}
    match name:
        case "version":
            changes["version"] = int(_choice(header, line, rest, ("1.0", "1.1", "2.0", "2.1"))[0])
        case "number of ports":
            changes["ports"] = _whole(header, line, rest)
        case "number of frequencies":
            changes["frequencies"] = _whole(header, line, rest)
        case "reference":
            changes["reference_ohm"] = _references(rest.split(), line, header.source)
        case "two-port data order":
            changes["swapped"] = _choice(header, line, rest, ("12_21", "21_12")) == "21_12"
        case "matrix format":
            changes["matrix"] = _choice(header, line, rest.lower(), ("full", "lower", "upper"))
        case "mixed-mode order":
            raise fault(header.source, line, "mixed-mode parameters", "single-ended parameters")
    return evolve(header, **changes)


def _choice(header: Header, line: int, found: str, choices: tuple[str, ...]) -> str:
    if found not in choices:
        raise fault(header.source, line, f'"{found[:20]}"', " or ".join(choices))
    return found


def _whole(header: Header, line: int, rest: str) -> int:
    if not (rest.isascii() and rest.isdigit() and int(rest) > 0):
        raise fault(header.source, line, f'"{rest[:20]}"', "a whole number above 0")
    return int(rest)


def read_keyword(text: str, line: int, source: str) -> tuple[str, str]:
    """Return a keyword in small letters and what stands behind it."""
    match = re.match(r"\[([^\]]*)\]\s*(.*)", text)
    name = " ".join(match[1].lower().split()) if match else text
    if not match or name not in _KEYWORDS:
        raise fault(source, line, f'"{text[:40]}"', "the keywords of Touchstone 2, such as [Network Data]")
    return name, match[2].strip()


def _ports_by_name(source: str) -> int | None:
    match = re.search(r"\.[sygzh](\d{1,4})p$", source, re.IGNORECASE)
    return int(match[1]) if match else None
