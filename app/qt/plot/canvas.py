"""Canvas: pyqtgraph's view, on which a plot paints its sheet."""

from __future__ import annotations

from collections.abc import Callable
from weakref import WeakMethod

import pyqtgraph as pg
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGraphicsView, QWidget


class Canvas(pg.GraphicsView):
    """Fills the widget that it stands in, which takes mouse and keys.

    The scene stays empty: items that Python holds as well end the process where Qt deletes the view before them.

    Parameters
    ----------
    paint : a method of the widget that paints everything, in its pixels
    parent : the widget
    """

    def __init__(self, paint: Callable[[QPainter], None], parent: QWidget) -> None:
        super().__init__(parent=parent, background=None)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setCacheMode(QGraphicsView.CacheModeFlag.CacheNone)
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setCentralItem(None)
        self.centralLayout = None
        # a loop through here would leave it to Python's collector in which order the view and its scene go
        self._paint = WeakMethod(paint)

    def repaint_sheet(self) -> None:
        """Paint again at the next turn of the event loop."""
        self.viewport().update()

    def drawForeground(self, painter: QPainter, _part: QRectF) -> None:
        """Paint the sheet."""
        painter.resetTransform()
        if (paint := self._paint()) is not None:
            paint(painter)
