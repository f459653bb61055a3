"""The stage: the plot of a page with what is drawn over it and the names of its curves, or its large form."""

from __future__ import annotations

from attrs import evolve
from PySide6.QtCore import QRectF, QSize, QSizeF
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from app.present.lesson_room import for_a_room
from app.present.lesson_specs import AskSpec
from app.present.specs import CurveSpec, PlotSpec
from app.qt.lesson_overlay import Overlay
from app.qt.lesson_words import LARGE
from app.qt.paint import SAMPLE_WIDTH, draw_sample, draw_text
from app.qt.plot.export import paint_chart
from app.qt.plot.geometry import home_range
from app.qt.plot.view import PlotView
from app.qt.theme import SPACE, Theme, Type, font

_ROW = 20
_HEAD_MARGINS = 48.0


class Legend(QWidget):
    """The names of the curves with their lines, in as many rows as they need."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._curves: tuple[CurveSpec, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def render(self, curves: tuple[CurveSpec, ...]) -> None:  # type: ignore[override]
        """Show the names."""
        self._curves = curves
        self.setAccessibleName(", ".join(each.label for each in curves))
        self.setVisible(bool(curves))
        self._fit()
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def resizeEvent(self, _event: object) -> None:
        """Take as many rows as the width asks for."""
        self._fit()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the names."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for place, curve in self._places():
            draw_sample(painter, self._theme, curve.ink, place.left(), place.center().y())
            words = place.adjusted(SAMPLE_WIDTH + 8, 0, 0, 0)
            face = font(Type.STRONG if curve.strong else Type.SMALL)
            draw_text(painter, words, curve.label, face=face, color=self._theme.color("text"))
        painter.end()

    def _fit(self) -> None:
        rows = max((round(place.top() / _ROW) for place, _ in self._places()), default=0) + 1
        if self.height() != rows * _ROW:
            self.setFixedHeight(rows * _ROW)

    def _places(self) -> list[tuple[QRectF, CurveSpec]]:
        metrics = QFontMetricsF(font(Type.STRONG))
        x, row, found = 0.0, 0, []
        for curve in self._curves:
            width = SAMPLE_WIDTH + 8 + metrics.horizontalAdvance(curve.label) + SPACE.xl
            if x and x + width > self.width():
                x, row = 0.0, row + 1
            found.append((QRectF(x, row * _ROW, min(width, max(self.width() - x, 40.0)), _ROW), curve))
            x += width
        return found


class BigPlot(QWidget):
    """A plot for a whole room: everything on it larger, nothing to touch."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._spec = PlotSpec(title="")
        self.setMinimumSize(QSize(240, 160))

    def render(self, spec: PlotSpec) -> None:  # type: ignore[override]
        """Show a plot."""
        self._spec = for_a_room(spec)
        self.setAccessibleName(spec.title)
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint it with the functions of the screen and of the export, enlarged."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(LARGE, LARGE)
        size = QSizeF(self.width() / LARGE, self.height() / LARGE)
        spec = self._spec if _head_px(self._spec) <= size.width() else evolve(self._spec, subtitle="")
        paint_chart(painter, self._theme, spec, size, (home_range(spec.x), home_range(spec.y)))
        painter.end()


def _head_px(spec: PlotSpec) -> float:
    """Return how wide title and subtitle are beside each other, with what a plot keeps free around them."""
    words = ((spec.title, Type.TITLE), (spec.subtitle, Type.SMALL))
    return sum(QFontMetricsF(font(kind)).horizontalAdvance(text) for text, kind in words) + _HEAD_MARGINS


class Stage(QWidget):
    """The plot of a page with what is drawn over it and the names of its curves, or its large form."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plot = PlotView(theme)
        self.overlay = Overlay(theme, self.plot)
        self.legend = Legend(theme)
        self.big = BigPlot(theme)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE.xs)
        for widget, stretch in ((self.plot, 1), (self.legend, 0), (self.big, 1)):
            column.addWidget(widget, stretch)

    def render(self, spec: PlotSpec, ask: AskSpec | None, *, large: bool) -> None:  # type: ignore[override]
        """Show a plot and, while a question is open, take a prediction on it."""
        self.plot.setVisible(not large)
        self.big.setVisible(large)
        self.big.render(spec)
        self.plot.render(spec)
        self.legend.render(() if large else spec.curves)
        self.overlay.render(None if large else ask)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        for each in (self.plot, self.overlay, self.legend, self.big):
            each.set_theme(theme)
