"""TOML that a person wrote: its text and its tables, or one message that says why it cannot be read."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from models.errors import CaseError, Problem

LARGEST_BYTES = 4_000_000
"""Such files are written by people; past this it is some other file."""
_MOST_STEPS = 2000**2
"""A parser takes a step for each dot of a key at each of its dots."""

_QUOTED = 'a number such as 0.5, or a text in quotes, with its unit: "2.2 nF"'
_LINE = "key = value, [table], [[table of a list]] or # comment"
_NO_LINE = ("a line that TOML does not have", _LINE)
_OPEN = ("a text without its closing quote", _QUOTED)
_TWICE = ("a key or table that stands there already", "each key once, and [[table]] for several of a kind")
_PLAIN: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "Expected newline": ("more text after the value", _QUOTED),
        "Invalid value": ("something that is no value", _QUOTED),
        "Unclosed inline table": ("neither a comma nor } in a table", _QUOTED),
        "Unclosed array": ("neither a comma nor ] in a list", _QUOTED),
        "Illegal character '\\n'": _OPEN,
        "Unterminated string": _OPEN,
        "Expected \"'": _OPEN,
        "Unescaped": ("a \\ in a text", r"/ in the name of a file, or \\ for one \ in quotes"),
        "Cannot": _TWICE,
        "Duplicate inline table key": _TWICE,
        "Expected '='": _NO_LINE,
        "Invalid statement": _NO_LINE,
        "Invalid initial character": _NO_LINE,
        "Expected ']": ("a table whose name does not end", _LINE),
    }
)
"""What is found and accepted, by how a parser begins to say it."""


def read_text(path: Path, noun: str = "case file") -> str:
    """Return the text of a file.

    Parameters
    ----------
    path : the file
    noun : what it should be, for the message

    Raises
    ------
    CaseError
        for a file that cannot be opened, is larger than 4 MB, or is no UTF-8
    """
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise refusal(path.name, error.strerror or str(error), f"a {noun} that can be read") from None
    if len(raw) > LARGEST_BYTES:
        raise refusal(path.name, f"more than {LARGEST_BYTES // 1_000_000} MB", f"a {noun} in TOML, usually a few kB")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refusal(path.name, f"a byte that is not UTF-8 at offset {error.start}", "a TOML text in UTF-8") from None


def parse_tables(text: str, source: str) -> dict[str, Any]:
    """Return the tables of a TOML text.

    Parameters
    ----------
    text : TOML
    source : name for the message

    Raises
    ------
    CaseError
        for broken TOML, and for what a parser would choke on
    """
    try:
        return tomllib.loads(_of_sensible_depth(text, source))
    except tomllib.TOMLDecodeError as error:
        raise CaseError([_broken(str(error))], source) from None
    except ValueError:
        raise refusal(source, "a whole number of thousands of digits", "numbers of up to 1e30") from None
    except RecursionError:
        raise refusal(source, "lists or tables nested too deeply", "a TOML text") from None


def refusal(source: str, found: str, accepted: str) -> CaseError:
    """Return the error of a file that is wrong as a whole."""
    return CaseError([Problem(where="file", found=found, accepted=accepted)], source)


def _broken(said: str) -> Problem:
    """Return what a parser says of broken TOML in the words of somebody who writes a case."""
    words, _, place = said.removesuffix(")").rpartition(" (at ")
    at = re.fullmatch(r"line (\d+), column (\d+)", place)
    found, accepted = next(
        (plain for start, plain in _PLAIN.items() if words.startswith(start)), (words, "a TOML text")
    )
    where = f"at column {at[2]}" if at else "at the end of the file"
    return Problem(
        where="file", found=f"broken TOML: {found} {where}", accepted=accepted, line=int(at[1]) if at else None
    )


def _of_sensible_depth(text: str, source: str) -> str:
    """Refuse dotted keys of thousands of steps, or thousands of long ones, over which a TOML parser takes minutes."""
    steps = 0
    for number, line in enumerate(text.splitlines(), start=1):
        steps += line.count(".") ** 2
        if steps > _MOST_STEPS:
            raise refusal(source, f"too many dots on line {number}", "keys of a few dotted steps")
    return text
