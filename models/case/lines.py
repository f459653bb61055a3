"""Which line of a TOML text a key stands on, so that a message can point there."""

from __future__ import annotations

import re
from collections import Counter

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"""^\s*(?:"([^"]+)"|'([^']+)'|([A-Za-z0-9_-]+))\s*=""")


def line_of(text: str, path: tuple[str | int, ...]) -> int | None:
    """Return the line of the innermost part of a path that has a line of its own, counted from 1."""
    lines = _index(text)
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


def _index(text: str) -> dict[tuple[str | int, ...], int]:
    lines: dict[tuple[str | int, ...], int] = {}
    counts: Counter[tuple[str | int, ...]] = Counter()
    table: tuple[str | int, ...] = ()
    for number, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        if header:
            table = _enter(header.group(2), header.group(1) == "[[", counts)
            lines.setdefault(table, number)
            continue
        key = _KEY.match(line)
        if key:
            lines.setdefault((*table, key.group(1) or key.group(2) or key.group(3)), number)
    return lines


def _enter(name: str, repeated: bool, counts: Counter[tuple[str | int, ...]]) -> tuple[str | int, ...]:
    """Turn a header's dotted name into a path, with the number of the last table of each array on the way."""
    path: tuple[str | int, ...] = ()
    steps = [step.strip().strip("\"'") for step in name.split(".")]
    for place, step in enumerate(steps):
        path = (*path, step)
        last = place == len(steps) - 1
        if last and repeated:
            counts[path] += 1
        if counts[path]:
            path = (*path, counts[path] - 1)
    return path
