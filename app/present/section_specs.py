"""What the section drawing is made of: plain values in logical pixels, and the things in it that can be chosen."""

from __future__ import annotations

from collections.abc import Callable

from attrs import field, frozen

from app.present.specs import Ink

Point = tuple[float, float]
Measure = Callable[[str, str], float]
"""(text, face) → its width in logical pixels; a face is a name of the type scale, such as ``"small"``."""


@frozen(kw_only=True)
class Box:
    """An upright rectangle."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """The right edge."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """The lower edge."""
        return self.top + self.height

    @property
    def middle(self) -> Point:
        """The centre."""
        return self.left + self.width / 2, self.top + self.height / 2

    def holds(self, x: float, y: float) -> bool:
        """Return whether a point lies inside."""
        return self.left <= x <= self.right and self.top <= y <= self.bottom

    def meets(self, other: Box) -> bool:
        """Return whether two rectangles share more than an edge."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def grown(self, by: float) -> Box:
        """Return the rectangle with a margin all round."""
        return Box(left=self.left - by, top=self.top - by, width=self.width + 2 * by, height=self.height + 2 * by)


@frozen(kw_only=True, cache_hash=True)
class ItemKey:
    """Which thing of the case an item is.

    ``branch`` counts the branches of the selected candidate and has the part in it, −1 for the whole branch; ``gap`` is
    the place where a branch can be added; every other kind is a subject of the inspector. The regions all lead to the
    subject ``case``, and ``part`` tells them apart.
    """

    kind: str
    index: int = 0
    part: int = -1


@frozen(kw_only=True)
class TextSpec:
    """One line of text in its box."""

    text: str
    box: Box
    role: str = "text"
    face: str = "small"
    ground: bool = False
    """Whether what runs behind it is covered, so that a thin ribbon does not strike it out."""


@frozen(kw_only=True, eq=False)
class LineSpec:
    """A wire, or the current along it: points joined by straight lines with rounded corners."""

    points: tuple[Point, ...]
    radius: float = 0.0
    width: float = 1.4
    role: str = "text"
    """A colour of the theme; ``flow`` for the current along a wire, dashed in the ink of the candidate."""


@frozen(kw_only=True, eq=False)
class RibbonSpec:
    """The current of one path as a band whose width is its share."""

    key: ItemKey
    points: tuple[Point, ...]
    radius: float
    width: float
    share: float


@frozen(kw_only=True)
class SymbolSpec:
    """A sign of the trade, drawn lengthwise about its centre."""

    kind: str
    at: Point
    length: float
    height: float
    upright: bool = False
    role: str = "text"

    @property
    def box(self) -> Box:
        """What the sign covers."""
        wide, high = (self.height, self.length) if self.upright else (self.length, self.height)
        return Box(left=self.at[0] - wide / 2, top=self.at[1] - high / 2, width=wide, height=high)


@frozen(kw_only=True)
class StripSpec:
    """A filled area: copper, board, or the metal of a further region."""

    box: Box
    role: str
    radius: float = 0.0


@frozen(kw_only=True, eq=False)
class BadgeSpec:
    """The share of a path in percent, in a rounded frame."""

    text: str
    box: Box
    face: str


@frozen(kw_only=True, eq=False)
class ItemSpec:
    """Something that can be pointed at, chosen and walked to."""

    key: ItemKey
    name: str
    box: Box
    card: Callable[[], str]
    """What stands on its card, worked out when a person asks for it: an impedance at the cursor takes a while."""
    selected: bool = False


@frozen(kw_only=True, eq=False)
class DrawingSpec:
    """The whole drawing, from back to front: strips, ribbons, lines, symbols, badges, texts."""

    width: float
    height: float
    ink: Ink = field(factory=Ink)
    board: tuple[StripSpec, ...] = ()
    ribbons: tuple[RibbonSpec, ...] = ()
    lines: tuple[LineSpec, ...] = ()
    metal: tuple[StripSpec, ...] = ()
    symbols: tuple[SymbolSpec, ...] = ()
    badges: tuple[BadgeSpec, ...] = ()
    texts: tuple[TextSpec, ...] = ()
    items: tuple[ItemSpec, ...] = ()
    earth: tuple[float, float, float] = (0.0, 0.0, 0.0)
    """Left and right end and height of the hatched line."""
    summary: str = ""
    """The drawing in a sentence, for assistive tools."""
