"""BarsView: bars under each other with one limit across them, so that a drag shows at once who wins."""

from __future__ import annotations

from attrs import frozen
from PySide6.QtCore import QEvent, QLineF, QPointF, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QBrush, QHelpEvent, QMouseEvent, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from app.present.specs import BarSpec, BarsSpec
from app.qt.kept import KeptPicture
from app.qt.paint import CENTER, RIGHT, SAMPLE_WIDTH, draw_sample, draw_text, draw_warning, elided_name, text_width
from app.qt.theme import Theme, Type, font

_HEAD = 24.0
_ROW = 22.0
_BAR = 14.0
_FOOT = 20.0
_GAP = 12.0
_LABEL_SHARE, _LABEL_SHARE_NARROW = 0.42, 0.36
_NUMBER_LEAST, _NUMBER_LEAST_NARROW = 56.0, 44.0
_NARROW = 300.0
"""Below this width the line samples give their room to the bars, which have the colour themselves."""


@frozen(kw_only=True)
class _Columns:
    """Where names end, bars run and numbers stand."""

    name_left: float
    bar_left: float
    bar_right: float
    number_right: float


class BarsView(QWidget):
    """Renders a BarsSpec; a click on a row tells which one."""

    bar_activated = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._spec = BarsSpec(title="")
        self._chooses = True
        self._names = KeptPicture()
        self._placed: tuple[BarsSpec, int, _Columns] | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMouseTracking(True)

    def render(self, spec: BarsSpec) -> None:  # type: ignore[override]
        """Show bars."""
        before = self._height()
        self._spec = spec
        self.setAccessibleName(spec.title)
        words = [f"{b.label} {b.text}{', the worst' if b.worst else ''}" for b in spec.bars]
        self.setAccessibleDescription("; ".join([*words, *([spec.limit_text] if spec.limit_text else [])]))
        if self._height() != before:
            self.updateGeometry()
        self.update()

    def let_choose(self, *, chooses: bool) -> None:
        """Let a click on a row choose, or not."""
        self._chooses = chooses

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Return the height that the rows need."""
        return QSize(360, self._height())

    def minimumSizeHint(self) -> QSize:
        """Return the least that can be read."""
        return QSize(220, self._height())

    def row_rect(self, row: int) -> QRectF:
        """Return where a bar's row stands."""
        return QRectF(0, _HEAD + row * _ROW, self.width(), _ROW)

    def bar_rect(self, row: int) -> QRectF:
        """Return the filled part of a bar."""
        columns, middle = self._columns(), self.row_rect(row).center().y()
        fraction = min(max(self._spec.bars[row].fraction, 0.0), 1.0)
        width = max((columns.bar_right - columns.bar_left) * fraction, 2.0)
        return QRectF(columns.bar_left, middle - _BAR / 2, width, _BAR)

    def limit_x(self) -> float | None:
        """Return where the limit stands; None without one."""
        if self._spec.limit_fraction is None:
            return None
        columns = self._columns()
        return columns.bar_left + min(max(self._spec.limit_fraction, 0.0), 1.0) * (columns.bar_right - columns.bar_left)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint head and names from memory, and on them the bars, their numbers and the limit."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        columns = self._columns()
        named = tuple((bar.label, bar.ink, bar.strong) for bar in self._spec.bars)
        key = (self._theme.name, self._spec.title, self._spec.note, columns, named)
        self._names.paint(painter, QSizeF(self.size()), key, self._paint_names)
        for row, bar in enumerate(self._spec.bars):
            self._paint_row(painter, columns, row, bar)
        self._paint_limit(painter)
        painter.end()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tell which row was clicked."""
        row = self._row_at(event.position())
        if self._chooses and event.button() == Qt.MouseButton.LeftButton and row is not None:
            self.bar_activated.emit(row)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Show where a click would choose."""
        offers = self._chooses and self._row_at(event.position()) is not None
        self.setCursor(Qt.CursorShape.PointingHandCursor if offers else Qt.CursorShape.ArrowCursor)

    def event(self, event: QEvent) -> bool:
        """Show in full what did not fit: a name, or the note of the head."""
        if not isinstance(event, QHelpEvent):
            return super().event(event)
        row = self._row_at(QPointF(event.pos()))
        bar = None if row is None else self._spec.bars[row]
        QToolTip.showText(event.globalPos(), f"{bar.label}: {bar.text}" if bar else self._spec.note, self)
        return True

    def _height(self) -> int:
        foot = _FOOT if self._spec.limit_text else 4.0
        return int(_HEAD + max(len(self._spec.bars), 1) * _ROW + foot)

    def _row_at(self, at: QPointF) -> int | None:
        return next((k for k in range(len(self._spec.bars)) if self.row_rect(k).contains(at)), None)

    def _indent(self) -> float:
        return SAMPLE_WIDTH + 8 if self.width() >= _NARROW else 0.0

    def _columns(self) -> _Columns:
        """Return where things stand; the same for as long as neither the bars nor the width are others."""
        if self._placed is None or self._placed[:2] != (self._spec, self.width()):
            self._placed = (self._spec, self.width(), self._place())
        return self._placed[2]

    def _place(self) -> _Columns:
        strong = font(Type.STRONG)
        names = max((text_width(b.label, strong) for b in self._spec.bars), default=0.0) + self._indent()
        numbers = max((text_width(b.text, strong) for b in self._spec.bars), default=0.0)
        narrow = self.width() < _NARROW
        left = min(names + 4, self.width() * (_LABEL_SHARE_NARROW if narrow else _LABEL_SHARE)) + _GAP
        # the sign of the worst stands between bar and number, in room that is always kept
        right = self.width() - max(numbers, _NUMBER_LEAST_NARROW if narrow else _NUMBER_LEAST) - _GAP - 16
        return _Columns(name_left=0.0, bar_left=left, bar_right=max(right, left + 24), number_right=self.width())

    def _paint_names(self, painter: QPainter) -> None:
        self._paint_head(painter)
        theme, columns = self._theme, self._columns()
        left = columns.name_left + self._indent()
        for row, bar in enumerate(self._spec.bars):
            place = self.row_rect(row)
            if self._indent():
                draw_sample(painter, theme, bar.ink, columns.name_left, place.center().y())
            name = QRectF(left, place.top(), columns.bar_left - left - 8, place.height())
            face = font(Type.STRONG if bar.strong else Type.BODY)
            draw_text(painter, name, elided_name(bar.label, face, name.width()), face=face, color=theme.color("text"))

    def _paint_head(self, painter: QPainter) -> None:
        row = QRectF(0, 0, self.width(), 20)
        draw_text(painter, row, self._spec.title, face=font(Type.STRONG), color=self._theme.color("text"))
        indent = text_width(self._spec.title, font(Type.STRONG)) + _GAP
        muted = self._theme.color("muted")
        draw_text(painter, row.adjusted(indent, 0, 0, 0), self._spec.note, face=font(Type.SMALL), color=muted)

    def _paint_row(self, painter: QPainter, columns: _Columns, row: int, bar: BarSpec) -> None:
        place = self.row_rect(row)
        self._paint_bar(painter, columns, row, bar)
        number = QRectF(columns.bar_right, place.top(), columns.number_right - columns.bar_right, place.height())
        draw_text(painter, number, bar.text, face=font(Type.STRONG), color=self._theme.color("text"), align=RIGHT)
        if bar.worst:
            draw_warning(painter, self._theme.color("bad"), QPointF(columns.bar_right + 14, place.center().y()))

    def _paint_bar(self, painter: QPainter, columns: _Columns, row: int, bar: BarSpec) -> None:
        filled = self.bar_rect(row)
        track = QRectF(columns.bar_left, filled.top(), columns.bar_right - columns.bar_left, _BAR)
        outline = QPainterPath()
        outline.addRoundedRect(track, 4, 4)
        painter.save()
        painter.setClipPath(outline)
        painter.fillRect(track, self._theme.color("tint"))
        painter.fillRect(filled, self._theme.ink(bar.ink))
        self._paint_reach(painter, columns, bar, filled)
        limit = self.limit_x()
        if limit is not None and filled.right() > limit:
            hatch = self._theme.color("panel")
            hatch.setAlphaF(0.55)
            beyond = QRectF(limit, filled.top(), filled.right() - limit, _BAR)
            painter.fillRect(beyond, QBrush(hatch, Qt.BrushStyle.BDiagPattern))
        painter.restore()

    def _paint_reach(self, painter: QPainter, columns: _Columns, bar: BarSpec, filled: QRectF) -> None:
        """Paint pale where the value may lie as well: beyond its bar, and on the end of the bar itself."""
        if bar.reach is None:
            return
        wide = columns.bar_right - columns.bar_left
        low, high = (columns.bar_left + min(max(share, 0.0), 1.0) * wide for share in bar.reach)
        beyond = self._theme.ink(bar.ink)
        beyond.setAlphaF(0.35)
        painter.fillRect(QRectF(filled.right(), filled.top(), max(high - filled.right(), 0.0), _BAR), beyond)
        pale = self._theme.color("panel")
        pale.setAlphaF(0.35)
        painter.fillRect(QRectF(low, filled.top(), max(filled.right() - low, 0.0), _BAR), pale)

    def _paint_limit(self, painter: QPainter) -> None:
        x = self.limit_x()
        if x is None or not self._spec.bars:
            return
        color, bottom = self._theme.color("bad"), self.row_rect(len(self._spec.bars) - 1).bottom()
        pen = QPen(color, 1.5)
        pen.setDashPattern((3.0, 2.0))
        painter.setPen(pen)
        painter.drawLine(QLineF(x, _HEAD - 2, x, bottom + 2))
        width = text_width(self._spec.limit_text, font(Type.SMALL)) + 4
        left = min(max(x - width / 2, 0.0), max(self.width() - width, 0.0))
        place = QRectF(left, bottom + 2, width, _FOOT - 4)
        draw_text(painter, place, self._spec.limit_text, face=font(Type.SMALL), color=color, align=CENTER)
