"""How the section drawing is painted, layer by layer: on the screen, on paper, into a picture."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from app.present.section_specs import Box, DrawingSpec, ItemSpec, LineSpec, Point, StripSpec
from app.qt.paint import CENTER
from app.qt.section_symbols import draw_symbol, faded
from app.qt.theme import Theme, Type, font

_RIBBON_OPACITY = 0.24
_HATCH_STEP = 9.0
_HATCH_DEPTH = 6.0
_TEXT_FLAGS = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter) | int(Qt.TextFlag.TextSingleLine)


def draw_section(painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
    """Paint a whole drawing, its upper left corner at the origin."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw_ground(painter, theme, spec)
    draw_currents(painter, theme, spec)
    draw_metal(painter, theme, spec)
    draw_texts(painter, theme, spec)
    draw_badges(painter, theme, spec)


def draw_ground(painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
    """Paint what lies behind the currents: the board and the earth."""
    for strip in spec.board:
        _draw_strip(painter, theme, strip)
    _draw_earth(painter, theme, spec.earth)


def draw_currents(painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
    """Paint ribbons and wires."""
    _draw_ribbons(painter, theme, spec)
    for line in spec.lines:
        _draw_line(painter, theme, spec, line)


def draw_metal(painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
    """Paint what lies before the currents: metal and symbols."""
    for strip in spec.metal:
        _draw_strip(painter, theme, strip)
    for symbol in spec.symbols:
        draw_symbol(painter, theme, symbol)


def draw_texts(painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
    """Paint the texts, each on its ground where it stands on something."""
    for text in spec.texts:
        if text.ground:
            painter.fillRect(_rect(text.box).adjusted(-2, 0, 2, 0), theme.color("panel"))
        painter.setFont(font(Type(text.face)))
        painter.setPen(theme.color(text.role))
        # one pixel of air: a text as wide as its box would lose its last letter to rounding
        painter.drawText(_rect(text.box).adjusted(0, 0, 2, 0), _TEXT_FLAGS, text.text)


def draw_outline(painter: QPainter, theme: Theme, item: ItemSpec, role: str, width: float) -> None:
    """Draw the frame around an item: what is selected, what the keys or the pointer are at."""
    painter.setPen(QPen(theme.color(role), width))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(_rect(item.box), 5, 5)


def rounded(points: Sequence[Point], radius: float) -> QPainterPath:
    """Return a line through points with its corners rounded as far as its pieces are long enough."""
    path = QPainterPath(QPointF(*points[0]))
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        reach = min(radius, math.dist(before, corner) / 2, math.dist(corner, after) / 2)
        path.lineTo(_towards(corner, before, reach))
        path.quadTo(QPointF(*corner), _towards(corner, after, reach))
    path.lineTo(QPointF(*points[-1]))
    return path


def _towards(start: Point, end: Point, reach: float) -> QPointF:
    length = math.dist(start, end)
    share = reach / length if length else 0.0
    return QPointF(start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))


def _draw_strip(painter: QPainter, theme: Theme, strip: StripSpec) -> None:
    metal = strip.role == "metal"
    painter.setPen(QPen(theme.color("field_border"), 1.0) if metal else Qt.PenStyle.NoPen)
    painter.setBrush(theme.color("tint" if metal else strip.role))
    rect = _rect(strip.box).adjusted(0.5, 0.5, -0.5, -0.5) if metal else _rect(strip.box)
    painter.drawRoundedRect(rect, strip.radius, strip.radius)


def _draw_earth(painter: QPainter, theme: Theme, earth: tuple[float, float, float]) -> None:
    left, right, y = earth
    if right <= left:
        return
    painter.setPen(QPen(theme.color("muted"), 1.5))
    painter.drawLine(QLineF(left, y, right, y))
    painter.setPen(QPen(theme.color("muted"), 1.0))
    count = max(int((right - left) / _HATCH_STEP), 0)
    feet = (left + (k + 1) * _HATCH_STEP for k in range(count))
    painter.drawLines([QLineF(x, y, x - _HATCH_DEPTH, y + _HATCH_DEPTH) for x in feet])


def _draw_ribbons(painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for ribbon in spec.ribbons:
        pen = QPen(faded(theme.ink(spec.ink), _RIBBON_OPACITY), ribbon.width)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        painter.drawPath(rounded(ribbon.points, ribbon.radius))


def _draw_line(painter: QPainter, theme: Theme, spec: DrawingSpec, line: LineSpec) -> None:
    flows = line.role == "flow"
    pen = QPen(theme.ink(spec.ink) if flows else theme.color(line.role), line.width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if flows:
        # in units of the width: dashes of about 8 pixels whatever the width
        pen.setDashPattern((8.0 / line.width, 5.0 / line.width))
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(rounded(line.points, line.radius))


def draw_badges(painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
    """Paint the percentages."""
    for badge in spec.badges:
        rect = _rect(badge.box).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(QPen(theme.color("border"), 1.0))
        painter.setBrush(theme.color("panel"))
        painter.drawRoundedRect(rect, rect.height() / 2, rect.height() / 2)
        painter.setFont(font(Type(badge.face)))
        painter.setPen(theme.ink(spec.ink))
        painter.drawText(rect, int(CENTER), badge.text)


def _rect(box: Box) -> QRectF:
    return QRectF(box.left, box.top, box.width, box.height)
