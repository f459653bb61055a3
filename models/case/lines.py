"""Which line of a TOML text a key stands on, so that a message can point there."""

from __future__ import annotations

import re
from collections import Counter

from models.codec import KeyPath

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
_QUOTES = re.compile("\"\"\"|'''")
_LONGEST_LINE = 2000
_KEY = re.compile(r"""^\s*(?:"([^"]+)"|'([^']+)'|([A-Za-z0-9_-]+))\s*=""")


Lines = dict[KeyPath, int]


def line_at(lines: Lines, path: KeyPath) -> int | None:
    """Return the line of the innermost part of a path that has a line of its own, counted from 1."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


def lines_of(text: str) -> Lines:
    """Return the line of every header and key of a TOML text; what stands inside a text of several lines is none."""
    lines: Lines = {}
    counts: Counter[KeyPath] = Counter()
    table: KeyPath = ()
    inside = ""
    for number, line in enumerate(text.split("\n"), start=1):
        was_inside, inside = inside, _still_inside(line, inside)
        if was_inside or len(line) > _LONGEST_LINE:
            continue
        header = _HEADER.match(line)
        if header:
            table = _enter(header.group(2), header.group(1) == "[[", counts)
            lines.setdefault(table, number)
            continue
        key = _KEY.match(line)
        if key:
            lines.setdefault((*table, key.group(1) or key.group(2) or key.group(3)), number)
    return lines


def _still_inside(line: str, inside: str) -> str:
    """Return the quotes of the text of several lines that is open at the end of a line, empty where none is."""
    for quotes in _QUOTES.findall(line):
        if not inside:
            inside = quotes
        elif quotes == inside:
            inside = ""
    return inside


def _enter(name: str, repeated: bool, counts: Counter[KeyPath]) -> KeyPath:
    """Turn a header's dotted name into a path, with the number of the last table of each array on the way."""
    path: KeyPath = ()
    steps = [step.strip().strip("\"'") for step in name.split(".")]
    for place, step in enumerate(steps):
        path = (*path, step)
        last = place == len(steps) - 1
        if last and repeated:
            counts[path] += 1
        if counts[path]:
            path = (*path, counts[path] - 1)
    return path
