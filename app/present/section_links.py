"""What stands under the board and beside it: links to further regions and to earth, and cables."""

from __future__ import annotations

from functools import partial

from attrs import frozen

from app.present.section_contents import Contents, Path
from app.present.section_currents import region_card
from app.present.section_sketch import Sketch, around
from app.present.section_specs import Box, ItemKey, Point, SymbolSpec
from app.present.section_text import wrapped
from app.present.section_zones import LABEL_LEAST, METAL_NAME, Span, depth_of

_INSET = 14.0
"""From the edge of a column to its wire."""
_BESIDE = 13.0
"""From the wire to its label."""
_BEND = 18.0


@frozen(kw_only=True, eq=False)
class Bar:
    """A further region: how far its metal reaches."""

    name: str
    box: Box


def bars(sketch: Sketch, what: Contents) -> tuple[Bar, ...]:
    """Return the further regions, each as wide as what it is joined to asks for, but at least as the gap."""
    zones, levels = sketch.plan.zones, sketch.plan.levels
    result = []
    for name, top in zip(what.others, levels.metal, strict=True):
        reach = [wire_x(span, side) for path, span, side in zones.slots if name in path.ends]
        ends = {side for cable, _, side in zones.cables if cable.ends[0] == name}
        left = zones.left.left if "left" in ends else min([zones.centre.left, *(x - _INSET + 2 for x in reach)])
        right = zones.right.right if "right" in ends else max([zones.centre.right, *(x + _INSET - 2 for x in reach)])
        result.append(Bar(name=name, box=Box(left=left, top=top, width=right - left, height=sketch.density.metal)))
    return tuple(result)


def wire_x(span: Span, side: str) -> float:
    """Return where the wire of a column runs; its label stands at its right, at its left in the right end zone."""
    inset = min(_INSET, span.width / 2)
    return span.right - inset if side == "right end" else span.left + inset


def draw_links(sketch: Sketch, what: Contents, metal: tuple[Bar, ...]) -> None:
    """Draw every link between nodes that are not both of the pair."""
    for path, span, side in sketch.plan.zones.slots:
        upper, lower = sorted(path.ends, key=lambda end: depth_of(what, end))
        x = wire_x(span, side)
        ends = (_edge(sketch, what, upper, low=True), _edge(sketch, what, lower, low=False))
        _draw_link(sketch, path, Column(x=x, span=span, top=ends[0], bottom=ends[1], free=_free(metal, span, ends)))


@frozen(kw_only=True, eq=False)
class Column:
    """Where a link hangs: its wire, its column, its ends, and the stretch that no metal covers."""

    x: float
    span: Span
    top: float
    bottom: float
    free: tuple[float, float]

    def label(self, y: float, line: float) -> Box:
        """Return where a line of its label goes."""
        left = self.x + _BESIDE
        return Box(left=left, top=y, width=max(self.span.right - 4.0 - left, 0.0), height=line)


def _edge(sketch: Sketch, what: Contents, node: str, *, low: bool) -> float:
    """Return the height of the lower or upper edge of a node."""
    levels, depth = sketch.plan.levels, depth_of(what, node)
    if depth == 0:
        return levels.floor
    if depth > len(what.others):
        return levels.earth
    return levels.metal[depth - 1] + (sketch.density.metal if low else 0.0)


def _free(metal: tuple[Bar, ...], span: Span, ends: tuple[float, float]) -> tuple[float, float]:
    """Return the longest stretch between two heights that no metal covers in a column, the lowest of equal ones."""
    edges = [ends[0]]
    for bar in metal:
        if ends[0] < bar.box.top < ends[1] and bar.box.left < span.right and span.left < bar.box.right:
            edges += [bar.box.top, bar.box.bottom]
    edges.append(ends[1])
    stretches = list(zip(edges[::2], edges[1::2], strict=True))
    return max(reversed(stretches), key=lambda each: round(each[1] - each[0]))


def _draw_link(sketch: Sketch, path: Path, column: Column) -> None:
    ends: tuple[Point, Point] = (column.x, column.top), (column.x, column.bottom)
    sketch.current(path, ends, 0.0)
    top, bottom = column.free
    pitch = (bottom - top) / len(path.signs)
    boxes: list[Box] = []
    wire = column.top
    for place, sign in enumerate(path.signs):
        y = top + (place + 0.5) * pitch
        length = min(sketch.density.upright, pitch - 4.0)
        symbol = SymbolSpec(
            kind=sign.kind, at=(column.x, y), length=length, height=sketch.density.symbol[1], upright=True
        )
        sketch.symbols.append(symbol)
        sketch.wire(path, ((column.x, wire), (column.x, symbol.box.top)))
        wire = symbol.box.bottom
        boxes.append(symbol.box)
    sketch.wire(path, ((column.x, wire), (column.x, column.bottom)))
    if not path.whole:
        _label_parts(sketch, path, column, boxes)
    else:
        covered = _label_whole(sketch, path, column)
        sketch.path_item(path, around([*boxes, *covered]))


def _label_parts(sketch: Sketch, path: Path, column: Column, boxes: list[Box]) -> None:
    """Write the value beside each part of a branch, the share after the last one."""
    whole = Box(left=column.x - 6.0, top=column.top + 2, width=12.0, height=column.bottom - column.top - 4)
    sketch.path_item(path, around([whole, *boxes], 0.0))
    for sign, box in zip(path.signs, boxes, strict=True):
        line = column.label(box.middle[1] - sketch.density.line / 2, sketch.density.line)
        flowing = path if sign is path.signs[-1] else None
        covered = _line_with_badge(sketch, sign.value, flowing, line)
        sketch.part_item(path, sign, around([box, *covered]))


def _label_whole(sketch: Sketch, path: Path, column: Column) -> list[Box]:
    """Write name and value beside a link, the share after the value."""
    density, middle = sketch.density, sum(column.free) / 2
    width = column.label(0.0, 0.0).width
    room = column.free[1] - column.free[0] - 2.0
    if width < LABEL_LEAST:
        return []
    most = 2 if density.notes and room >= 3 * density.line else 1
    names = wrapped(path.name, width, "small", sketch.measure, lines=most)
    top = middle - (len(names) + 1) * density.line / 2
    covered = [
        box
        for k, name in enumerate(names)
        if (box := sketch.text(name, column.label(top + k * density.line, density.line))) is not None
    ]
    last = column.label(top + len(names) * density.line, density.line)
    return covered + _line_with_badge(sketch, path.signs[0].value, path, last, role="muted")


def _line_with_badge(sketch: Sketch, value: str, path: Path | None, line: Box, *, role: str = "text") -> list[Box]:
    """Write a value with the share of its path after it; where both do not fit, what flows counts more."""
    flows = path is not None and sketch.currents.flows(path)
    badge_width = sketch.density.badge[0] if flows else 0.0
    needed = sketch.measure(value, "small")
    covered: list[Box] = []
    at = line.left
    if line.width < LABEL_LEAST:
        return covered
    if needed + badge_width + 6.0 <= line.width or not badge_width:
        text = sketch.text(value, line, role=role, cut=False)
        if text is not None:
            covered.append(text)
            at = text.right + 6.0
    if flows and path is not None and at + badge_width <= line.right + 4.0:
        badge = sketch.badge(path, (at, line.middle[1]), align="left")
        covered += [badge] if badge is not None else []
    return covered


def draw_cables(sketch: Sketch, what: Contents, metal: tuple[Bar, ...]) -> None:
    """Draw the cables, each from the edge of its region outwards and down to what it ends in."""
    zones, levels, ribbon = sketch.plan.zones, sketch.plan.levels, sketch.density.ribbon
    board = Box(
        left=zones.left.left,
        top=levels.copper,
        width=zones.right.right - zones.left.left,
        height=sketch.density.copper,
    )
    edges = {what.a: board, what.b: board, **{bar.name: bar.box for bar in metal}}
    for side in ("left", "right"):
        for region, box in edges.items():
            own = [each for each in zones.cables if each[2] == side and each[0].ends[0] == region]
            x = box.left if side == "left" else box.right
            for (path, span, _), lane in zip(own, sketch.lanes([each[0] for each in own]), strict=True):
                _draw_cable(sketch, path, span, (x, box.middle[1] + lane - ribbon / 2), mirrored=side == "right")


def _draw_cable(sketch: Sketch, path: Path, span: Span, start: Point, *, mirrored: bool) -> None:
    density, earth = sketch.density, sketch.plan.levels.earth
    x = wire_x(Span(left=span.left + 4, right=span.right - 4), "right end" if mirrored else "")
    foot = SymbolSpec(kind=f"end-{path.foot}", at=(x, earth - 9.0), length=18.0, height=28.0, upright=True)
    points = start, (x, start[1]), (x, foot.box.top)
    sketch.current(path, points, _BEND)
    sketch.wire(path, points, _BEND)
    sketch.symbols.append(foot)
    left = span.left if mirrored else x + _BESIDE + 2
    right = x - _BESIDE - 2 if mirrored else span.right - 4.0
    top, bottom = start[1] + density.ribbon / 2 + 2, foot.box.top - 1
    block = Box(left=left, top=top, width=max(right - left, 0.0), height=bottom - top)
    covered = _label_cable(sketch, path, block, "right" if mirrored else "left")
    wire = Box(left=x - 6, top=top, width=12.0, height=earth - top)
    sketch.path_item(path, around([wire, *covered]))


def _label_cable(sketch: Sketch, path: Path, block: Box, align: str) -> list[Box]:
    """Write name, length and share into the bend of a cable, as many lines as there is room for."""
    density = sketch.density
    if block.width < LABEL_LEAST:
        return []
    shows_share = sketch.currents.flows(path)
    rows = max(int(block.height / density.line), 1)
    names = wrapped(path.name, block.width, "small", sketch.measure, lines=2 if rows >= 2 + shows_share else 1)
    lines = [(name, "text") for name in names]
    if density.notes and rows > len(lines) + shows_share:
        lines.append((path.note.partition(",")[0], "muted"))
    count = min(len(lines) + shows_share, rows)
    y = block.top + max((block.height - count * density.line) / 2, 0.0)
    covered = []
    for text, role in lines[:count]:
        box = Box(left=block.left, top=y, width=block.width, height=density.line)
        written = sketch.text(text, box, role=role, align=align)
        covered += [written] if written is not None else []
        y += density.line
    if shows_share and count > len(lines[:count]) and block.width >= density.badge[0] - 4:
        at = (block.left if align == "left" else block.right, y + density.line / 2 + 1)
        badge = sketch.badge(path, at, align=align)
        covered += [badge] if badge is not None else []
    return covered


def draw_metal(sketch: Sketch, what: Contents, metal: tuple[Bar, ...]) -> None:
    """Write the names of the further regions onto their metal."""
    for place, bar in enumerate(metal):
        box = bar.box
        driven = any(drive.region == bar.name for drive in what.drives)
        end = sketch.plan.zones.centre.left + METAL_NAME - 4 if driven else box.right - 10
        name = sketch.text(bar.name, Box(left=box.left + 10, top=box.top, width=end - box.left - 10, height=box.height))
        covered = box if name is None else name
        sketch.item(
            ItemKey(kind="case", part=place + 2), bar.name, covered.grown(1.0), partial(region_card, what, bar.name)
        )
