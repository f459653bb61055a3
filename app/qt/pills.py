"""Pills: the candidates beside each other, each with its line and name; where they do not fit, they scroll."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QLinearGradient,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractButton, QFrame, QHBoxLayout, QScrollArea, QSizePolicy, QWidget

from app.present.specs import CandidateTabSpec
from app.qt.paint import SAMPLE_WIDTH, draw_focus, draw_sample, draw_text, elided_name
from app.qt.theme import SPACE, Theme, Type, font

_PILL_HEIGHT = 28
_PILL_AT_LEAST = 112
_PILL_AT_MOST = 220
_WHOLE_SAMPLE_FROM = 150
"""Narrower pills have a shorter line, which leaves more of the name."""
_FADE = 24


class Pill(QAbstractButton):
    """One candidate: its line and its name in a rounded outline; the selected one is filled and bold."""

    def __init__(self, theme: Theme, spec: CandidateTabSpec, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.spec = spec
        self.setCheckable(True)
        self.setAutoExclusive(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setMaximumWidth(_PILL_AT_MOST)
        self.render(spec)

    def render(self, spec: CandidateTabSpec) -> None:  # type: ignore[override]
        """Show a candidate."""
        if spec.label != self.text():
            self.updateGeometry()
        self.spec = spec
        self.setText(spec.label)
        self.setToolTip(spec.label)
        self.setAccessibleName(spec.label)
        self.setAccessibleDescription("selected candidate" if spec.selected else "candidate")
        self.setChecked(spec.selected)
        self.update()

    def sizeHint(self) -> QSize:
        """Return the width of the whole name in bold, so that selecting moves nothing."""
        width = QFontMetricsF(font(Type.STRONG)).horizontalAdvance(self.text())
        return QSize(min(int(width + SAMPLE_WIDTH + 36), _PILL_AT_MOST), _PILL_HEIGHT)

    def minimumSizeHint(self) -> QSize:
        """Return the width that still shows a piece of the name."""
        return QSize(min(_PILL_AT_LEAST, self.sizeHint().width()), _PILL_HEIGHT)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave the arrows to the row, which selects the neighbour; alone they would only move the focus."""
        if event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def nextCheckState(self) -> None:
        """Leave the state to the spec: a click asks, it does not select."""

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the pill."""
        painter, theme, selected = QPainter(self), self.theme, self.spec.selected
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge = 1.0 if selected else 0.5
        outline = QRectF(self.rect()).adjusted(edge, edge, -edge, -edge)
        painter.setPen(QPen(theme.color("accent") if selected else theme.color("field_border"), 2 * edge))
        painter.setBrush(theme.color("tint" if selected or self.underMouse() else "panel"))
        painter.drawRoundedRect(outline, outline.height() / 2, outline.height() / 2)
        sample = SAMPLE_WIDTH if self.width() >= _WHOLE_SAMPLE_FROM else 0.64 * SAMPLE_WIDTH
        draw_sample(painter, theme, self.spec.ink, 12, self.height() / 2, width=sample)
        face = font(Type.STRONG if selected else Type.BODY)
        place = QRectF(12 + sample + 8, 0, self.width() - sample - 30, self.height())
        shown = elided_name(self.text(), face, place.width())
        draw_text(painter, place, shown, face=face, color=theme.color("text"))
        if self.hasFocus():
            draw_focus(painter, theme, QRectF(self.rect()).adjusted(1, 1, -1, -1), outline.height() / 2 - 2)
        painter.end()


class Fade(QWidget):
    """Lets what goes on beyond an edge of the row fade out there, so that it is seen to go on."""

    def __init__(self, row: PillRow) -> None:
        super().__init__(row)
        self._row = row
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the fading edges."""
        bar, ground = self._row.horizontalScrollBar(), self._row.ground()
        nothing = QColor(ground)
        nothing.setAlpha(0)
        painter, width = QPainter(self), self.width()
        for hidden, start, end in (
            (bar.value() > bar.minimum(), 0, _FADE),
            (bar.value() < bar.maximum(), width, width - _FADE),
        ):
            if hidden:
                fading = QLinearGradient(start, 0, end, 0)
                fading.setColorAt(0.0, ground)
                fading.setColorAt(1.0, nothing)
                painter.fillRect(min(start, end), 0, _FADE, self.height(), fading)
        painter.end()


class PillRow(QScrollArea):
    """The candidates beside each other; where even short names do not fit they scroll, the selected one in sight."""

    selected = Signal(int)
    menu_requested = Signal(int, QPoint)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._pills: list[Pill] = []
        self._chosen: int | None = None
        self._inside = QWidget()
        self._row = QHBoxLayout(self._inside)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(SPACE.s)
        self.setWidget(self._inside)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFixedHeight(_PILL_HEIGHT + 2)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self._fade = Fade(self)
        self.horizontalScrollBar().rangeChanged.connect(lambda _low, _high: self._show_chosen())
        self.horizontalScrollBar().rangeChanged.connect(lambda _low, _high: self._fade.update())
        self.horizontalScrollBar().valueChanged.connect(lambda _value: self._fade.update())

    def render(self, tabs: tuple[CandidateTabSpec, ...]) -> None:  # type: ignore[override]
        """Show candidates, in place as far as there are pills already."""
        while len(self._pills) > len(tabs):
            pill = self._pills.pop()
            self._row.removeWidget(pill)
            pill.hide()
            pill.deleteLater()
        for pill, spec in zip(self._pills, tabs, strict=False):
            pill.render(spec)
        for spec in tabs[len(self._pills) :]:
            self._add(spec)
        self.updateGeometry()
        chosen = next((k for k, tab in enumerate(tabs) if tab.selected), None)
        if chosen != self._chosen:
            self._chosen = chosen
            QTimer.singleShot(0, self, self._show_chosen)

    def ground(self) -> QColor:
        """Return the colour that the row stands on."""
        return self._theme.color("panel")

    def pills(self) -> tuple[Pill, ...]:
        """Return the pills, left to right."""
        return tuple(self._pills)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        for pill in self._pills:
            pill.theme = theme
            pill.update()
        self._fade.update()

    def sizeHint(self) -> QSize:
        """Return the width at which every name is whole."""
        return QSize(self._inside.sizeHint().width(), _PILL_HEIGHT + 2)

    def minimumSizeHint(self) -> QSize:
        """Return the width of two short pills; the others scroll."""
        count = min(len(self._pills), 2)
        return QSize(count * (_PILL_AT_LEAST + SPACE.s), _PILL_HEIGHT + 2)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the selected candidate in sight."""
        super().resizeEvent(event)
        self._fade.setGeometry(self.rect())
        self._fade.raise_()
        self._show_chosen()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll sideways."""
        bar = self.horizontalScrollBar()
        bar.setValue(bar.value() - (event.angleDelta().y() or event.angleDelta().x()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go to the neighbour with the arrow keys."""
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        at = next((k for k, pill in enumerate(self._pills) if pill.hasFocus()), None)
        if step is None or at is None:
            super().keyPressEvent(event)
            return
        target = min(max(at + step, 0), len(self._pills) - 1)
        self._pills[target].setFocus(Qt.FocusReason.TabFocusReason)
        self.ensureWidgetVisible(self._pills[target], 0, 0)
        self.selected.emit(target)

    def _add(self, spec: CandidateTabSpec) -> None:
        pill = Pill(self._theme, spec, self._inside)
        pill.clicked.connect(lambda: self.selected.emit(self._pills.index(pill)))
        pill.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        pill.customContextMenuRequested.connect(
            lambda at: self.menu_requested.emit(self._pills.index(pill), pill.mapToGlobal(at))
        )
        self._pills.append(pill)
        self._row.addWidget(pill)

    def _show_chosen(self) -> None:
        if self._chosen is not None and self._chosen < len(self._pills):
            self.ensureWidgetVisible(self._pills[self._chosen], 0, 0)
