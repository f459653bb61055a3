"""A line of one colour followed through a picture, column by column, over dashes and crossings."""

from __future__ import annotations

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from models.arrays import Real
from models.errors import DataError
from models.fitting.picture import Image, Place

_REACH_PX = 5
"""How far from the line one may click."""
_LEAST_CONTRAST = 40.0
_LEAST_COVER = 0.4
"""Share of the line's colour from which a pixel counts to it; a pale grid stays below."""
_MOST_STRAY = 0.3
"""How far off the mixture of line and ground a colour may lie, as a share of their contrast."""
_TALLEST = 0.6
"""A run that fills so much of the height is the frame or the grid."""
_GAP_SHARE = 0.04
_SLOPE_COLUMNS = 6


@frozen(kw_only=True)
class _Run:
    """Pixels of one column that belong together: ends and middle."""

    top: int
    bottom: int
    middle: float


def follow_line(image: Image, start: Place) -> Real:
    """Follow a line from a place on it to both of its ends.

    Parameters
    ----------
    image : (H, W, 3) red, green, blue
    start : px, within 5 px of the line

    Returns
    -------
    (N, 2) px, one a column, from left to right

    Raises
    ------
    DataError
        Where there is no line near the start.

    Notes
    -----
    The line is one value a column. Gaps of up to 4 % of the width are bridged along its direction; where lines of the
    same colour cross it goes straight on. To about a third of a pixel on plain lines; a peak narrower than the line is
    read at its tip. Source: written from scratch.
    """
    cover = line_cover(image, start)
    x, near = _first(cover, start)
    stroke = _stroke(cover)
    right = _walk(cover, x, near, 1, stroke)
    left = _walk(cover, x, near, -1, stroke)
    runs = {**left, x: near, **right}
    columns = sorted(runs)
    middles = _tips([runs[column] for column in columns], stroke)
    return np.column_stack([np.array(columns, np.float64) + 0.5, middles])


def line_cover(image: Image, start: Place) -> Real:
    """Return how much each pixel (H, W) is of the line's colour, 0 to 1, with 0 for other colours.

    A pixel at the line's edge is a mixture p = ground + a·(line - ground); what lies off that mixture is another line.
    """
    colors = image[:, :, :3].astype(np.float64)
    ground = _ground(image)
    line = _line_color(colors, ground, start)
    contrast = line - ground
    size = float(contrast @ contrast)
    away = colors - ground
    share = away @ contrast / size
    stray = np.sqrt(np.maximum((away * away).sum(axis=2) - share**2 * size, 0.0) / size)
    return np.asarray(np.where((stray < _MOST_STRAY) & (share >= _LEAST_COVER), np.minimum(share, 1.0), 0.0))


def _ground(image: Image) -> Real:
    """Return the colour that most pixels have."""
    packed = (image[:, :, :3].astype(np.uint32) >> 3) @ np.array([1 << 10, 1 << 5, 1], np.uint32)
    most = np.argmax(np.bincount(packed.ravel()))
    return np.asarray(np.median(image[:, :, :3][packed == most], axis=0), np.float64)


def _line_color(colors: Real, ground: Real, start: Place) -> Real:
    """Return the colour furthest from the ground near a place, the nearest of those alike."""
    height, width = colors.shape[:2]
    x, y = int(start[0]), int(start[1])
    if not (0 <= x < width and 0 <= y < height):
        raise DataError("picture: found a place outside it; accepted: a place on the line")
    for reach in range(1, _REACH_PX + 1):
        part = colors[max(y - reach, 0) : y + reach + 1, max(x - reach, 0) : x + reach + 1].reshape(-1, 3)
        distance = np.linalg.norm(part - ground, axis=1)
        if distance.max() > _LEAST_CONTRAST and reach > 1:
            return np.asarray(part[int(np.argmax(distance))], np.float64)
    raise DataError("picture: found no line there; accepted: a place within 5 pixels of the line")


def _runs(cover: Real, x: int) -> list[_Run]:
    column = cover[:, x]
    inked = np.concatenate([[False], column > 0.0, [False]])
    edges = np.flatnonzero(inked[1:] != inked[:-1])
    runs = []
    for top, bottom in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
        weight = column[top:bottom]
        middle = float(weight @ (np.arange(top, bottom) + 0.5) / weight.sum())
        if bottom - top <= _TALLEST * column.size:
            runs.append(_Run(top=top, bottom=bottom, middle=middle))
    return runs


def _stroke(cover: Real) -> float:
    """Return how thick the line usually is, px."""
    columns = range(0, cover.shape[1], max(cover.shape[1] // 200, 1))
    heights = [run.bottom - run.top for x in columns for run in _runs(cover, x)]
    return float(np.quantile(heights, 0.3)) if heights else 1.0


def _first(cover: Real, start: Place) -> tuple[int, _Run]:
    """Return the run nearest to the start, in its column or one close by."""
    found = [
        (abs(x + 0.5 - start[0]) + _distance(run, start[1]), x, run)
        for x in range(max(int(start[0]) - _REACH_PX, 0), min(int(start[0]) + _REACH_PX + 1, cover.shape[1]))
        for run in _runs(cover, x)
    ]
    if not found:
        raise DataError("picture: found no line there; accepted: a place within 5 pixels of the line")
    _, x, run = min(found, key=lambda each: each[0])
    return x, run


def _distance(run: _Run, y: float) -> float:
    return max(run.top - y, y - run.bottom, 0.0)


def _walk(cover: Real, x: int, run: _Run, step: int, stroke: float) -> dict[int, _Run]:
    """Return the runs of the line to one side of a column."""
    width = cover.shape[1]
    most_gap = max(int(_GAP_SHARE * width), 10)
    found: dict[int, _Run] = {}
    trail = [(x, run.middle)]
    gap = 0
    while 0 <= (x := x + step) < width and gap <= most_gap:
        ahead = _next(_runs(cover, x), run, _ahead(trail, x), gap, stroke)
        if ahead is None:
            gap += 1
            continue
        gap, run = 0, ahead
        found[x] = run
        trail.append((x, run.middle))
    return found


def _ahead(trail: list[tuple[int, float]], x: int) -> float:
    """Return where the line should be in a column if it goes straight on."""
    recent = np.array(trail[-_SLOPE_COLUMNS:])
    if len(recent) < 3:
        return float(recent[-1, 1])
    slope = np.polyfit(recent[:, 0], recent[:, 1], 1)[0]
    return float(recent[-1, 1] + slope * (x - recent[-1, 0]))


def _next(runs: list[_Run], run: _Run, expected: float, gap: int, stroke: float) -> _Run | None:
    """Return the run that goes on: the one that touches, else the one straight ahead after a gap."""
    touching = [each for each in runs if gap == 0 and each.top <= run.bottom and each.bottom >= run.top]
    if touching:
        return min(touching, key=lambda each: abs(each.middle - expected))
    room = 2.0 * stroke + 0.7 * gap + 0.3 * abs(expected - run.middle)
    ahead = [each for each in runs if _distance(each, expected) <= room]
    return min(ahead, key=lambda each: abs(each.middle - expected), default=None)


def _tips(runs: list[_Run], stroke: float) -> NDArray[np.float64]:
    """Return the y of every run: its middle, or its tip where a steep line turns back."""
    middles = np.array([run.middle for run in runs])
    for place in range(1, len(runs) - 1):
        run, sides = runs[place], (runs[place - 1], runs[place + 1])
        if run.bottom - run.top <= 2.0 * stroke:
            continue
        if all(each.middle < run.middle and each.bottom <= run.bottom for each in sides):
            middles[place] = run.bottom - 0.5 * stroke
        elif all(each.middle > run.middle and each.top >= run.top for each in sides):
            middles[place] = run.top + 0.5 * stroke
    return middles
