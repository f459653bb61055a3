"""Signs of the trade, each drawn lengthwise about the origin: leads from −length/2 to +length/2."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen

from app.present.section_specs import SymbolSpec
from app.qt.paint import CENTER
from app.qt.theme import Theme, Type, font

Draw = Callable[[QPainter, Theme, float, float], None]
_STROKE = 1.7


def draw_symbol(painter: QPainter, theme: Theme, symbol: SymbolSpec) -> None:
    """Draw a symbol at its place; a kind without a sign of its own is a box."""
    painter.save()
    painter.translate(QPointF(*symbol.at))
    if symbol.upright:
        painter.rotate(90.0)
    pen = QPen(theme.color(symbol.role), _STROKE)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if symbol.kind.startswith("source-"):
        _source(painter, theme, symbol)
    else:
        _SIGNS.get(symbol.kind, _box)(painter, theme, symbol.length, symbol.height)
    painter.restore()


def _leads(painter: QPainter, length: float, inner: float) -> None:
    painter.drawLines([QLineF(-length / 2, 0, -inner, 0), QLineF(inner, 0, length / 2, 0)])


def _body(length: float, height: float, *, slim: float = 0.6) -> QRectF:
    half, tall = 0.34 * length, slim * height / 2
    return QRectF(-half, -tall, 2 * half, 2 * tall)


def _capacitor(painter: QPainter, _theme: Theme, length: float, height: float) -> None:
    gap, plate = 2.6, height / 2
    _leads(painter, length, gap)
    heavy = QPen(painter.pen())
    heavy.setWidthF(2.4)
    painter.setPen(heavy)
    painter.drawLines([QLineF(x, -plate, x, plate) for x in (-gap, gap)])


def _resistor(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    body = _body(length, height)
    _leads(painter, length, body.right())
    painter.fillRect(body, theme.color("panel"))
    painter.drawRect(body)


def _box(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    """A part without a sign of its own: a box with a bar across, for any two-terminal."""
    body = _body(length, height, slim=0.8)
    _leads(painter, length, body.right())
    painter.fillRect(body, theme.color("panel"))
    painter.drawRect(body)
    painter.drawLine(QLineF(body.bottomLeft(), body.topRight()))


def _series(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    """Several parts in a row, not shown one by one."""
    body = _body(length, height, slim=0.8)
    _leads(painter, length, body.right())
    painter.fillRect(body, theme.color("panel"))
    painter.drawRect(body)
    painter.setBrush(painter.pen().color())
    painter.setPen(Qt.PenStyle.NoPen)
    for x in (-0.5, 0.0, 0.5):
        painter.drawEllipse(QPointF(x * body.width() / 2, 0), 1.3, 1.3)


def _loops(length: float, height: float, count: int, *, share: float = 0.72) -> tuple[QPainterPath, float]:
    """Return half circles in a row, and half their length."""
    width = share * length / count
    path = QPainterPath(QPointF(-width * count / 2, 0))
    tall = min(width, height * 0.8)
    for k in range(count):
        path.arcTo(QRectF(-width * count / 2 + k * width, -tall / 2, width, tall), 180.0, -180.0)
    return path, width * count / 2


def _inductor(painter: QPainter, _theme: Theme, length: float, height: float) -> None:
    path, half = _loops(length, height, 4 if length > 26 else 3)
    _leads(painter, length, half)
    painter.drawPath(path)


def _choke(painter: QPainter, _theme: Theme, length: float, height: float) -> None:
    """A winding with the core that it shares with others."""
    path, half = _loops(length, height, 4 if length > 26 else 3)
    painter.translate(0, height * 0.12)
    _leads(painter, length, half)
    painter.drawPath(path)
    painter.drawLines([QLineF(-half, y, half, y) for y in (-height * 0.42, -height * 0.54)])


def _bead(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    """A sleeve of ferrite over a wire that passes straight through."""
    body = _body(length, height, slim=0.72)
    _leads(painter, length, body.right())
    painter.fillRect(body, theme.color("panel"))
    color = painter.pen().color()
    painter.setBrush(QBrush(color, Qt.BrushStyle.BDiagPattern))
    painter.drawRoundedRect(body, 3, 3)


def _copper(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    """A strip of copper."""
    strip = QRectF(-length / 2, -height * 0.2, length, height * 0.4)
    painter.setPen(QPen(theme.color("copper").darker(130), 1.0))
    painter.setBrush(theme.color("copper"))
    painter.drawRoundedRect(strip, 2, 2)


def _via(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    """A plated hole, seen from above."""
    radius = height * 0.36
    _leads(painter, length, radius)
    painter.setPen(QPen(theme.color("copper"), radius * 0.6))
    painter.setBrush(theme.color("panel"))
    painter.drawEllipse(QPointF(0, 0), radius * 0.75, radius * 0.75)


def _plane_gap(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    """Two planes edge to edge, and the field from one to the other."""
    edge, reach = 0.12 * length, 0.42 * length
    _leads(painter, length, reach)
    for x in (-reach, edge):
        painter.fillRect(QRectF(x, -1.8, reach - edge, 3.6), theme.color("copper"))
    tall = height * 0.72
    painter.drawArc(QRectF(-edge - 3, -tall / 2, 2 * edge + 6, tall), 0, 180 * 16)


def _plane_overlap(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    """Two planes over each other."""
    reach, y = 0.42 * length, height * 0.2
    _leads(painter, length, reach)
    for left, top in ((-reach, -y - 1.8), (-reach * 0.4, y - 1.8)):
        painter.fillRect(QRectF(left, top, 1.4 * reach, 3.6), theme.color("copper"))
    painter.drawLines([QLineF(-reach, -y, -reach, 0), QLineF(reach, 0, reach, y)])


def _transformer(painter: QPainter, _theme: Theme, length: float, height: float) -> None:
    """Two windings that face each other, and the core between."""
    half, count = height / 2, 4 if height > 20 else 3
    bow = min(height / count * 1.3, 0.24 * length)
    inner = 0.14 * length + bow / 2
    _leads(painter, length, inner + bow / 2)
    step = height / count
    for side in (-1, 1):
        path = QPainterPath(QPointF(side * inner, -half))
        for k in range(count):
            box = QRectF(side * inner - bow / 2, -half + k * step, bow, step)
            path.arcTo(box, 90.0, 180.0 * -side * -1)
        painter.drawPath(path)
    core = QPen(painter.pen())
    core.setWidthF(1.2)
    painter.setPen(core)
    painter.drawLines([QLineF(x, -half, x, half) for x in (-1.6, 1.6)])


def _add(painter: QPainter, theme: Theme, length: float, _height: float) -> None:
    """A plus in a ring: something can be put here."""
    painter.setPen(QPen(painter.pen().color(), 1.3))
    painter.setBrush(theme.color("panel"))
    painter.drawEllipse(QPointF(0, 0), length / 2, length / 2)
    arm = length * 0.26
    painter.drawLines([QLineF(-arm, 0, arm, 0), QLineF(0, -arm, 0, arm)])


def _open_end(painter: QPainter, theme: Theme, length: float, _height: float) -> None:
    """A wire that ends in the air."""
    painter.drawLine(QLineF(-length / 2, 0, -2, 0))
    painter.setBrush(theme.color("panel"))
    painter.drawEllipse(QPointF(0.5, 0), 2.8, 2.8)


def _earthed_end(painter: QPainter, _theme: Theme, length: float, _height: float) -> None:
    """A wire joined to the earth."""
    painter.drawLine(QLineF(-length / 2, 0, length / 2, 0))
    painter.setBrush(painter.pen().color())
    painter.drawEllipse(QPointF(length / 2, 0), 2.2, 2.2)


def _lisn_end(painter: QPainter, theme: Theme, length: float, height: float) -> None:
    """A box that stands on the earth, with its name."""
    body = QRectF(-length / 2, -height / 2, length - 3.0, height)
    painter.drawLine(QLineF(length / 2 - 3.0, 0, length / 2, 0))
    painter.setBrush(theme.color("panel"))
    painter.drawRoundedRect(body, 2, 2)
    painter.rotate(-90.0)
    face = font(Type.TINY)
    painter.setFont(face)
    upright = QRectF(body.top(), body.left(), body.height(), body.width())
    painter.drawText(upright, int(CENTER), "LISN")


def _load_end(painter: QPainter, theme: Theme, length: float, _height: float) -> None:
    """A load between the wire and the earth."""
    body = QRectF(-length / 2 + 2, -4, length - 5.0, 8)
    painter.drawLine(QLineF(-length / 2, 0, length / 2, 0))
    painter.fillRect(body, theme.color("panel"))
    painter.drawRect(body)


def _source(painter: QPainter, theme: Theme, symbol: SymbolSpec) -> None:
    radius = symbol.length / 2
    painter.setBrush(theme.color("panel"))
    painter.drawEllipse(QPointF(0, 0), radius - 0.8, radius - 0.8)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    kind = symbol.kind.removeprefix("source-")
    painter.drawPath(_WAVES.get(kind, _sine)(0.52 * radius))


def _pulse(r: float) -> QPainterPath:
    points = ((-1, 0.7), (-0.55, 0.7), (-0.55, -0.7), (0.25, -0.7), (0.25, 0.7), (1, 0.7))
    return _path(points, r)


def _triangle(r: float) -> QPainterPath:
    return _path(((-1, 0.6), (-0.45, -0.6), (0.1, 0.6), (0.65, -0.6), (1, 0.1)), r)


def _arrow(r: float) -> QPainterPath:
    path = _path(((-1.1, 0), (1.1, 0)), r)
    path.addPath(_path(((0.4, -0.6), (1.1, 0), (0.4, 0.6)), r))
    return path


def _bits(r: float) -> QPainterPath:
    points = ((-1, 0.6), (-0.7, 0.6), (-0.7, -0.6), (-0.2, -0.6), (-0.2, 0.6), (0.2, 0.6), (0.2, -0.6), (1, -0.6))
    return _path(points, r)


def _sine(r: float) -> QPainterPath:
    steps = 16
    return _path(tuple((-1 + 2 * k / steps, -0.7 * math.sin(2 * math.pi * k / steps)) for k in range(steps + 1)), r)


def _path(points: tuple[tuple[float, float], ...], scale: float) -> QPainterPath:
    path = QPainterPath(QPointF(points[0][0] * scale, points[0][1] * scale))
    for x, y in points[1:]:
        path.lineTo(x * scale, y * scale)
    return path


_SIGNS: Mapping[str, Draw] = MappingProxyType(
    {
        "capacitor": _capacitor,
        "resistor": _resistor,
        "inductor": _inductor,
        "bead": _bead,
        "common-mode-choke": _choke,
        "copper": _copper,
        "via": _via,
        "plane-gap": _plane_gap,
        "plane-overlap": _plane_overlap,
        "transformer": _transformer,
        "series": _series,
        "add": _add,
        "end-open": _open_end,
        "end-earthed": _earthed_end,
        "end-lisn": _lisn_end,
        "end-load": _load_end,
    }
)
_WAVES: Mapping[str, Callable[[float], QPainterPath]] = MappingProxyType(
    {
        "switch-node": _pulse,
        "return-current": _arrow,
        "ripple": _triangle,
        "crossing-signal": _bits,
        "mains-offset": _sine,
    }
)


def faded(color: QColor, opacity: float) -> QColor:
    """Return a colour let through in part."""
    result = QColor(color)
    result.setAlphaF(opacity)
    return result
