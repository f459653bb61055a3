"""What bridges the gap: branches and transformers arcing over it, couplings under it, each with its parts in a row."""

from __future__ import annotations

import math
from collections.abc import Sequence

from attrs import frozen

from app.present.section_contents import Contents, Path, Sign
from app.present.section_sketch import Sketch, Stop, around
from app.present.section_specs import Box, ItemKey, Point, SymbolSpec
from app.present.section_text import elided

_AIR = 4.0
_FEWEST_FOR_A_PART = 24.0
_SHORTEST_SYMBOL = 17.0


@frozen(kw_only=True, eq=False)
class Arc:
    """One way over the gap: up, or down, from where the copper is, across, and back."""

    path: Path
    y: float
    anchor: float
    left: float
    right: float

    @property
    def corners(self) -> tuple[Point, ...]:
        """Return the four corners from the left foot to the right one."""
        return (self.left, self.anchor), (self.left, self.y), (self.right, self.y), (self.right, self.anchor)

    def pieces(self, stops: Sequence[Stop]) -> list[tuple[Point, ...]]:
        """Return what is left of the wire between the stops."""
        (foot, rise, fall, end), y = self.corners, self.y
        starts: list[tuple[Point, ...]] = [(foot, rise)]
        for low, high in stops:
            starts[-1] = (*starts[-1], (low, y))
            starts.append(((high, y),))
        starts[-1] = (*starts[-1], fall, end)
        return starts


def draw_arcs(sketch: Sketch, what: Contents) -> None:
    """Draw everything that bridges the gap, with the place where a branch can be added."""
    plan, density = sketch.plan, sketch.density
    for arc in _arcs(sketch, what.above, plan.levels.rungs, plan.levels.copper):
        _draw_above(sketch, arc)
    if not what.branches:
        y = plan.levels.rungs[-1]
        span = plan.zones.centre
        sketch.text(
            what.nothing, Box(left=span.left, top=y - 8, width=span.width, height=16), role="muted", align="middle"
        )
    _draw_gap(sketch)
    below = [plan.levels.floor + 5.0 + density.gap_pitch * (k + 0.5) for k in range(len(what.gaps))]
    # the lowest one is the outermost, as the highest one is above
    for arc in reversed(_arcs(sketch, what.gaps[::-1], below[::-1], plan.levels.floor)):
        _draw_below(sketch, arc)


def _arcs(sketch: Sketch, paths: Sequence[Path], heights: Sequence[float], anchor: float) -> list[Arc]:
    """Return the arcs with their feet beside each other, the first one outermost."""
    span = sketch.plan.zones.centre
    feet = sketch.lanes(paths)
    return [
        Arc(path=path, y=y, anchor=anchor, left=span.left + _AIR + foot, right=span.right - _AIR - foot)
        for path, y, foot in zip(paths, heights, feet, strict=False)
    ]


def _run(sketch: Sketch) -> tuple[float, float]:
    """Return between where the parts of an arc may stand."""
    span, inset = sketch.plan.zones.centre, sketch.density.ribbon + _AIR + sketch.density.corner + 2.0
    return span.left + inset, span.right - inset


def _draw_above(sketch: Sketch, arc: Arc) -> None:
    low, high = _run(sketch)
    badge_room = sketch.density.badge[0] + 2 * _AIR
    roomy = high - low - 2 * badge_room >= _ease(sketch, arc.path)
    slots = (low + badge_room if roomy else low, high - badge_room)
    signs = _fitting(arc.path.signs, slots)
    stops, boxes = _draw_signs(sketch, arc, signs, slots)
    badge = sketch.badge(arc.path, (high, arc.y), align="right")
    if badge is not None:
        stops.append((badge.left, badge.right))
    _draw_wire(sketch, arc, stops)
    if arc.path.whole:
        sketch.path_item(arc.path, around(boxes))
        return
    half = max(sketch.density.ribbon, sketch.density.symbol[1]) / 2
    whole = Box(left=low - 8.0, top=arc.y - half, width=high - low + 16.0, height=2 * half)
    sketch.path_item(arc.path, around([whole, *boxes], 0.0))
    for sign, box in zip(signs, boxes, strict=True):
        sketch.part_item(arc.path, sign, box.grown(2.0))


def _ease(sketch: Sketch, path: Path) -> float:
    """Return the width at which the parts of a path stand at ease with their labels."""
    if sketch.density.labels_under and not path.whole:
        return 70.0 * len(path.signs)
    widest = max(sketch.measure(_words(sketch, path, sign, math.inf), "small") for sign in path.signs)
    return (sketch.density.symbol[0] + widest + 16.0) * len(path.signs)


def _fitting(signs: tuple[Sign, ...], room: tuple[float, float]) -> tuple[Sign, ...]:
    """Return the symbols that find room, the last one standing for all that do not."""
    fit = max(int((room[1] - room[0]) / _FEWEST_FOR_A_PART), 1)
    return signs if len(signs) <= fit else (*signs[: fit - 1], _rest(signs[fit - 1 :]))


def _draw_signs(
    sketch: Sketch, arc: Arc, signs: tuple[Sign, ...], room: tuple[float, float]
) -> tuple[list[Stop], list[Box]]:
    """Draw the parts of an arc in a row; return where they interrupt the wire, and what each covers."""
    low, high = room
    width = (high - low) / len(signs)
    stops: list[Stop] = []
    boxes: list[Box] = []
    draw = _label_under if sketch.density.labels_under and not arc.path.whole else _label_beside
    for place, sign in enumerate(signs):
        stop, box = draw(sketch, arc, sign, (low + place * width, low + (place + 1) * width))
        stops.append(stop)
        boxes.append(box)
    return stops, boxes


def _rest(signs: Sequence[Sign]) -> Sign:
    """Return one sign for the parts that do not fit; choosing it chooses the first of them."""
    return Sign(
        kind="series",
        value=f"{len(signs)} more",
        key=signs[0].key,
        name="; ".join(sign.name for sign in signs),
        parts=tuple(part for sign in signs for part in sign.parts),
    )


def _label_under(sketch: Sketch, arc: Arc, sign: Sign, slot: tuple[float, float]) -> tuple[Stop, Box]:
    """Draw a symbol with its value under it."""
    density, middle = sketch.density, (slot[0] + slot[1]) / 2
    length = min(density.symbol[0], slot[1] - slot[0] - 2 * _AIR)
    symbol = SymbolSpec(kind=sign.kind, at=(middle, arc.y), length=length, height=density.symbol[1])
    sketch.symbols.append(symbol)
    half = max(density.ribbon, density.symbol[1]) / 2
    if len(arc.path.signs) == 1:
        # alone, its label may reach under the badge as well
        reach = min(_run(sketch)[1] - middle, middle - _run(sketch)[0])
        slot = middle - reach, middle + reach
    box = Box(left=slot[0] + 3, top=arc.y + half + 1, width=slot[1] - slot[0] - 6, height=density.line)
    text = sketch.text(_words(sketch, arc.path, sign, box.width), box, align="middle")
    covered = [symbol.box] if text is None else [symbol.box, text]
    return (symbol.box.left, symbol.box.right), around(covered, 0.0)


def _label_beside(sketch: Sketch, arc: Arc, sign: Sign, slot: tuple[float, float]) -> tuple[Stop, Box]:
    """Draw a symbol with its value at its right, where the wire gives way; both stand in the middle."""
    density, width = sketch.density, slot[1] - slot[0] - 2 * _AIR
    length = min(density.symbol[0], width)
    if not arc.path.whole:
        # a shorter symbol rather than one without its value
        length = min(length, max(width - _AIR - sketch.measure(sign.value, "small"), _SHORTEST_SYMBOL))
    words = _words(sketch, arc.path, sign, width - length - _AIR)
    label = sketch.measure(words, "small")
    left = (slot[0] + slot[1] - length - (label + _AIR if words else 0.0)) / 2
    taller = 7.0 if sign.kind == "transformer" and density.notes else 0.0
    at = (left + length / 2, arc.y)
    height = density.symbol[1] + taller
    if arc.y > arc.anchor:
        height = min(height, density.gap_pitch - _AIR)
    symbol = SymbolSpec(kind=sign.kind, at=at, length=length, height=height)
    sketch.symbols.append(symbol)
    box = Box(left=left + length + _AIR, top=arc.y - density.line / 2, width=label + 0.5, height=density.line)
    text = sketch.text(words, box, ground=sketch.ribbon_width(arc.path) < density.line)
    if text is None:
        return (symbol.box.left, symbol.box.right), symbol.box
    return (symbol.box.left, text.right + _AIR), around([symbol.box, text], 0.0)


def _words(sketch: Sketch, path: Path, sign: Sign, width: float) -> str:
    """Return what to write at a symbol: as much as fits, but a value in full or not at all."""
    if not path.whole:
        wanted: tuple[str, ...] = (f"{sign.value}{sign.suffix}", sign.value)
    elif path.note and sketch.density.notes:
        full = f"{path.name}  {sign.value}"
        wanted = (f"{full}, {path.note}", full)
    else:
        wanted = (f"{path.name}  {sign.value}",)
    last = "" if not path.whole else elided(path.name, width, "small", sketch.measure)
    return next((text for text in wanted if sketch.measure(text, "small") <= width), last)


def _draw_wire(sketch: Sketch, arc: Arc, stops: list[Stop]) -> None:
    corner = sketch.density.corner
    sketch.current(arc.path, arc.corners, corner)
    for piece in arc.pieces(stops):
        sketch.wire(arc.path, piece, corner)


def _draw_below(sketch: Sketch, arc: Arc) -> None:
    low, high = _run(sketch)
    slots = (low, high - sketch.density.badge[0] - _AIR if high - low > 120.0 else high)
    stop, box = _label_beside(sketch, arc, arc.path.signs[0], slots)
    stops = [stop]
    badge = sketch.badge(arc.path, (high, arc.y), align="right") if high - low > 120.0 else None
    if badge is not None:
        stops.append((badge.left, badge.right))
    _draw_wire(sketch, arc, stops)
    sketch.path_item(arc.path, box.grown(2.0))


def _draw_gap(sketch: Sketch) -> None:
    """Draw the small sign in the gap where a branch can be added."""
    levels, span = sketch.plan.levels, sketch.plan.zones.centre
    size = 14.0
    at = ((span.left + span.right) / 2, (levels.copper + levels.floor) / 2)
    symbol = SymbolSpec(kind="add", at=at, length=size, height=size, role="muted")
    sketch.symbols.append(symbol)
    sketch.item(ItemKey(kind="gap"), "Add a branch over the gap", symbol.box.grown(3.0), lambda: "Add a branch here")
