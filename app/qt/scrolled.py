"""What has no room in a low window is scrolled to, never squeezed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget


def scrolled(inside: QWidget, name: str = "") -> QScrollArea:
    """Return a widget that scrolls up and down; with a name of its own it takes the keys, to be read by them."""
    area = QScrollArea()
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setAccessibleName(name)
    if not name:
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area
