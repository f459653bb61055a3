"""Canvas: pyqtgraph's view of a plot. Its ViewBox keeps the range that is seen; one item paints the whole sheet."""

from __future__ import annotations

from collections.abc import Callable

import pyqtgraph as pg
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QGraphicsView, QWidget

from app.qt.plot.geometry import View


class Canvas(pg.GraphicsView):
    """Fills the widget that it stands in, which takes mouse and keys.

    Parameters
    ----------
    paint : paints everything, in pixels of the widget
    parent : the widget
    """

    def __init__(self, paint: Callable[[QPainter], None], parent: QWidget) -> None:
        super().__init__(parent=parent, background=None)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
        # one item fills the view: no search for what lies under a change, no picture of an empty background
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setCacheMode(QGraphicsView.CacheModeFlag.CacheNone)
        self.setOptimizationFlag(QGraphicsView.OptimizationFlag.DontAdjustForAntialiasing)
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.box = pg.ViewBox(enableMenu=False, enableMouse=False, defaultPadding=0.0)
        self._sheet = _Sheet(paint)
        self.scene().addItem(self.box)
        self.scene().addItem(self._sheet)

    def seen(self) -> View:
        """Return the x range and the y range that are seen, log10 on a log axis."""
        (x_low, x_high), (y_low, y_high) = self.box.viewRange()
        return (float(x_low), float(x_high)), (float(y_low), float(y_high))

    def see(self, view: View) -> None:
        """Show other ranges."""
        self.box.setRange(xRange=view[0], yRange=view[1], padding=0.0)

    def repaint_sheet(self) -> None:
        """Paint again at the next turn of the event loop."""
        self._sheet.update()

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Let the sheet fill the view."""
        super().resizeEvent(event)
        if event is not None:
            self._sheet.fill(QRectF(self.rect()))


class _Sheet(pg.GraphicsObject):
    """The one item of a canvas."""

    def __init__(self, paint: Callable[[QPainter], None]) -> None:
        super().__init__()
        self._paint = paint
        self._outer = QRectF()

    def fill(self, outer: QRectF) -> None:
        self.prepareGeometryChange()
        self._outer = outer

    def boundingRect(self) -> QRectF:
        return self._outer

    def paint(self, painter: QPainter, *_style: object) -> None:
        self._paint(painter)
