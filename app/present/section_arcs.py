"""What bridges the gap: branches and transformers arcing over it, couplings under it, each with its parts in a row."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from app.present.section_contents import Contents, Path, Sign
from app.present.section_sketch import Sketch, Stop, around, lanes, path_name
from app.present.section_specs import Box, ItemKey, Point, SymbolSpec
from app.present.section_zones import LABEL_LEAST

_CORNER = 10.0
_AIR = 4.0
_FEWEST_FOR_A_PART = 24.0


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
    below = [plan.levels.floor + 6.0 + density.gap_pitch * (k + 0.5) for k in range(len(what.gaps))]
    # the lowest one is the outermost, as the highest one is above
    for arc in reversed(_arcs(sketch, what.gaps[::-1], below[::-1], plan.levels.floor)):
        _draw_below(sketch, arc)


def _arcs(sketch: Sketch, paths: Sequence[Path], heights: Sequence[float], anchor: float) -> list[Arc]:
    """Return the arcs with their feet beside each other, the first one outermost."""
    span = sketch.plan.zones.centre
    feet = lanes(paths, sketch.density.ribbon)
    return [
        Arc(path=path, y=y, anchor=anchor, left=span.left + _AIR + foot, right=span.right - _AIR - foot)
        for path, y, foot in zip(paths, heights, feet, strict=False)
    ]


def _run(sketch: Sketch) -> tuple[float, float]:
    """Return between where the parts of an arc may stand."""
    span, inset = sketch.plan.zones.centre, sketch.density.ribbon + _AIR + _CORNER + 2.0
    return span.left + inset, span.right - inset


def _draw_above(sketch: Sketch, arc: Arc) -> None:
    low, high = _run(sketch)
    badge_room = sketch.density.badge[0] + 2 * _AIR
    roomy = (high - low - 2 * badge_room) / max(len(arc.path.signs), 1) >= 70.0
    slots = (low + badge_room if roomy else low, high - badge_room)
    stops, boxes = _draw_signs(sketch, arc, slots)
    badge = sketch.badge(arc.path.share, (high, arc.y), align="right")
    if badge is not None:
        stops.append((badge.left, badge.right))
    _draw_wire(sketch, arc, stops)
    if arc.path.key.kind != "branch":
        sketch.item(arc.path.key, path_name(arc.path), around(boxes), arc.path.card)
        return
    half = max(sketch.density.ribbon, sketch.density.symbol[1]) / 2
    whole = Box(left=low - _CORNER, top=arc.y - half, width=high - low + 2 * _CORNER, height=2 * half)
    sketch.item(arc.path.key, path_name(arc.path), around([whole, *boxes], 0.0), arc.path.card)
    for sign, box in zip(arc.path.signs, boxes, strict=False):
        sketch.item(sign.key, sign.name, box.grown(2.0), sign.card)


def _draw_signs(sketch: Sketch, arc: Arc, room: tuple[float, float]) -> tuple[list[Stop], list[Box]]:
    """Draw the parts of an arc in a row; return where they interrupt the wire, and what each covers."""
    low, high = room
    signs = arc.path.signs
    fit = max(int((high - low) / _FEWEST_FOR_A_PART), 1)
    if len(signs) > fit:
        signs = (*signs[: fit - 1], _rest(signs[fit - 1 :]))
    width = (high - low) / len(signs)
    stops: list[Stop] = []
    boxes: list[Box] = []
    for place, sign in enumerate(signs):
        draw = _label_under if sketch.density.labels_under else _label_beside
        stop, box = draw(sketch, arc, sign, (low + place * width, low + (place + 1) * width))
        stops.append(stop)
        boxes.append(box)
    return stops, boxes


def _rest(signs: Sequence[Sign]) -> Sign:
    """Return one sign for the parts that do not fit; choosing it chooses the first of them."""
    count = len(signs)
    names = "\n".join(sign.name for sign in signs)
    return Sign(kind="series", value=f"{count} more", key=signs[0].key, name=f"{count} more parts", card=lambda: names)


def _label_under(sketch: Sketch, arc: Arc, sign: Sign, slot: tuple[float, float]) -> tuple[Stop, Box]:
    """Draw a symbol with its value under it."""
    density, middle = sketch.density, (slot[0] + slot[1]) / 2
    length = min(density.symbol[0], slot[1] - slot[0] - 2 * _AIR)
    tall = density.symbol[1] + 8.0 if sign.kind == "transformer" else density.symbol[1]
    symbol = SymbolSpec(kind=sign.kind, at=(middle, arc.y), length=length, height=tall)
    sketch.symbols.append(symbol)
    half = max(density.ribbon, density.symbol[1]) / 2 if sign.kind != "transformer" else tall / 2
    box = Box(left=slot[0] + 3, top=arc.y + half + 1, width=slot[1] - slot[0] - 6, height=density.line)
    text = sketch.text(_words(sketch, arc.path, sign, box.width), box, align="middle")
    covered = [symbol.box] if text is None else [symbol.box, text]
    return (symbol.box.left, symbol.box.right), around(covered, 0.0)


def _label_beside(sketch: Sketch, arc: Arc, sign: Sign, slot: tuple[float, float]) -> tuple[Stop, Box]:
    """Draw a symbol with its value at its right, where the wire gives way; both stand in the middle."""
    density, width = sketch.density, slot[1] - slot[0] - 2 * _AIR
    length = min(density.symbol[0], width)
    words = _words(sketch, arc.path, sign, width - length - _AIR)
    label = min(sketch.measure(words, "small"), width - length - _AIR)
    if label < min(LABEL_LEAST, sketch.measure(words, "small")):
        label = -_AIR
    left = (slot[0] + slot[1] - length - label - _AIR) / 2
    symbol = SymbolSpec(kind=sign.kind, at=(left + length / 2, arc.y), length=length, height=density.symbol[1])
    sketch.symbols.append(symbol)
    text = None
    if label > 0.0:
        box = Box(left=left + length + _AIR, top=arc.y - density.line / 2, width=label + 0.5, height=density.line)
        text = sketch.text(words, box)
    if text is None:
        return (symbol.box.left, symbol.box.right), symbol.box
    return (symbol.box.left, text.right + _AIR), around([symbol.box, text], 0.0)


def _words(sketch: Sketch, path: Path, sign: Sign, width: float) -> str:
    """Return what to write at a symbol: the value alone for a part, name and value for what is chosen as a whole."""
    if path.key.kind == "branch":
        return sign.value
    full = f"{path.name}  {sign.value}"
    if path.note and sketch.density.notes and sketch.measure(f"{full}, {path.note}", "small") <= width:
        return f"{full}, {path.note}"
    return full if sketch.measure(full, "small") <= width else path.name


def _draw_wire(sketch: Sketch, arc: Arc, stops: list[Stop]) -> None:
    sketch.current(arc.path, arc.corners, _CORNER)
    for piece in arc.pieces(stops):
        sketch.wire(arc.path, piece, _CORNER)


def _draw_below(sketch: Sketch, arc: Arc) -> None:
    low, high = _run(sketch)
    slots = (low, high - sketch.density.badge[0] - _AIR if high - low > 120.0 else high)
    stop, box = _label_beside(sketch, arc, arc.path.signs[0], slots)
    stops = [stop]
    badge = sketch.badge(arc.path.share, (high, arc.y), align="right") if high - low > 120.0 else None
    if badge is not None:
        stops.append((badge.left, badge.right))
    _draw_wire(sketch, arc, stops)
    sketch.item(arc.path.key, path_name(arc.path), box.grown(2.0), arc.path.card)


def _draw_gap(sketch: Sketch) -> None:
    """Draw the small sign in the gap where a branch can be added."""
    levels, span = sketch.plan.levels, sketch.plan.zones.centre
    size = 14.0
    at = ((span.left + span.right) / 2, (levels.copper + levels.floor) / 2)
    symbol = SymbolSpec(kind="add", at=at, length=size, height=size, role="muted")
    sketch.symbols.append(symbol)
    sketch.item(ItemKey(kind="gap"), "Add a branch over the gap", symbol.box.grown(3.0), lambda: "Add a branch here")
