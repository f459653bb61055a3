"""A pencil for small drawings: metal, insulation, dimensions with their values, words; collected into a drawing."""

from __future__ import annotations

from app.present.section_specs import Box, DrawingSpec, LineSpec, Measure, Point, StripSpec, TextSpec

WIDTH, HEIGHT = 300.0, 170.0
_TICK = 4.0
_LINE = 16.0
_AIR = 6.0


class Pencil:
    """Draws on a sheet of WIDTH × HEIGHT; texts are as wide as ``measure`` says."""

    def __init__(self, measure: Measure) -> None:
        self._measure = measure
        self._board: list[StripSpec] = []
        self._metal: list[StripSpec] = []
        self._lines: list[LineSpec] = []
        self._texts: list[TextSpec] = []
        self._earth = (0.0, 0.0, 0.0)

    def copper(self, left: float, top: float, width: float, height: float) -> None:
        """Draw a conductor of one side."""
        self._board.append(StripSpec(box=Box(left=left, top=top, width=width, height=height), role="copper", radius=2))

    def metal(self, left: float, top: float, width: float, height: float) -> None:
        """Draw a conductor of the other side, or a body."""
        self._metal.append(StripSpec(box=Box(left=left, top=top, width=width, height=height), role="metal", radius=2))

    def filling(self, left: float, top: float, width: float, height: float) -> None:
        """Draw insulation."""
        self._board.append(StripSpec(box=Box(left=left, top=top, width=width, height=height), role="board"))

    def wire(self, middle: Point, diameter: float) -> None:
        """Draw a round conductor seen from its end."""
        x, y = middle[0] - diameter / 2, middle[1] - diameter / 2
        box = Box(left=x, top=y, width=diameter, height=diameter)
        self._board.append(StripSpec(box=box, role="copper", radius=diameter / 2))

    def plane(self, y: float, left: float = 24.0, right: float = WIDTH - 24.0) -> None:
        """Draw the conducting plane, hatched as the earth is."""
        self._earth = (left, right, y)

    def line(self, *points: Point, role: str = "muted", width: float = 1.0, radius: float = 0.0) -> None:
        """Draw a line through points."""
        self._lines.append(LineSpec(points=points, radius=radius, width=width, role=role))

    def words(self, x: float, y: float, text: str, *, align: str = "center", role: str = "muted") -> None:
        """Write a text about a point, or from it on, or up to it."""
        width = self._measure(text, "small")
        left = {"left": x, "center": x - width / 2, "right": x - width}[align]
        left = min(max(left, 0.0), max(WIDTH - width, 0.0))
        self._texts.append(
            TextSpec(text=text, box=Box(left=left, top=y - _LINE / 2, width=width, height=_LINE), role=role)
        )

    def across(self, left: float, right: float, y: float, text: str, *, below: bool = False) -> None:
        """Draw a dimension from left to right, its value above or below it."""
        self.line((left, y), (right, y))
        for x in (left, right):
            self.line((x, y - _TICK), (x, y + _TICK))
        self.words((left + right) / 2, y + (1 if below else -1) * (_LINE / 2 + 3), text, role="text")

    def upright(self, x: float, top: float, bottom: float, text: str, *, before: bool = False) -> None:
        """Draw an upright dimension, its value behind or before it."""
        self.line((x, top), (x, bottom))
        for y in (top, bottom):
            self.line((x - _TICK, y), (x + _TICK, y))
        at = x - _AIR - _TICK if before else x + _AIR + _TICK
        self.words(at, (top + bottom) / 2, text, align="right" if before else "left", role="text")

    def arrow(self, *points: Point) -> None:
        """Draw the way of a current, an arrowhead at its end."""
        self.line(*points, role="text", width=1.6, radius=10.0)
        (x0, y0), (x, y) = points[-2:]
        length = max(abs(x - x0) + abs(y - y0), 1e-9)
        dx, dy = (x - x0) / length, (y - y0) / length
        for side in (1, -1):
            barb = (x - 7 * dx + 4 * side * dy, y - 7 * dy - 4 * side * dx)
            self.line(barb, (x, y), role="text", width=1.6)

    def drawing(self, summary: str) -> DrawingSpec:
        """Return what was drawn."""
        return DrawingSpec(
            width=WIDTH,
            height=HEIGHT,
            board=tuple(self._board),
            lines=tuple(self._lines),
            metal=tuple(self._metal),
            texts=tuple(self._texts),
            earth=self._earth,
            summary=summary,
        )
