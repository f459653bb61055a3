"""Sources as round signs: standing on the copper they act on, or in the line of the earth."""

from __future__ import annotations

import math
from functools import partial

from app.present.section_contents import Contents, Drive
from app.present.section_currents import drive_card
from app.present.section_sketch import Sketch, around
from app.present.section_specs import Box, LineSpec, SymbolSpec
from app.present.section_zones import METAL_NAME, Span, source_columns, source_width

_EDGE = 10.0
_STEP = 5.0
"""How far the foot of a source stands beside the sign of the one below it."""
_BESIDE = 5.0


def draw_drives(sketch: Sketch, what: Contents) -> None:
    """Draw all sources."""
    zones, levels = sketch.plan.zones, sketch.plan.levels
    for region, zone in ((what.a, zones.left), (what.b, zones.right)):
        own = [each for each in what.drives if each.region == region]
        _draw_on_copper(
            sketch, own, zone, source_columns(what, region, sketch.density, zone.width - _EDGE, sketch.measure)
        )
    for name, top in zip(what.others, levels.metal, strict=True):
        own = [each for each in what.drives if each.region == name]
        _draw_beside(sketch, own, zones.centre.left + METAL_NAME, top)
    between = [each for each in what.drives if each.region is None]
    for each, span in zip(between, zones.offsets, strict=True):
        _draw_in_earth(sketch, each, span)


def _draw_on_copper(sketch: Sketch, drives: list[Drive], zone: Span, columns: int) -> None:
    """Stand sources on the copper: in each column the upper one's foot passes left of the lower ones."""
    rows = math.ceil(len(drives) / columns)
    widest = max((source_width(drive, sketch.density, sketch.measure) for drive in drives), default=0.0)
    whole = widest + (rows - 1) * (sketch.density.source + _STEP)
    room = (zone.width - _EDGE) / columns
    width = min(room, whole)
    for number, drive in enumerate(drives):
        column, row = divmod(number, rows)
        left = zone.left + _EDGE + column * room + (room - width) / 2
        _draw_sign(sketch, drive, Span(left=left, right=left + width), row, rows)


def _draw_sign(sketch: Sketch, drive: Drive, span: Span, row: int, rows: int) -> None:
    density, copper = sketch.density, sketch.plan.levels.copper
    radius = density.source
    x = span.left + radius + row * (radius + _STEP)
    y = copper - 7.0 - radius - (rows - 1 - row) * density.source_pitch
    symbol = SymbolSpec(kind=f"source-{drive.kind}", at=(x, y), length=2 * radius, height=2 * radius, role="bad")
    sketch.symbols.append(symbol)
    sketch.lines.append(LineSpec(points=((x, y + radius), (x, copper)), role="bad"))
    covered = _label(sketch, drive, x + radius + _BESIDE, span.right - 6.0, y)
    sketch.item(drive.key, f"{drive.name} {drive.note}", around([symbol.box, *covered]), partial(drive_card, drive))


def _label(sketch: Sketch, drive: Drive, left: float, right: float, y: float) -> list[Box]:
    """Write the name beside a sign, what it drives under the name where there is room for notes."""
    line = sketch.density.line - 1.0
    lines = [(drive.name, "text"), (drive.note, "muted")] if sketch.density.notes else [(drive.name, "text")]
    if right - left < 20.0:
        return []
    top = y - len(lines) * line / 2
    boxes = [
        sketch.text(text, Box(left=left, top=top + k * line, width=right - left, height=line), role=role)
        for k, (text, role) in enumerate(lines)
    ]
    return [box for box in boxes if box is not None]


def _draw_beside(sketch: Sketch, drives: list[Drive], left: float, top: float) -> None:
    """Set the signs of the sources of a further region onto its metal, beside each other."""
    radius = min(sketch.density.source, 8.0)
    for number, drive in enumerate(drives):
        at = (left + radius + number * (2 * radius + 4.0), top + sketch.density.metal / 2)
        symbol = SymbolSpec(kind=f"source-{drive.kind}", at=at, length=2 * radius, height=2 * radius, role="bad")
        sketch.symbols.append(symbol)
        sketch.item(drive.key, f"{drive.name} {drive.note}", symbol.box.grown(2.0), partial(drive_card, drive))


def _draw_in_earth(sketch: Sketch, drive: Drive, span: Span) -> None:
    radius, earth = 8.0, sketch.plan.levels.earth
    x = span.left + radius + 4.0
    symbol = SymbolSpec(kind=f"source-{drive.kind}", at=(x, earth), length=2 * radius, height=2 * radius, role="bad")
    sketch.symbols.append(symbol)
    box = Box(left=x + radius + 4, top=earth - 18.0, width=max(span.right - x - radius - 8, 0.0), height=15.0)
    text = sketch.text(drive.name, box)
    covered = [symbol.box] if text is None else [symbol.box, text]
    sketch.item(drive.key, f"{drive.name} {drive.note}", around(covered), partial(drive_card, drive))
