"""The words of a lesson: a Markdown file in sections, numbers put in their places, and HTML of it."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Mapping

from attrs import frozen

from models.quantity import unbroken

_PLACE = re.compile(r"\{([a-z][a-z0-9_]*)\}")
_LINK = re.compile(r"\[([^\]]+)\]\((curve|at|part):([^)]+)\)")
_TAG, _Y_HYPHEN = re.compile(r"(<[a-z/][^>]*>)"), re.compile(r"(?<=\bY)-(?=cap)")
_BOLD, _LEANING = re.compile(r"\*\*(.+?)\*\*"), re.compile(r"\*(.+?)\*")


@frozen(kw_only=True)
class Section:
    """One section of a text file: its name, its words, and the line it begins on."""

    name: str
    words: str
    line: int


def sections(text: str) -> tuple[Section, ...]:
    """Return the sections of a text: ``# dc`` begins the section dc, ``## why`` in it dc/why."""
    found: list[tuple[str, int, list[str]]] = []
    step = ""
    for number, line in enumerate(text.splitlines(), start=1):
        if line.startswith("## "):
            found.append((f"{step}/{line[3:].strip()}", number, []))
        elif line.startswith("# "):
            step = line[2:].strip()
            found.append((step, number, []))
        elif found:
            found[-1][2].append(line)
    return tuple(Section(name=name, words="\n".join(lines).strip(), line=number) for name, number, lines in found)


def names_in(text: str) -> tuple[str, ...]:
    """Return the names of the numbers that a text has places for."""
    return tuple(_PLACE.findall(text))


def links_in(text: str) -> tuple[tuple[str, str], ...]:
    """Return what a text points at: (``curve``, ``at`` or ``part``; which)."""
    return tuple((kind, target) for _, kind, target in _LINK.findall(text))


def filled(text: str, shown: Callable[[str], str]) -> str:
    """Return a text with every number in its place."""
    return _PLACE.sub(lambda match: shown(match[1]), text)


def held_together(text: str) -> str:
    """Return a text or HTML in which no line ends between number and unit, nor inside "Y-"; tags stay as they are."""
    parts = _TAG.split(text)
    parts[::2] = [_Y_HYPHEN.sub("\N{NON-BREAKING HYPHEN}", unbroken(words)) for words in parts[::2]]
    return "".join(parts)


def as_html(text: str, *, links: bool = True) -> str:
    """Return Markdown of paragraphs, lists, bold and slanted words as HTML; links only where they lead anywhere."""
    blocks = [block for block in re.split(r"\n\s*\n", text.strip()) if block.strip()]
    return "".join(_block(block, links=links) for block in blocks)


def plain(text: str) -> str:
    """Return a text without its marks, on one line."""
    words = _LINK.sub(lambda match: match[1], " ".join(text.split()))
    return _LEANING.sub(r"\1", _BOLD.sub(r"\1", words))


def _block(block: str, *, links: bool) -> str:
    lines = block.splitlines()
    if not lines[0].startswith("- "):
        return f"<p>{_inline(' '.join(lines), links=links)}</p>"
    items = re.split(r"(?m)^- ", block)[1:]
    return "<ul>" + "".join(f"<li>{_inline(' '.join(item.split()), links=links)}</li>" for item in items) + "</ul>"


def _inline(text: str, *, links: bool) -> str:
    escaped = html.escape(text, quote=False)
    linked = _LINK.sub(r'<a href="\2:\3">\1</a>' if links else r"\1", escaped)
    return held_together(_LEANING.sub(r"<i>\1</i>", _BOLD.sub(r"<b>\1</b>", linked)))


def unknown_names(text: str, known: Mapping[str, object]) -> tuple[str, ...]:
    """Return the names that a text has places for, and that nothing fills."""
    return tuple(name for name in names_in(text) if name not in known)
