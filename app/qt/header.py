"""Header: which case this is, its candidates as pills, and undo, redo, look and menu at the right."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QPoint, Qt, Signal, SignalInstance
from PySide6.QtGui import QAction, QActionGroup, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QToolButton, QWidget

from app.present.specs import HeaderSpec
from app.qt.panel import ElidedLabel
from app.qt.pills import PillRow
from app.qt.theme import SPACE, Theme, ThemeName, Type

_HEIGHT, _ROUND = 48, 28
_NARROW = 1280
"""Below this width signs stand for the words of the buttons, so that the candidates keep more of their names."""
_SIGNS = {"Undo": "↶", "Redo": "↷", "Theme": "◐"}
_LOOKS = {
    ThemeName.SYSTEM: "As the system",
    ThemeName.LIGHT: "Light",
    ThemeName.DARK: "Dark",
    ThemeName.CONTRAST: "High contrast",
}


class Header(QWidget):
    """Renders a HeaderSpec; tells which candidate, step or look a person asks for."""

    candidate_selected = Signal(int)
    candidate_menu_requested = Signal(int, QPoint)
    add_requested = Signal()
    undo = Signal()
    redo = Signal()
    theme_chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._spec: HeaderSpec | None = None
        self._title = ElidedLabel(Type.HEAD, keep_px=150)
        self._subtitle = ElidedLabel(Type.BODY, "muted")
        self.pill_row = PillRow(theme, self)
        self.add_button = _tool("+", "Add a candidate", self.add_requested)
        self.add_button.setProperty("round", True)
        self.add_button.setFixedSize(_ROUND, _ROUND)
        self.undo_button = _tool("Undo", "Undo", self.undo)
        self.redo_button = _tool("Redo", "Redo", self.redo)
        self.look_button = _tool("Theme", "Choose the theme", None)
        self.menu_button = _tool("☰", "Menu", None)
        self.setFixedHeight(_HEIGHT)
        self._lay_out()
        self._set_up_looks()
        self.pill_row.selected.connect(self.candidate_selected)
        self.pill_row.menu_requested.connect(self.candidate_menu_requested)
        self.menu_button.hide()

    def render(self, spec: HeaderSpec) -> None:  # type: ignore[override]
        """Show the case, its candidates, and what undo and redo would do."""
        if spec == self._spec:
            return
        self._spec = spec
        self._title.setText(spec.title)
        self._subtitle.setText(spec.subtitle)
        self._subtitle.setVisible(bool(spec.subtitle))
        self.pill_row.render(spec.tabs)
        self._order_tabs()
        for button, verb, step in ((self.undo_button, "Undo", spec.undo), (self.redo_button, "Redo", spec.redo)):
            button.setEnabled(bool(step))
            button.setToolTip(f"{verb} {step}".strip())
            button.setAccessibleName(f"{verb} {step}".strip())

    def set_menu(self, menu: QMenu) -> None:
        """Put a menu behind the button at the far right."""
        self.menu_button.setMenu(menu)
        self.menu_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.menu_button.show()

    def show_look(self, name: ThemeName) -> None:
        """Mark the look that was chosen, without telling anyone."""
        for action in self._looks.actions():
            action.setChecked(action.data() == str(name))

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.pill_row.set_theme(theme)
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let signs stand for words where the row is narrow."""
        super().resizeEvent(event)
        narrow = event.size().width() < _NARROW
        for button, word in ((self.undo_button, "Undo"), (self.redo_button, "Redo"), (self.look_button, "Theme")):
            button.setText(_SIGNS[word] if narrow else word)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ground and the line under it."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._theme.color("panel"))
        painter.setPen(QPen(self._theme.color("border"), 1.0))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        painter.end()

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.l, 0, SPACE.m, 0)
        row.setSpacing(SPACE.s)
        row.addWidget(self._title)
        row.addWidget(self._subtitle)
        row.addStretch(1)
        row.addWidget(self.pill_row)
        row.addWidget(self.add_button)
        row.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(SPACE.xs)
        for button in (self.undo_button, self.redo_button, self.look_button, self.menu_button):
            buttons.addWidget(button)
        row.addLayout(buttons)

    def _order_tabs(self) -> None:
        """Let Tab go from left to right, though pills are made later than the buttons beside them."""
        # the pills are taken to the place of the add button first, and that button then behind them
        for before, after in pairwise([self.add_button, *self.pill_row.pills(), self.add_button]):
            QWidget.setTabOrder(before, after)

    def _set_up_looks(self) -> None:
        menu = QMenu(self.look_button)
        self._looks = QActionGroup(menu)
        for name, label in _LOOKS.items():
            action = QAction(label, menu)
            action.setCheckable(True)
            action.setChecked(name is ThemeName.SYSTEM)
            action.setData(str(name))
            self._looks.addAction(action)
            menu.addAction(action)
        self._looks.triggered.connect(lambda action: self.theme_chosen.emit(action.data()))
        self.look_button.setMenu(menu)
        self.look_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)


def _tool(text: str, name: str, signal: SignalInstance | None) -> QToolButton:
    button = QToolButton()
    button.setText(text)
    button.setToolTip(name)
    button.setAccessibleName(name)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    if signal is not None:
        button.clicked.connect(signal)
    return button
