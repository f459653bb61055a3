"""Small choices over a plot: a word with a chevron that opens its options, and modes that fold into such a word."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAction, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import (
    QHBoxLayout,
    QMenu,
    QSizePolicy,
    QStyle,
    QStyleOptionToolButton,
    QStylePainter,
    QToolButton,
    QWidget,
)

from app.present.specs import ChoiceSpec
from app.qt.paint import draw_text
from app.qt.panel import ModeSwitch
from app.qt.theme import Theme, Type, font

_LEFT, _CHEVRON = 6, 12
_LEAST = 56


class ChoiceButton(QToolButton):
    """Renders a ChoiceSpec: shows what holds, and offers the rest in a menu."""

    picked = Signal(str, str)
    """The choice's name and the value of the option."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._spec = ChoiceSpec(name="", label="", options=(), chosen="")
        self._menu = QMenu(self)
        self._menu.aboutToShow.connect(self._fill)
        self.setMenu(self._menu)
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.setProperty("quiet", True)
        self.setFont(font(Type.SMALL))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def render(self, spec: ChoiceSpec) -> None:  # type: ignore[override]
        """Show what holds."""
        self._spec = spec
        words = dict(spec.options).get(spec.chosen, spec.chosen)
        if words != self.text():
            self.setText(words)
        self.setAccessibleName(f"{spec.label}: {words}")
        self.setToolTip(f"{spec.label}: {words}")

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room for the word and its chevron."""
        word = self.fontMetrics().horizontalAdvance(self.text())
        return QSize(_LEFT + word + _CHEVRON + 3, super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Return what is kept when others want the room."""
        whole = self.sizeHint()
        return QSize(min(_LEAST, whole.width()), whole.height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint as much of the word as fits, and the chevron."""
        painter = QStylePainter(self)
        if self.underMouse() or self.isDown() or self.hasFocus():
            option = QStyleOptionToolButton()
            self.initStyleOption(option)
            option.text = ""
            option.features = QStyleOptionToolButton.ToolButtonFeature.None_
            painter.drawComplexControl(QStyle.ComplexControl.CC_ToolButton, option)
        word = QRectF(_LEFT, 0, self.width() - _LEFT - _CHEVRON - 2, self.height())
        draw_text(painter, word, self.text(), face=self.font(), color=self._theme.color("text"))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._theme.color("muted"), 1.4))
        at = QPointF(self.width() - _CHEVRON / 2 - 1, self.height() / 2 + 0.5)
        painter.drawPolyline(QPolygonF([at + QPointF(-3.5, -1.5), at + QPointF(0, 2), at + QPointF(3.5, -1.5)]))
        painter.end()

    def options(self) -> QMenu:
        """Return the menu of options, filled as it would be shown."""
        self._fill()
        return self._menu

    def _fill(self) -> None:
        self._menu.clear()
        for value, words in self._spec.options:
            action = QAction(words, self._menu)
            action.setCheckable(True)
            action.setChecked(value == self._spec.chosen)
            action.setData(value)
            action.triggered.connect(lambda _=False, value=value: self.picked.emit(self._spec.name, value))
            self._menu.addAction(action)


class Modes(QWidget):
    """Words of which one holds; where there is no room for all of them, one word that opens the rest."""

    chosen = Signal(str)

    def __init__(
        self,
        theme: Theme,
        name: str,
        options: tuple[str, ...],
        parent: QWidget | None = None,
        *,
        tips: tuple[str, ...] = (),
    ) -> None:
        super().__init__(parent)
        self._name, self._options = name, options
        self.switch = ModeSwitch(name, options, self, tips=tips)
        self.button = ChoiceButton(theme, self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.switch)
        row.addWidget(self.button)
        self.button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.button.hide()
        self.switch.chosen.connect(self.chosen)
        self.button.picked.connect(lambda _name, value: self.chosen.emit(value))

    def show_choice(self, option: str) -> None:
        """Mark the option that holds, without telling anyone."""
        self.switch.show_choice(option)
        options = tuple((each, each) for each in self._options)
        self.button.render(ChoiceSpec(name=self._name, label=self._name, options=options, chosen=option))

    def minimumSizeHint(self) -> QSize:
        """Return the room of the one word, so that whoever holds the modes can become narrow enough to fold them."""
        return self.button.sizeHint()

    def fit(self, room: int) -> int:
        """Fold into one word where the room is too small for all of them; return what is left of the room."""
        wanted = self.switch.sizeHint().width()
        folded = wanted > room
        self.switch.setVisible(not folded)
        self.button.setVisible(folded)
        return room - (self.button.sizeHint().width() if folded else wanted)

    @property
    def folded(self) -> bool:
        """Whether one word stands for all."""
        return self.button.isVisibleTo(self)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self.button.set_theme(theme)
