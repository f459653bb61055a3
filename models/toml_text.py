"""TOML that a person wrote: its text and its tables, or one message that says why it cannot be read."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from models.errors import CaseError, Problem

LARGEST_BYTES = 4_000_000
"""Such files are written by people; past this it is some other file."""
MOST_DOTS = 2000


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
        raise refusal(source, f"broken TOML: {error}", "a TOML text") from None
    except ValueError:
        raise refusal(source, "a whole number of thousands of digits", "numbers of up to 1e30") from None
    except RecursionError:
        raise refusal(source, "lists or tables nested too deeply", "a TOML text") from None


def refusal(source: str, found: str, accepted: str) -> CaseError:
    """Return the error of a file that is wrong as a whole."""
    return CaseError([Problem(where="file", found=found, accepted=accepted)], source)


def _of_sensible_depth(text: str, source: str) -> str:
    """Refuse dotted keys of thousands of steps, over which a TOML parser takes minutes."""
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") > MOST_DOTS:
            raise refusal(source, f"more than {MOST_DOTS} dots on line {number}", "keys of a few dotted steps")
    return text
