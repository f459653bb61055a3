"""The section drawing on a screen: what does not change while the cursor moves is kept as pictures."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QPainter

from app.present.section_specs import DrawingSpec
from app.qt.section_draw import draw_badges, draw_currents, draw_ground, draw_things
from app.qt.theme import Theme

Draw = Callable[[QPainter, Theme, DrawingSpec], None]


class Layer:
    """A part of the drawing as a picture, painted anew only when what it shows is another."""

    def __init__(self, draw: Draw) -> None:
        self._draw = draw
        self._key: tuple[object, ...] = ()
        self._picture = QImage()

    def paint(self, painter: QPainter, theme: Theme, spec: DrawingSpec, shows: tuple[object, ...]) -> None:
        """Put the picture onto the screen."""
        ratio = painter.device().devicePixelRatioF()
        key = (theme.name, ratio, spec.width, spec.height, *shows)
        if key != self._key:
            self._key = key
            self._picture = self._painted(theme, spec, ratio)
        painter.drawImage(0, 0, self._picture)

    def _painted(self, theme: Theme, spec: DrawingSpec, ratio: float) -> QImage:
        # an image rather than a pixmap: it may outlive the application
        size = QSize(round((spec.width + 4) * ratio), round((spec.height + 4) * ratio))
        picture = QImage(size, QImage.Format.Format_ARGB32_Premultiplied)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw(painter, theme, spec)
        painter.end()
        return picture


class Layers:
    """Paints a drawing from its layers, back to front."""

    def __init__(self) -> None:
        self._ground = Layer(draw_ground)
        self._things = Layer(draw_things)

    def paint(self, painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
        """Paint a whole drawing."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._ground.paint(painter, theme, spec, (spec.board, spec.earth))
        draw_currents(painter, theme, spec)
        self._things.paint(painter, theme, spec, (spec.metal, spec.symbols, spec.texts))
        draw_badges(painter, theme, spec)
