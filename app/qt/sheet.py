"""The sheet: where the cards of the main window stand, and what gives way where the window is small."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QSplitter, QVBoxLayout, QWidget

from app.qt.panel import Panel
from app.qt.scrolled import scrolled
from app.qt.theme import SPACE

_INSPECTOR_WIDTH, _INSPECTOR_NARROW, _WIDE = 316, 292, 1280
_PLOT_LEAST, _ANSWERS_LEAST = 300, 206


class Sheet(QWidget):
    """From cause to effect: section, impedance beside what comes of it, answers; the inspector at the right.

    Parameters
    ----------
    above : lines over the whole width, from the top down
    """

    def __init__(
        self,
        above: tuple[QWidget, ...],
        *,
        section: Panel,
        impedance: Panel,
        consequences: Panel,
        answers: Panel,
        inspector: Panel,
    ) -> None:
        super().__init__()
        self.cards = (section, impedance, consequences, answers, inspector)
        self._answers, self._inspector = answers, inspector
        impedance.setMinimumHeight(_PLOT_LEAST)
        answers.setMinimumHeight(_ANSWERS_LEAST)
        plots = _split(Qt.Orientation.Horizontal, (impedance, consequences), (600, 420))
        rows = _split(Qt.Orientation.Vertical, (plots, answers), (382, _ANSWERS_LEAST))
        rows.setStretchFactor(0, 3)
        rows.setStretchFactor(1, 1)
        body = QHBoxLayout()
        body.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        body.setSpacing(SPACE.m)
        body.addWidget(_scrolled(section, rows), 1)
        body.addWidget(inspector)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for line in above:
            column.addWidget(line)
        column.addLayout(body, 1)

    def fit_answers(self, wanted: int) -> None:
        """Give the answers no more height than they fill: in a high window the plots have better use for it."""
        self._answers.setMaximumHeight(max(wanted + 2 * SPACE.m, _ANSWERS_LEAST))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the inspector less room in a narrow window."""
        narrow = event.size().width() < _WIDE
        self._inspector.setFixedWidth(_INSPECTOR_NARROW if narrow else _INSPECTOR_WIDTH)
        super().resizeEvent(event)


def _split(direction: Qt.Orientation, parts: tuple[QWidget, ...], sizes: tuple[int, ...]) -> QSplitter:
    """Return widgets beside or under each other, with an edge between them to pull."""
    splitter = QSplitter(direction)
    for part in parts:
        splitter.addWidget(part)
    splitter.setSizes(list(sizes))
    splitter.setChildrenCollapsible(False)
    splitter.setHandleWidth(SPACE.m)
    return splitter


def _scrolled(section: QWidget, rows: QWidget) -> QScrollArea:
    """Return the section over the rows: what has no room in a low window is scrolled to, never squeezed."""
    inside = QWidget()
    column = QVBoxLayout(inside)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(SPACE.m)
    column.addWidget(section)
    column.addWidget(rows, 1)
    return scrolled(inside)
