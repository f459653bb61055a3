"""The words inside a plot: what its bands, limits, marks and guides are called, each where it hides least."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from attrs import frozen
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from app.present.specs import BandSpec, Ink, LimitSpec, MarkSpec, PlotSpec
from app.qt.paint import draw_text, text_width
from app.qt.plot.cursor import Box, cursor_pixel, readout_box
from app.qt.plot.draw import band_rect, mark_pixels
from app.qt.plot.geometry import Floats, Frame, Trace
from app.qt.plot.guides import guide_starts
from app.qt.plot.placing import Ground, around, freest
from app.qt.theme import Theme, Type, font

_LINE_PX = 14.0
_OFF_PX = 2.0
_STALE_PX = 40.0
_LEAST_BAND_PX = 50.0
_MARK_HIDES_AT_MOST = 12
"""Cells of curves that the name of a mark may hide; the read-out tells of those that would hide more."""
_ALONG = (0.0, 0.3, 0.6, 0.85)
"""Where along a limit line its name may stand, the usual place first."""


@frozen(kw_only=True)
class Name:
    """Words in their place; ground of their own where a curve runs behind them."""

    lines: tuple[str, ...]
    place: QRectF
    grounded: bool
    role: str = "text"
    ink: Ink | None = None
    """The ink of the curve that the words are about; None for the colour of the role."""


@frozen(kw_only=True)
class Names:
    """All words inside a plot: the read-outs, the names, and where each guide has its own along its line."""

    box: Box | None = None
    texts: tuple[Name, ...] = ()
    guides: tuple[float | None, ...] = ()


def place_names(frame: Frame, spec: PlotSpec, traces: Sequence[Trace]) -> Names:
    """Return the words of a plot where they hide least of its curves and none of each other."""
    if spec.empty or not _has_words(spec):
        return Names()
    ground = Ground(frame, traces)
    box, taken = readout_box(frame, spec, ground), _taken(frame, spec)
    if box is not None:
        taken.append(box.place)
    texts: list[Name] = []
    for found in _found(frame, spec, ground, taken):
        texts.append(found)
        taken.append(found.place)
    return Names(box=box, texts=tuple(texts), guides=guide_starts(frame, spec.guides, ground, taken))


def draw_names(painter: QPainter, theme: Theme, names: Sequence[Name]) -> None:
    """Draw the names; what would be crossed by a curve stands on a ground of its own."""
    face = font(Type.TINY)
    for name in names:
        place = name.place
        if name.grounded:
            ground = theme.color("panel")
            ground.setAlphaF(0.85)
            painter.fillRect(place.adjusted(-_OFF_PX, 0, _OFF_PX, 0), ground)
        for row, line in enumerate(name.lines):
            where = QRectF(place.left(), place.top() + row * _LINE_PX, place.width(), _LINE_PX)
            color = theme.color(name.role) if name.ink is None else theme.ink(name.ink)
            draw_text(painter, where, line, face=face, color=color)


def _has_words(spec: PlotSpec) -> bool:
    read = spec.cursor_x is not None and bool(spec.readouts or spec.cursor_text)
    return read or bool(spec.note or spec.bands or spec.limits or spec.marks or spec.guides)


def _taken(frame: Frame, spec: PlotSpec) -> list[QRectF]:
    """Return where no name may stand: on the cursor, a mark or a level, under what says why curves are stale."""
    x = cursor_pixel(frame, spec)
    taken = [] if x is None else [QRectF(x - 3, frame.top, 6, frame.bottom - frame.top)]
    taken += [level for band in spec.bands if (level := _level_rect(frame, band)) is not None]
    taken += [QRectF(at.x() - 4, at.y() - 4, 8, 8) for _, at in mark_pixels(frame, spec.marks)]
    return [*taken, QRectF(frame.left, frame.top, frame.right - frame.left, _STALE_PX)] if spec.stale else taken


def _found(frame: Frame, spec: PlotSpec, ground: Ground, taken: list[QRectF]) -> Iterator[Name]:
    """Yield the names one after another; ``taken`` grows with each."""
    for band in spec.bands:
        if band.y_limit is not None:
            yield from _named((band.label,), _beside_level(frame, band), ground, taken, "bad")
    heights = [_least(frame, limit) for limit in spec.limits]
    for limit, height in zip(spec.limits, heights, strict=True):
        # the highest line is named above and the others below, so that no name seems to be that of another
        places = _beside_limit(frame, limit, above=height == min(heights))
        yield from _named((limit.label,), places, ground, taken, "bad")
    for mark, at in mark_pixels(frame, spec.marks):
        yield from _mark_named(frame, mark, at, ground, taken)
    for band in spec.bands:
        if band.y_limit is None:
            yield from _named((band.label,), _in_band(frame, band, taken), ground, taken, "muted")
    if spec.note:
        yield from _named((spec.note,), _in_corners(frame, spec.note), ground, taken, "muted")


def _named(
    lines: tuple[str, ...], places: Sequence[QRectF], ground: Ground, taken: Sequence[QRectF], role: str
) -> Iterator[Name]:
    place = freest(places, ground, taken)
    if place is not None:
        yield Name(lines=lines, place=place, role=role, grounded=ground.hidden(place) > 0)


def _mark_named(frame: Frame, mark: MarkSpec, at: QPointF, ground: Ground, taken: Sequence[QRectF]) -> Iterator[Name]:
    """Yield the name of a mark, what it is and what makes it on a line each, unless it would hide too much."""
    lines = tuple(mark.label.split(": ", 1))
    places = around(at, max(_width(line) for line in lines), _LINE_PX * len(lines), frame)
    place = freest(places, ground, taken)
    if place is not None and ground.hidden(place) <= _MARK_HIDES_AT_MOST:
        yield Name(lines=lines, place=place, ink=mark.ink, grounded=True)


def _width(text: str) -> float:
    return text_width(text, font(Type.TINY)) + 1


def _in_band(frame: Frame, band: BandSpec, taken: Sequence[QRectF]) -> list[QRectF]:
    """Return the places at the head and the foot of a band: at its left, beside what is taken, at its right."""
    seen, width = band_rect(frame, band), _width(band.label)
    if seen.width() < _LEAST_BAND_PX:
        return []
    beside = [each.right() + 4 for each in taken if seen.left() < each.right() < seen.right() - width - 4]
    middle = seen.center().x() - width / 2
    lefts = (seen.left() + 6, *beside, seen.right() - 6 - width) if width + 12 <= seen.width() else (middle,)
    heights = (frame.top + 4, frame.bottom - 4 - _LINE_PX)
    return _inside(frame, [QRectF(x, y, width, _LINE_PX) for y in heights for x in lefts])


def _level_rect(frame: Frame, band: BandSpec) -> QRectF | None:
    """Return the line of a band's level as a flat rectangle; None where it has none, or none is seen."""
    seen = band_rect(frame, band)
    y = math.nan if band.y_limit is None else frame.y.pixel(band.y_limit)
    shown = seen.width() > 0.0 and frame.top <= y <= frame.bottom
    return QRectF(seen.left(), y - 1, seen.width(), 2) if shown else None


def _beside_level(frame: Frame, band: BandSpec) -> list[QRectF]:
    """Return the places over and under the level of a band."""
    level, width = _level_rect(frame, band), _width(band.label)
    if level is None:
        return []
    lefts = (level.right() - width - 4, level.left() + 4, level.center().x() - width / 2, level.right() + 4)
    tops = (level.top() - _LINE_PX - 1, level.bottom() + 1)
    return _inside(frame, [QRectF(x, top, width, _LINE_PX) for top in tops for x in lefts])


def _least(frame: Frame, limit: LimitSpec) -> float:
    """Return how high up a limit line reaches, in pixels from the top."""
    y = frame.y.pixels(limit.y)
    return float(np.nanmin(y)) if np.isfinite(y).any() else math.inf


def _beside_limit(frame: Frame, limit: LimitSpec, *, above: bool) -> list[QRectF]:
    """Return the places above or below a limit line, from its left end on."""
    x, y = frame.x.pixels(limit.x), frame.y.pixels(limit.y)
    seen = np.flatnonzero(np.isfinite(y) & np.isfinite(x))
    if not seen.size:
        return []
    first, last = max(float(x[seen[0]]), frame.left), min(float(x[seen[-1]]), frame.right)
    places = []
    for share in _ALONG:
        left, width = first + share * (last - first) + 4, _width(limit.label)
        top, bottom = _between(x[seen], y[seen], left, left + width)
        places.append(QRectF(left, top - _LINE_PX - 2 if above else bottom + 2, width, _LINE_PX))
    return _inside(frame, places)


def _between(x: Floats, y: Floats, left: float, right: float) -> tuple[float, float]:
    """Return the highest and the lowest pixel of a line between two of its places."""
    inside = y[(x > left) & (x < right)]
    heights = np.append(np.interp((left, right), x, y), inside)
    return float(heights.min()), float(heights.max())


def _in_corners(frame: Frame, text: str) -> list[QRectF]:
    """Return the places in the corners of a plot, the lower right one first."""
    width = _width(text)
    lefts, tops = (frame.right - width - 6, frame.left + 6), (frame.bottom - _LINE_PX - 4, frame.top + 4)
    return _inside(frame, [QRectF(x, y, width, _LINE_PX) for y in tops for x in lefts])


def _inside(frame: Frame, places: Sequence[QRectF]) -> list[QRectF]:
    return [place for place in places if frame.rect().contains(place)]
