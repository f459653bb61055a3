"""Words of a lesson on the screen: text with links that point at curves, at one of two sizes; dots; checks."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from app.present.lesson_specs import CheckSpec, DotSpec
from app.qt.paint import draw_outcome
from app.qt.theme import SPACE, Theme, Type, font

LARGE = 1.7
"""How much larger everything is before a group."""
_DOT, _DOT_STEP = 5.0, 18.0


def scaled_font(kind: Type, scale: float) -> QFont:
    """Return a font of the type scale, larger by a factor."""
    found = QFont(font(kind))
    found.setPixelSize(round(found.pixelSize() * scale))
    return found


class RichWords(QLabel):
    """Text of several paragraphs that claims the height it needs; tells which link is under the hand or chosen."""

    def __init__(self, kind: Type = Type.BODY, role: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kind = kind
        self.setProperty("role", role)
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setWordWrap(True)
        self.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self.set_scale(1.0)

    def set_scale(self, scale: float) -> None:
        """Show the words larger by a factor."""
        self.setFont(scaled_font(self._kind, scale))
        self.updateGeometry()

    def show_html(self, html: str) -> None:
        """Show words; without any it takes no room."""
        if html != self.text():
            self.setText(html)
            self.updateGeometry()
        self.setVisible(bool(html))

    def minimumSizeHint(self) -> QSize:
        """Return the height of all lines at the present width."""
        return QSize(40, self.heightForWidth(max(self.width(), 40)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Claim another height for another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()


class Dots(QWidget):
    """The steps of a lesson as dots; a click on one that is open goes there."""

    chosen = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._dots: tuple[DotSpec, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def render(self, dots: tuple[DotSpec, ...]) -> None:  # type: ignore[override]
        """Show the steps."""
        self._dots = dots
        here = next((k for k, each in enumerate(dots) if each.state == "here"), 0)
        self.setAccessibleName(f"Step {here + 1} of {len(dots)}")
        self.updateGeometry()
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Return room for all dots."""
        return QSize(round(_DOT_STEP * max(len(self._dots), 1)) + 2, 24)

    def place(self, index: int) -> QPointF:
        """Return the middle of a dot."""
        return QPointF((index + 0.5) * _DOT_STEP, self.height() / 2)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Go to the step under the pointer."""
        index = int(event.position().x() // _DOT_STEP)
        if 0 <= index < len(self._dots):
            self.chosen.emit(index)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint: filled for done, a ring for the present one, a small dot for what is to come."""
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for index, dot in enumerate(self._dots):
            at = self.place(index)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.color("accent" if dot.state == "done" else "track"))
            if dot.state == "here":
                painter.setPen(QPen(theme.color("accent"), 2.0))
                painter.setBrush(theme.color("panel"))
            radius = _DOT if dot.state in ("here", "done") else _DOT * 0.65
            painter.drawEllipse(at, radius, radius)
        painter.end()


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
