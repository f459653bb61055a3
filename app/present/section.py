"""The section drawing: the board from the side, and which way the current returns at the cursor. Layout only, no Qt."""

from __future__ import annotations

from functools import partial

from attrs import Factory, define

from app.present.section_arcs import draw_arcs
from app.present.section_contents import Contents, contents
from app.present.section_currents import currents, region_card
from app.present.section_drives import draw_drives
from app.present.section_levels import Plan, plan, wanted_height
from app.present.section_links import Bar, bars, draw_cables, draw_links, draw_metal
from app.present.section_sketch import Sketch
from app.present.section_specs import Box, DrawingSpec, ItemKey, Measure, StripSpec
from app.present.section_zones import earth_room
from app.present.specs import Ink
from app.present.tabs import ink
from app.state.results import Reading
from app.state.view import View
from models.case.document import Case
from models.quantity import format_quantity

_LEAST_WIDTH = 240.0
_PAD = 6.0
_PLANS_KEPT = 4
_ORDER = ("transformer", "branch", "gap", "coupling", "source", "case", "cable")


def section_title(view: View) -> tuple[str, str]:
    """Return the head line of the drawing and the word beside it."""
    return "Where the current returns", f"at the cursor, {format_quantity(view.cursor_hz, 'Hz', digits=3)}"


@define
class Drafter:
    """Draws the section for one window; what only an edit or another size can change is kept from frame to frame."""

    measure: Measure
    _what: tuple[Case, int, Contents] | None = None
    _plans: dict[tuple[float, float], Plan] = Factory(dict)
    _heights: dict[float, float] = Factory(dict)

    def draw(
        self,
        case: Case,
        readings: tuple[Reading, ...],
        view: View,
        size: tuple[float, float],
        *,
        chosen: ItemKey | None = None,
    ) -> DrawingSpec:
        """Return the drawing of a case with its selected candidate, laid out for a width and height.

        Where the height does not suffice the drawing is higher than asked for. ``chosen`` is the part that is selected.
        """
        what = self._contents(case, view.candidate)
        width = max(size[0], _LEAST_WIDTH)
        at = (width, size[1])
        if at not in self._plans:
            if len(self._plans) == _PLANS_KEPT:
                self._plans.clear()
            self._plans[at] = plan(what, width, size[1], self.measure)
        measured = readings[view.candidate].paths if view.candidate < len(readings) else ()
        sketch = Sketch(
            plan=self._plans[at],
            measure=self.measure,
            currents=currents(view.cursor_hz, measured),
            subject=view.subject,
            chosen=chosen if view.subject == ("candidate", view.candidate) else None,
        )
        return _drawing(sketch, what, width, ink(view.candidate))

    def height(self, case: Case, view: View, width: float) -> float:
        """Return the height at which the drawing is at ease."""
        what = self._contents(case, view.candidate)
        if width not in self._heights:
            self._heights = {width: wanted_height(what, max(width, _LEAST_WIDTH), self.measure)}
        return self._heights[width]

    def _contents(self, case: Case, candidate: int) -> Contents:
        if self._what is None or self._what[0] is not case or self._what[1] != candidate:
            self._what = case, candidate, contents(case, candidate)
            self._plans, self._heights = {}, {}
        return self._what[2]


def _drawing(sketch: Sketch, what: Contents, width: float, colour: Ink) -> DrawingSpec:
    """Return the drawing of the contents of a case by its plan."""
    metal = bars(sketch, what)
    draw_arcs(sketch, what)
    draw_drives(sketch, what)
    _draw_board(sketch, what)
    draw_links(sketch, what, metal)
    draw_metal(sketch, what, metal)
    draw_cables(sketch, what, metal)
    _draw_strips(sketch, metal)
    right = _draw_earth(sketch, what, width)
    return DrawingSpec(
        width=width,
        height=sketch.plan.levels.height,
        ink=colour,
        board=tuple(sketch.board),
        ribbons=tuple(sketch.ribbons),
        lines=tuple(sketch.lines),
        metal=tuple(sketch.metal),
        symbols=tuple(sketch.symbols),
        badges=tuple(sketch.badges),
        texts=tuple(sketch.texts),
        items=tuple(sorted(sketch.items, key=lambda item: _ORDER.index(item.key.kind))),
        earth=(0.0, right, sketch.plan.levels.earth),
        summary=sketch.currents.summary(what),
    )


def _draw_board(sketch: Sketch, what: Contents) -> None:
    """Write the names of the pair into the board, at its two ends."""
    zones, levels, density = sketch.plan.zones, sketch.plan.levels, sketch.density
    sides = ((what.a, zones.left, "left"), (what.b, zones.right, "right"))
    for place, (region, zone, align) in enumerate(sides):
        room = zone.width + density.trunk - 12.0
        left = zone.left + 10.0 if align == "left" else zone.right - 10.0 - room
        box = Box(left=left, top=levels.board, width=room, height=density.board)
        name = sketch.text(region, box, face="strong", align=align)
        if name is None:
            continue
        sketch.item(ItemKey(kind="case", part=place), region, name.grown(2.0), partial(region_card, what, region))
        note = what.notes.get(region, "")
        rest = room - name.width - 10.0
        if density.notes and note and sketch.measure(note, "small") <= rest:
            left = name.right + 10.0 if align == "left" else name.left - 10.0 - rest
            box = Box(left=left, top=levels.board, width=rest, height=density.board)
            sketch.text(note, box, role="muted", align=align)


def _draw_strips(sketch: Sketch, metal: tuple[Bar, ...]) -> None:
    """Lay the board, the copper on it, the pads under it and the further regions."""
    zones, levels, density = sketch.plan.zones, sketch.plan.levels, sketch.density
    left, right = zones.left.left, zones.right.right
    board = Box(left=left, top=levels.copper, width=right - left, height=levels.floor - levels.copper)
    sketch.board.append(StripSpec(box=board, role="board", radius=2.0))
    reach = density.trunk
    for low, high in ((left, zones.centre.left + reach), (zones.centre.right - reach, right)):
        box = Box(left=low, top=levels.copper, width=high - low, height=density.copper)
        sketch.metal.append(StripSpec(box=box, role="copper", radius=2.0))
    sketch.metal += [StripSpec(box=bar.box, role="metal", radius=3.0) for bar in metal]
    sketch.metal += [StripSpec(box=_pad(x, width, levels.floor), role="copper") for x, width in _feet(sketch)]


def _feet(sketch: Sketch) -> list[tuple[float, float]]:
    """Return centre and width of every pad under the board: what hangs there is joined to the copper through it."""
    floor = sketch.plan.levels.floor
    ends = [point for line in sketch.lines for point in (line.points[0], line.points[-1]) if point[1] == floor]
    widths: dict[float, float] = {round(x, 1): 2 * _PAD for x, _ in ends}
    for ribbon in sketch.ribbons:
        for x, y in (ribbon.points[0], ribbon.points[-1]):
            if y == floor:
                widths[round(x, 1)] = max(widths.get(round(x, 1), 0.0), ribbon.width + 4.0)
    return list(widths.items())


def _pad(x: float, width: float, floor: float) -> Box:
    return Box(left=x - width / 2, top=floor - 1.0, width=width, height=3.0)


def _draw_earth(sketch: Sketch, what: Contents, width: float) -> float:
    """Write the name of the surroundings at the end of the hatched line; return where the line ends."""
    levels = sketch.plan.levels
    room = earth_room(what, width, sketch.measure)
    box = Box(left=width - room + 8.0, top=levels.earth - 5.0, width=room - 8.0, height=14.0)
    sketch.text(what.earth, box, role="muted", align="right")
    return width - room
