"""Text that fits: cut with an ellipsis, or set in two lines, by a measure that the screen gives."""

from __future__ import annotations

from app.present.section_specs import Measure

_DOTS = "…"


def elided(text: str, width: float, face: str, measure: Measure) -> str:
    """Return as much of a text as fits, with an ellipsis where some is missing; nothing where no two letters fit."""
    if measure(text, face) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if measure(text[:middle].rstrip() + _DOTS, face) <= width:
            low = middle
        else:
            high = middle - 1
    cut = text[:low].rstrip(" ,")
    return cut + _DOTS if len(cut) > 1 else ""


def wrapped(text: str, width: float, face: str, measure: Measure, *, lines: int) -> tuple[str, ...]:
    """Return a text in at most so many lines, broken at spaces, the last one cut where it has to be."""
    words = text.split()
    result: list[str] = []
    while words and len(result) < lines - 1:
        count = len(words)
        while count > 1 and measure(" ".join(words[:count]), face) > width:
            count -= 1
        result.append(" ".join(words[:count]))
        words = words[count:]
    if words:
        result.append(" ".join(words))
    return tuple(line for line in (elided(each, width, face, measure) for each in result) if line)
