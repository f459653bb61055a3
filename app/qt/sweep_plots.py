"""What comes of values that vary: the result over them, and under it the impedance at some of them."""

from __future__ import annotations

from attrs import evolve
from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.present.specs import PlotSpec
from app.present.sweep_plot import family, impedances, map_plot, over_words
from app.qt.panel import Panel
from app.qt.plot.view import PlotView
from app.qt.theme import SPACE, Theme
from app.sweep.map import Mapped
from models.case.document import Case

_EMPTY = "Choose what to vary, then compute."


class SweepPlots(QWidget):
    """Two plots under each other, the lower one only where one value varies alone."""

    picked = Signal(float, float)
    """The point of the upper plot that was clicked."""
    failed = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plot, self.curves = PlotView(theme), PlotView(theme)
        self._upper, self._lower = Panel(theme, self.plot), Panel(theme, self.curves)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE.m)
        column.addWidget(self._upper, 1)
        column.addWidget(self._lower, 1)
        self.plot.installEventFilter(self)
        for plot in (self.plot, self.curves):
            plot.failed.connect(self.failed)

    def render(self, mapped: Mapped | None, case: Case, at: tuple[float, float] | None) -> None:  # type: ignore[override]
        """Show what was computed, with the values of the present case and the chosen point."""
        self._lower.setVisible(mapped is not None and bool(mapped.curves))
        if mapped is None:
            self.plot.render(PlotSpec(title="", empty=_EMPTY))
            return
        found, unit = mapped.surface, mapped.request.result.unit
        if found.outer is not None:
            spec = map_plot(found, unit=unit, here=found.place_of(case), at=at)
        else:
            spec = evolve(family(found, unit=unit), cursor_x=None if at is None else at[0])
        self._upper.show_title(spec.title, over_words(mapped))
        self.plot.render(spec)
        if mapped.curves:
            curves = impedances(mapped)
            self._lower.show_title(curves.title, "at some of the values")
            self.curves.render(curves)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        for part in (self.plot, self.curves, self._upper, self._lower):
            part.set_theme(theme)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Tell which point of the plot was clicked."""
        released = isinstance(event, QMouseEvent) and event.type() == QEvent.Type.MouseButtonRelease
        if released and isinstance(event, QMouseEvent) and event.button() == Qt.MouseButton.LeftButton:
            frame, place = self.plot.sheet().frame, event.position()
            if frame.rect().contains(place):
                self.picked.emit(frame.x.value(place.x()), frame.y.value(place.y()))
        return super().eventFilter(watched, event)
