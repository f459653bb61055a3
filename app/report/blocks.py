"""What a report is made of: plain values in the order of reading, complete in themselves."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve, frozen

from app.present.section_specs import DrawingSpec
from app.present.specs import PlotSpec


@frozen(kw_only=True)
class Paragraph:
    """Some sentences; the role says how they stand out: body, lead, caution or small."""

    text: str
    role: str = "body"
    kind: str = "paragraph"


@frozen(kw_only=True)
class Bullets:
    """A list."""

    items: tuple[str, ...]
    kind: str = "bullets"


@frozen(kw_only=True)
class Heading:
    """A heading inside a section."""

    text: str
    kind: str = "heading"


@frozen(kw_only=True)
class Cell:
    """A cell of a table; the outcome is pass, fail, not-applicable or note."""

    text: str
    outcome: str = "note"
    strong: bool = False


@frozen(kw_only=True)
class Grid:
    """A table: a heading for each column, the first cell of each row being its heading."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    wide: bool = False
    """Whether the cells hold sentences, rather than numbers."""
    kind: str = "grid"


@frozen(kw_only=True, eq=False)
class Figure:
    """A picture: a plot, or a section drawing, with what it says in words."""

    spec: PlotSpec | DrawingSpec
    height: float
    alt: str
    caption: str = ""
    kind: str = "figure"


@frozen(kw_only=True)
class Listing:
    """Text as it stands in a file, which the report carries under a name."""

    text: str
    file: str
    kind: str = "listing"


MOST_COLUMNS = 6
"""Candidates that stand side by side on a page and are read with ease."""


def side_by_side(grid: Grid) -> Iterator[Grid]:
    """Yield a table with a column for each candidate; with many of them, as tables of few that are about as wide."""
    count = len(grid.head) - 1
    parts = -(-count // MOST_COLUMNS)
    if parts < 2:
        yield grid
        return
    for number in range(parts):
        own = slice(1 + number * count // parts, 1 + (number + 1) * count // parts)
        yield evolve(
            grid,
            caption=f"{grid.caption} Part {number + 1} of {parts}.",
            head=(grid.head[0], *grid.head[own]),
            rows=tuple((row[0], *row[own]) for row in grid.rows),
        )


Block = Paragraph | Bullets | Heading | Grid | Figure | Listing


@frozen(kw_only=True, eq=False)
class Section:
    """A part of the report under a heading."""

    key: str
    title: str
    blocks: tuple[Block, ...]


@frozen(kw_only=True, eq=False)
class Document:
    """A whole report.

    Attributes
    ----------
    title : of the first page
    ends : names of the two regions
    author : who answers for it; empty for nobody named
    origin : what produced it, for the foot of every page
    paper : a name of `PAPERS`
    sections : the answer first
    figures : of all sections, in order
    """

    title: str
    ends: tuple[str, str]
    author: str
    origin: str
    date: str
    paper: str
    sections: tuple[Section, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All pictures, in the order in which they stand."""
        return tuple(block for each in self.sections for block in each.blocks if isinstance(block, Figure))

    @property
    def listings(self) -> tuple[Listing, ...]:
        """All texts of files."""
        return tuple(block for each in self.sections for block in each.blocks if isinstance(block, Listing))
