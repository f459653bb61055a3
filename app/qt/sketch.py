"""A small drawing that fills the room it is given, in the style of the section."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.present.section_specs import DrawingSpec
from app.qt.section_draw import draw_section
from app.qt.theme import Theme

_LARGEST = 1.5


class SketchView(QWidget):
    """Paints a drawing in the middle, as large as fits."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._spec: DrawingSpec | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def render(self, spec: DrawingSpec) -> None:  # type: ignore[override]
        """Show a drawing."""
        self._spec = spec
        self.setAccessibleName("Geometry")
        self.setAccessibleDescription(spec.summary)
        self.updateGeometry()
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Return the drawing's own size."""
        return QSize(0, 0) if self._spec is None else QSize(round(self._spec.width), round(self._spec.height))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the drawing."""
        if self._spec is None:
            return
        painter = QPainter(self)
        scale = min(self.width() / self._spec.width, self.height() / self._spec.height, _LARGEST)
        painter.translate(
            (self.width() - scale * self._spec.width) / 2, (self.height() - scale * self._spec.height) / 2
        )
        painter.scale(scale, scale)
        draw_section(painter, self._theme, self._spec)
        painter.end()
