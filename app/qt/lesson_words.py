"""Words of a lesson on the screen: text with links that point at curves, at one of two sizes; checks."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QFont,
    QFontMetricsF,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.present.lesson_specs import CheckSpec
from app.qt.paint import draw_outcome
from app.qt.panel import Words
from app.qt.theme import SPACE, Theme, Type, font

LARGE = 1.7
"""How much larger everything is before a group."""


def scaled_font(kind: Type, scale: float) -> QFont:
    """Return a font of the type scale, larger by a factor."""
    found = QFont(font(kind))
    found.setPixelSize(round(found.pixelSize() * scale))
    return found


def rich_words(role: str = "", parent: QWidget | None = None) -> Words:
    """Return words of several paragraphs that tell which of their links is under the hand or chosen."""
    words = Words(role, parent)
    words.setTextFormat(Qt.TextFormat.RichText)
    words.setTextInteractionFlags(
        Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
    )
    return words


def show_html(words: Words, html: str, kind: Type, scale: float) -> None:
    """Show words in a type, larger by a factor; without any they take no room."""
    words.setFont(scaled_font(kind, scale))
    if html != words.text():
        words.setText(html)
    words.updateGeometry()
    words.setVisible(bool(html))


class CheckRow(QWidget):
    """One requirement of a task: its sign, its words, and why."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._spec = CheckSpec(outcome="note", text="", why="")
        self._scale = 1.0
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def render(self, spec: CheckSpec, scale: float) -> None:  # type: ignore[override]
        """Show a requirement."""
        self._spec, self._scale = spec, scale
        self.setAccessibleName(f"{spec.text}: {spec.outcome}. {spec.why}")
        self.updateGeometry()
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def hasHeightForWidth(self) -> bool:
        """Return that lines wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of all lines."""
        return round(sum(each.height() for each in self._places(width)) + 6)

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

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the sign and the words."""
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        head, why = self._places(self.width())
        draw_outcome(painter, theme, self._spec.outcome, QPointF(9.0, 10.0 * self._scale))
        for place, words, kind, role in (
            (head, self._spec.text, Type.STRONG, "text"),
            (why, self._spec.why, Type.SMALL, "muted"),
        ):
            painter.setFont(scaled_font(kind, self._scale))
            painter.setPen(theme.color(role))
            painter.drawText(place, _WRAP, words)
        painter.end()

    def _places(self, width: int) -> tuple[QRectF, QRectF]:
        left, room = 24.0, float(max(width - 24 - SPACE.xs, 40))
        head = _text_height(self._spec.text, Type.STRONG, self._scale, room)
        why = _text_height(self._spec.why, Type.SMALL, self._scale, room)
        return QRectF(left, 1.0, room, head), QRectF(left, 3.0 + head, room, why)


_WRAP = int(Qt.TextFlag.TextWordWrap) | int(Qt.AlignmentFlag.AlignTop)


def _text_height(words: str, kind: Type, scale: float, width: float) -> float:
    return QFontMetricsF(scaled_font(kind, scale)).boundingRect(QRectF(0, 0, width, 1e4), _WRAP, words).height()
