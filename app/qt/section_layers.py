"""The section drawing on a screen: what does not change while the cursor moves is kept as pictures."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QPainter

from app.present.section_specs import DrawingSpec
from app.qt.kept import KeptPicture
from app.qt.section_draw import draw_badges, draw_currents, draw_ground, draw_metal, draw_texts
from app.qt.theme import Theme

_MARGIN = 4.0
Draw = Callable[[QPainter, Theme, DrawingSpec], None]


class Layers:
    """Paints a drawing from its layers, back to front."""

    def __init__(self) -> None:
        self._ground = KeptPicture()
        self._metal = KeptPicture()
        self._texts = KeptPicture()

    def paint(self, painter: QPainter, theme: Theme, spec: DrawingSpec) -> None:
        """Paint a whole drawing."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._kept(painter, theme, spec, self._ground, (spec.board, spec.earth), draw_ground)
        draw_currents(painter, theme, spec)
        self._kept(painter, theme, spec, self._metal, (spec.metal, spec.symbols), draw_metal)
        self._kept(painter, theme, spec, self._texts, spec.texts, draw_texts)
        draw_badges(painter, theme, spec)

    def _kept(
        self,
        painter: QPainter,
        theme: Theme,
        spec: DrawingSpec,
        picture: KeptPicture,
        shows: tuple[object, ...],
        draw: Draw,
    ) -> None:
        size = QSizeF(spec.width + _MARGIN, spec.height + _MARGIN)
        picture.paint(painter, size, (theme.name, *shows), lambda inside: draw(inside, theme, spec))
