"""Text of a measurement file, whatever wrote it: any encoding and line end, or a plain refusal."""

from __future__ import annotations

import codecs
import re
from pathlib import Path

import numpy as np

from models.arrays import Real
from models.fitting.data import fault

LIMIT_BYTES = 32 * 2**20
"""Room for the longest sweep of an analyser, all four parameters of two ports; what is longer takes minutes."""

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?|[+-]?(inf|infinity|nan)", re.IGNORECASE | re.ASCII)


def read_lines(path: str | Path) -> list[str]:
    r"""Return a file's lines.

    Reads UTF-8 with or without byte order mark, UTF-16 with or without, else Latin-1; lines end in LF, CRLF or CR.

    Parameters
    ----------
    path : file

    Returns
    -------
    list of str, without line ends

    Raises
    ------
    DataError
        For a file that is not there, is too large, or is not text.
    """
    path = Path(path)
    try:
        # no more than that of a pipe or a device, which does not say how long it is
        with path.open("rb") as stream:
            raw = stream.read(LIMIT_BYTES + 1)
    except (OSError, ValueError) as error:
        found = getattr(error, "strerror", None) or str(error)
        raise fault(path, None, found.lower(), "a file that can be read") from None
    if len(raw) > LIMIT_BYTES:
        most = f"{LIMIT_BYTES // 2**20} MB"
        raise fault(path.name, None, f"more than {most}", f"files of at most {most}")
    text = _decoded(raw, path.name).rstrip("\x1a")
    if "\0" in text or not text.strip():
        raise fault(path.name, None, "bytes that are not text" if text.strip() else "an empty file", "a text file")
    return re.split(r"\r\n|\r|\n", text)


def is_number(token: str) -> bool:
    """Return whether a token is a plain decimal number, or a stated inf or nan."""
    return _NUMBER.fullmatch(token) is not None


def to_numbers(rows: list[tuple[int, list[str]]], source: str) -> Real:
    """Turn the tokens of numbered lines into one flat array of numbers.

    Parameters
    ----------
    rows : (line number, tokens) of each line
    source : name for messages

    Returns
    -------
    (N,) all tokens in order

    Raises
    ------
    DataError
        For the first token that is not a number, with its line.
    """
    tokens = [token for _, row in rows for token in row]
    try:
        if not all(map(str.isascii, tokens)) or any("_" in token for token in tokens):
            raise ValueError
        return np.array(tokens, np.float64)
    except ValueError:
        line, bad = next((line, token) for line, row in rows for token in row if not is_number(token))
        raise fault(source, line, f'"{bad[:40]}"', "numbers such as -1.25e-3, with a point") from None


def _decoded(raw: bytes, source: str) -> str:
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return _strictly(raw, "utf-16", source)
    if raw.startswith(codecs.BOM_UTF8):
        return _strictly(raw, "utf-8-sig", source)
    # plain text in UTF-16 has its zero bytes on one side only
    first, second = raw[:512:2], raw[1:512:2]
    for zeros, others, encoding in ((second, first, "utf-16-le"), (first, second, "utf-16-be")):
        if zeros.count(0) > 0.8 * len(zeros) and not others.count(0):
            return _strictly(raw, encoding, source)
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        return raw.decode("latin-1")


def _strictly(raw: bytes, encoding: str, source: str) -> str:
    try:
        return raw.decode(encoding)
    except UnicodeDecodeError as error:
        found = f"a byte at {error.start} that is not {encoding.upper()}"
        raise fault(source, None, found, "text in UTF-8, UTF-16 or Latin-1") from None
