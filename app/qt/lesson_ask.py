"""How a learner predicts beside the plot: answers and reasons to pick, and the slider of a value."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from app.present.lesson_specs import AskSpec, ChoiceSpec
from app.present.specs import FieldSpec
from app.qt.lesson_words import rich_words, scaled_font, show_html
from app.qt.paint import draw_focus, draw_outcome
from app.qt.panel import ElidedLabel, Words
from app.qt.slider import ValueSlider
from app.qt.theme import SPACE, Theme, Type, font

_RING = 7.0
_LEFT = 34.0
_WRAP = int(Qt.TextFlag.TextWordWrap) | int(Qt.AlignmentFlag.AlignTop)
_SIGNS = {"right": "pass", "wrong": "fail"}


class ChoiceRow(QAbstractButton):
    """One answer: a ring that fills when it is picked, and its words over as many lines as they need."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.spec = ChoiceSpec(id="", text="")
        self._scale = 1.0
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def render(self, spec: ChoiceSpec, scale: float, *, open_: bool) -> None:  # type: ignore[override]
        """Show an answer."""
        self.spec, self._scale = spec, scale
        self.setText(spec.text)
        self.setChecked(spec.picked)
        self.setEnabled(open_)
        self.setAccessibleName(f"{spec.text} {spec.mark}".strip())
        self.updateGeometry()
        self.update()

    def nextCheckState(self) -> None:
        """Leave the state to the spec: a click asks, it does not pick."""

    def hasHeightForWidth(self) -> bool:
        """Return that lines wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of all lines."""
        metrics = QFontMetricsF(scaled_font(Type.BODY, self._scale))
        room = QRectF(0, 0, max(width - _LEFT - SPACE.s, 40.0), 1e4)
        return round(metrics.boundingRect(room, _WRAP, self.text()).height() + 14)

    def sizeHint(self) -> QSize:
        """Return the height at the present width."""
        return QSize(200, self.heightForWidth(max(self.width(), 120)))

    def minimumSizeHint(self) -> QSize:
        """Return the height at the present width."""
        return QSize(120, self.heightForWidth(max(self.width(), 120)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Claim another height for another width."""
        super().resizeEvent(event)
        self.updateGeometry()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go to the neighbour with the arrow keys; Space picks."""
        step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
        elif step > 0:
            self.focusNextChild()
        else:
            self.focusPreviousChild()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ring, or the sign of the answer, and the words."""
        painter, theme, spec = QPainter(self), self.theme, self.spec
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        outline = QRectF(self.rect()).adjusted(0.5, 1.5, -0.5, -1.5)
        painter.setPen(QPen(theme.color("accent" if spec.picked else "field_border"), 1.0))
        hot = self.isEnabled() and self.underMouse()
        painter.setBrush(theme.color("tint" if spec.picked or hot else "field"))
        painter.drawRoundedRect(outline, 6, 6)
        at = QPointF(17.0, 7.0 + QFontMetricsF(scaled_font(Type.BODY, self._scale)).height() / 2)
        if spec.mark:
            draw_outcome(painter, theme, _SIGNS[spec.mark], at)
        else:
            painter.setPen(QPen(theme.color("accent" if spec.picked else "muted"), 1.5))
            painter.setBrush(theme.color("panel"))
            painter.drawEllipse(at, _RING, _RING)
            if spec.picked:
                painter.setBrush(theme.color("accent"))
                painter.drawEllipse(at, _RING - 4, _RING - 4)
        painter.setFont(scaled_font(Type.BODY, self._scale))
        painter.setPen(theme.color("text"))
        painter.drawText(QRectF(_LEFT, 7, self.width() - _LEFT - SPACE.s, self.height()), _WRAP, self.text())
        if self.hasFocus():
            draw_focus(painter, theme, QRectF(self.rect()), 6)
        painter.end()


class AskView(QWidget):
    """The question's input beside the plot; a curve is drawn on the plot itself."""

    picked = Signal(str, str)
    """Option and reason; the one that is not yet picked is empty."""
    dragged = Signal(float)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._spec: AskSpec | None = None
        self._shape: tuple[object, ...] = ()
        self.options: list[ChoiceRow] = []
        self.reasons: list[ChoiceRow] = []
        self.slider: ValueSlider | None = None
        self._value = ElidedLabel(Type.TITLE, parent=self)
        self._because = ElidedLabel(Type.STRONG, parent=self)
        self._because.setText("Because …")
        self._range = Words(parent=self)
        self._hint = Words(parent=self)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(SPACE.xs)

    def render(self, spec: AskSpec | None, scale: float = 1.0, *, hints: bool = True) -> None:  # type: ignore[override]
        """Show how to predict; with the same answers as before nothing is built anew and the focus stays."""
        self._spec = spec
        self.setVisible(spec is not None)
        if spec is None:
            return
        shape = (spec.kind, len(spec.options), len(spec.reasons))
        if shape != self._shape:
            self._shape = shape
            self._build(spec)
        for row, choice in zip((*self.options, *self.reasons), (*spec.options, *spec.reasons), strict=True):
            row.render(choice, scale, open_=spec.open)
        if spec.value is not None and self.slider is not None:
            self._show_value(spec.value, open_=spec.open)
        for words, kind in (
            (self._value, Type.TITLE),
            (self._because, Type.STRONG),
            (self._range, Type.SMALL),
            (self._hint, Type.SMALL),
        ):
            words.setFont(scaled_font(kind, scale))
        self._hint.setText(spec.hint)
        self._hint.setVisible(spec.open and hints)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        for row in (*self.options, *self.reasons):
            row.theme = theme
            row.update()
        if self.slider is not None:
            self.slider.theme = theme
            self.slider.update()

    def first(self) -> QWidget | None:
        """Return what takes the keys first."""
        return self.options[0] if self.options else self.slider

    def _build(self, spec: AskSpec) -> None:
        for old in (*self.options, *self.reasons, *((self.slider,) if self.slider else ())):
            self._column.removeWidget(old)
            old.hide()
            old.deleteLater()
        # an item taken from a layout would live on and keep its widget's new place from being told of new sizes
        for kept in (self._because, self._value, self._range, self._hint):
            self._column.removeWidget(kept)
        self.options = [self._row(reason=False) for _ in spec.options]
        self.reasons = [self._row(reason=True) for _ in spec.reasons]
        self.slider = None if spec.value is None else self._new_slider(spec.value)
        self._because.setVisible(bool(self.reasons))
        self._value.setVisible(spec.value is not None)
        self._range.setVisible(spec.value is not None)
        shown: list[QWidget] = [*self.options]
        if self.reasons:
            shown += [self._because, *self.reasons]
        if self.slider is not None:
            shown += [self._value, self.slider, self._range]
        for widget in (*shown, self._hint):
            self._column.addWidget(widget)
            widget.show()

    def _row(self, *, reason: bool) -> ChoiceRow:
        row = ChoiceRow(self._theme, self)
        row.clicked.connect(lambda: self._pick(row, reason=reason))
        return row

    def _pick(self, row: ChoiceRow, *, reason: bool) -> None:
        spec = self._spec
        if spec is None or not spec.open:
            return
        option = next((each.id for each in spec.options if each.picked), "")
        because = next((each.id for each in spec.reasons if each.picked), "")
        self.picked.emit(*((option, row.spec.id) if reason else (row.spec.id, because)))

    def _new_slider(self, spec: FieldSpec) -> ValueSlider:
        slider = ValueSlider(self._theme, spec, self)
        slider.setAccessibleName(spec.label)
        slider.moved.connect(self.dragged)
        return slider

    def _show_value(self, spec: FieldSpec, *, open_: bool) -> None:
        assert self.slider is not None
        self.slider.show_spec(spec)
        self.slider.setEnabled(open_)
        self._value.setText(f"{spec.label}: {spec.text}")
        self._range.setText(spec.note)


class Verdict(QWidget):
    """What the lesson says to a prediction, in a tinted box with a line of its outcome's colour."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._outcome = ""
        self.headline = rich_words(parent=self)
        self.words = rich_words(parent=self)
        column = QVBoxLayout(self)
        column.setContentsMargins(SPACE.l, SPACE.s, SPACE.s, SPACE.s)
        column.setSpacing(SPACE.xs)
        for each in (self.headline, self.words):
            column.addWidget(each)
        self.setFont(font(Type.BODY))

    def show_reply(self, outcome: str, headline: str, words_html: str, scale: float) -> None:
        """Show a reply."""
        self._outcome = outcome
        show_html(self.headline, headline, Type.STRONG, scale)
        show_html(self.words, words_html, Type.BODY, scale)
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the box."""
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        role = {"right": "good", "close": "caution", "off": "caution"}.get(self._outcome, "muted")
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.color("tint"))
        painter.drawRoundedRect(QRectF(self.rect()), 6, 6)
        painter.setBrush(theme.color(role))
        painter.drawRoundedRect(QRectF(0, 4, 4, self.height() - 8), 2, 2)
        painter.end()
