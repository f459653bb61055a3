"""Panel: a card of the sheet with a title, a word beside it and room for a small switch; and that switch."""

from __future__ import annotations

from itertools import zip_longest

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent, QTextLayout
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QLayout, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from app.qt.theme import SPACE, Theme, Type, font

_LEAST_WORTH_SHOWING = 44
_HEAD_HEIGHT = 26
_ELLIPSIS_PX = 4


class ElidedLabel(QLabel):
    """One line of text that gives way: cut with an ellipsis where it does not fit, in full in its tooltip."""

    def __init__(self, kind: Type, role: str = "", parent: QWidget | None = None, *, keep_px: int = 0) -> None:
        super().__init__(parent)
        self._full = self._short = ""
        self._keep_px = keep_px
        self.setFont(font(kind))
        self.setProperty("role", role)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setMinimumWidth(0)

    def setText(self, text: str, short: str = "") -> None:
        """Show a text, as much of it as fits; in place of a cut one a short one, where there is one that fits."""
        if (text, short) != (self._full, self._short):
            self._full, self._short = text, short
            super().setText(text)
            self.setToolTip("")
            self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        """Return what is kept when others want the room."""
        whole = super().minimumSizeHint()
        return QSize(min(self._keep_px, whole.width()), whole.height())

    def full_text(self) -> str:
        """Return the text, cut or not."""
        return self._full

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what fits."""
        shown = self._fitting()
        self.setToolTip(self._full if shown != self._full else "")
        if shown != self._full and self.width() < _LEAST_WORTH_SHOWING:
            return
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(self.rect(), int(self.alignment()) | int(Qt.TextFlag.TextSingleLine), shown)
        painter.end()

    def _fitting(self) -> str:
        metrics, width = self.fontMetrics(), self.width()
        if self._short and metrics.horizontalAdvance(self._full) > width >= metrics.horizontalAdvance(self._short):
            return self._short
        return metrics.elidedText(self._full, Qt.TextElideMode.ElideRight, width)


class Words(QLabel):
    """Small type over several lines that claims the height it needs; a plain label in a scroll area loses it.

    Of more lines than are allowed the rest is left to the tooltip.
    """

    def __init__(self, role: str = "muted", parent: QWidget | None = None, *, at_most: int = 0) -> None:
        super().__init__(parent)
        self._full, self._at_most = "", at_most
        self.setFont(font(Type.SMALL))
        self.setProperty("role", role)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)

    def setText(self, text: str) -> None:
        """Show a text, as much of it as is allowed."""
        self._full = text
        self._show()

    def say(self, text: str) -> None:
        """Show a text; with nothing to say it takes no room."""
        self.setText(text)
        self.setVisible(bool(text))

    def full_text(self) -> str:
        """Return the text, cut or not."""
        return self._full

    def _show(self) -> None:
        shown = self._full if self._at_most == 0 else first_lines(self._full, self.font(), self.width(), self._at_most)
        super().setText(shown)
        self.setToolTip(self._full if shown != self._full else "")

    def minimumSizeHint(self) -> QSize:
        """Return the height of all lines at the present width."""
        return QSize(40, self.heightForWidth(max(self.width(), 40)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Claim another height for another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._show()
            self.updateGeometry()


def first_lines(text: str, face: QFont, width: int, count: int) -> str:
    """Return as much of a text as stands in some lines of a width, with an ellipsis where that is not all."""
    layout = QTextLayout(text, face)
    layout.beginLayout()
    starts = []
    while (line := layout.createLine()).isValid():
        line.setLineWidth(max(width, 1))
        starts.append(line.textStart())
    layout.endLayout()
    if len(starts) <= count:
        return text
    last = starts[count - 1]
    # the ellipsis needs a little of the last line, and a word that it cuts would be broken over to the next one
    return text[:last] + QFontMetrics(face).elidedText(text[last:], Qt.TextElideMode.ElideRight, width - _ELLIPSIS_PX)


class ModeSwitch(QWidget):
    """A few words of which one holds, such as |Z|, phase, R and X."""

    chosen = Signal(str)

    def __init__(
        self, name: str, options: tuple[str, ...], parent: QWidget | None = None, *, tips: tuple[str, ...] = ()
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        for option, tip in zip_longest(options, tips, fillvalue=""):
            button = QToolButton()
            button.setToolTip(tip)
            button.setText(option)
            button.setCheckable(True)
            button.setProperty("quiet", True)
            button.setFont(font(Type.SMALL))
            button.setAccessibleName(f"{name}: {option}")
            self._group.addButton(button)
            row.addWidget(button)
        row.addStretch(1)
        self._group.buttonClicked.connect(lambda button: self.chosen.emit(button.text()))

    def show_choice(self, option: str) -> None:
        """Mark the option that holds, without telling anyone."""
        for button in self._group.buttons():
            button.setChecked(button.text() == option)

    def choice(self) -> str:
        """Return the option that is marked."""
        button = self._group.checkedButton()
        return button.text() if button else ""


class Panel(QWidget):
    """A rounded card: head line with title, a muted word and tools at the right, and a body below."""

    def __init__(self, theme: Theme, body: QWidget | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._title = ElidedLabel(Type.TITLE, keep_px=120)
        self._title.setMinimumHeight(_HEAD_HEIGHT)
        self._subtitle = ElidedLabel(Type.SMALL, "muted")
        self._head = QHBoxLayout()
        self._head.setSpacing(SPACE.m)
        self._head.addWidget(self._title)
        self._head.addWidget(self._subtitle)
        self._head.addStretch(1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(SPACE.l, SPACE.m, SPACE.l, SPACE.m)
        self._column.setSpacing(SPACE.s)
        self._column.addLayout(self._head)
        if body is not None:
            self.add(body, stretch=1)
        self.show_title("")

    def show_title(self, title: str, subtitle: str = "", *, short: str = "") -> None:
        """Show the head line, the short title where the whole has no room; without a title it takes no room."""
        self._title.setText(title, short)
        self._title.setVisible(bool(title))
        self._subtitle.setText(subtitle)
        self._fit_subtitle()
        self.setAccessibleName(title)

    def add(self, widget: QWidget, *, stretch: int = 0) -> None:
        """Put a widget under what is there."""
        self._column.addWidget(widget, stretch)

    def add_row(self, row: QLayout) -> None:
        """Put a row of widgets under what is there."""
        self._column.addLayout(row)

    def theme(self) -> Theme:
        """Return the present look."""
        return self._theme

    def add_tool(self, widget: QWidget) -> None:
        """Put a small switch or button at the right of the head line."""
        self._head.addWidget(widget)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look; the widgets inside are told by whoever put them there."""
        self._theme = theme
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Drop the word beside the title where the title needs its room."""
        super().resizeEvent(event)
        self._fit_subtitle()

    def _fit_subtitle(self) -> None:
        tools = (self._head.itemAt(k) for k in range(3, self._head.count()))
        wanted = self._title.sizeHint().width() + self._subtitle.sizeHint().width()
        wanted += sum(tool.sizeHint().width() for tool in tools if tool)
        room = self.width() - 2 * SPACE.l - self._head.count() * SPACE.m
        self._subtitle.setVisible(bool(self._subtitle.full_text()) and wanted <= room)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the card."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._theme.color("border"), 1.0))
        painter.setBrush(self._theme.color("panel"))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), SPACE.radius, SPACE.radius)
        painter.end()
