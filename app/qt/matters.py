"""What matters most, under the fields: worked out once the pointer rests, pale while it does not."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, QTimer
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.present.matters import MatterRow, MattersSpec, matters_spec
from app.present.specs import Ink
from app.present.tabs import ink
from app.qt.paint import RIGHT, draw_text
from app.qt.session import Session
from app.qt.theme import Theme, Type, font

_REST_MS = 180
_HEAD, _ROW, _LINE, _BAR = 28.0, 28.0, 18.0, 4.0
_PALE = 0.45


class Matters(QWidget):
    """A short list with bars for the selected candidate; hidden where something else is selected."""

    def __init__(self, theme: Theme, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._session = session
        self._spec = MattersSpec()
        self._ink = Ink()
        self._key: tuple[object, ...] = ()
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(_REST_MS)
        self._rest.timeout.connect(self.settle)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        session.frame.connect(self.refresh)
        self.settle()

    def spec(self) -> MattersSpec:
        """Return what is shown."""
        return self._spec

    def waits(self) -> bool:
        """Return whether what is shown is not of the present case and cursor."""
        return self._key != self._wanted()

    def refresh(self) -> None:
        """Wait for the pointer to rest where anything changed that this list depends on."""
        self.setVisible(self._session.view.subject[0] == "candidate")
        if self.waits():
            if not self._rest.isActive():
                self.update()
            self._rest.start()

    def settle(self) -> None:
        """Work the list out for the present case and cursor."""
        self._rest.stop()
        session, key = self._session, self._wanted()
        if key == self._key:
            return
        self._key, view = key, session.view
        solver = session.desk.evaluator.solver
        self._spec = matters_spec(solver, session.case, view.candidate, view.cursor_hz)
        self._ink = ink(view.candidate)
        self.setVisible(view.subject[0] == "candidate")
        self.setAccessibleName(self._spec.title)
        said = [f"{row.text} ({row.owner}): {row.change}" for row in self._spec.rows]
        self.setAccessibleDescription("; ".join([self._spec.note, *said, *filter(None, [self._spec.empty])]))
        self.setToolTip("\n".join(said))
        self.updateGeometry()
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Return the height that the rows need."""
        return QSize(220, int(_HEAD + max(len(self._spec.rows), 1) * _ROW))

    def minimumSizeHint(self) -> QSize:
        """Return the least that can be read."""
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint head and rows."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(self._theme.color("border"))
        painter.drawLine(0, 0, self.width(), 0)
        if self.waits():
            painter.setOpacity(_PALE)
        self._paint_line(painter, 5.0, self._spec.title, self._spec.note, "")
        for place, row in enumerate(self._spec.rows):
            self._paint_row(painter, _HEAD + place * _ROW, row)
        if self._spec.empty:
            line = QRectF(0, _HEAD, self.width(), _LINE)
            draw_text(painter, line, self._spec.empty, face=font(Type.SMALL), color=self._theme.color("muted"))
        painter.end()

    def _paint_row(self, painter: QPainter, top: float, row: MatterRow) -> None:
        self._paint_line(painter, top, row.text, row.owner, row.change)
        track = QRectF(0, top + _LINE + 1, self.width(), _BAR)
        painter.fillRect(track, self._theme.color("tint"))
        painter.fillRect(QRectF(0, track.top(), self.width() * row.fraction, _BAR), self._theme.ink(self._ink))

    def _paint_line(self, painter: QPainter, top: float, text: str, note: str, number: str) -> None:
        """Paint a text, a muted note behind it and a number at the right."""
        strong, small = font(Type.STRONG), font(Type.SMALL)
        face = small if number else strong
        color = self._theme.color
        right = self.width() - (QFontMetricsF(strong).horizontalAdvance(number) + 8 if number else 0.0)
        draw_text(painter, QRectF(0, top, right, _LINE), text, face=face, color=color("text"))
        left = QFontMetricsF(face).horizontalAdvance(text) + 8
        if right - left > 24:
            draw_text(painter, QRectF(left, top, right - left, _LINE), note, face=small, color=color("muted"))
        if number:
            place = QRectF(right, top, self.width() - right, _LINE)
            draw_text(painter, place, number, face=strong, color=color("text"), align=RIGHT)

    def _wanted(self) -> tuple[object, ...]:
        view = self._session.view
        return (self._session.case, view.candidate, view.cursor_hz)
