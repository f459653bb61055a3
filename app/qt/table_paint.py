"""The parts of the answers table: its model, and how heads and cells are painted."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractTableModel,
    QLineF,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QHeaderView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from app.present.specs import CellSpec, TableSpec
from app.qt.paint import SAMPLE_WIDTH, draw_focus, draw_outcome, draw_sample, draw_text, elided_name
from app.qt.theme import Theme, Type, font

Index = QModelIndex | QPersistentModelIndex
ROW = 28
_PAD = 12.0
_SIGN = 22.0
_NO_PARENT = QModelIndex()
_SAID = {"pass": "pass", "fail": "fail", "not-applicable": "not applicable", "note": ""}


class AnswersModel(QAbstractTableModel):
    """A TableSpec as Qt's views and assistive tools read it."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.spec = TableSpec(title="")

    def show_spec(self, spec: TableSpec) -> None:
        """Take on other answers; a table of the same shape keeps its current cell and its scroll."""
        old = self.spec
        if _shape(spec) != _shape(old):
            self.beginResetModel()
            self.spec = spec
            self.endResetModel()
            return
        self.spec = spec
        self._tell_heads(old)
        self._tell_cells(old)

    def _tell_heads(self, old: TableSpec) -> None:
        spec = self.spec
        if spec.selected != old.selected or [n for n, _ in spec.columns] != [n for n, _ in old.columns]:
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(spec.columns) - 1)
        if [question for question, _ in spec.rows] != [question for question, _ in old.rows]:
            self.headerDataChanged.emit(Qt.Orientation.Vertical, 0, len(spec.rows) - 1)

    def _tell_cells(self, old: TableSpec) -> None:
        """Tell the cells that look different: a drag changes a few, and painting all would cost half a frame."""
        moved = self.spec.selected != old.selected
        for row, ((_, cells), (_, before)) in enumerate(zip(self.spec.rows, old.rows, strict=True)):
            for column, (cell, was) in enumerate(zip(cells, before, strict=True)):
                if moved or (cell.outcome, cell.text, cell.why) != (was.outcome, was.text, was.why):
                    self.dataChanged.emit(self.index(row, column), self.index(row, column))

    def rowCount(self, parent: Index = _NO_PARENT) -> int:
        """Return the number of questions."""
        return 0 if parent.isValid() else len(self.spec.rows)

    def columnCount(self, parent: Index = _NO_PARENT) -> int:
        """Return the number of candidates."""
        return 0 if parent.isValid() else len(self.spec.columns)

    def cell(self, index: Index) -> CellSpec:
        """Return the answer at a place."""
        return self.spec.rows[index.row()][1][index.column()]

    def working(self, index: Index) -> str:
        """Return the working of an answer, with what it answers."""
        question, name = self.spec.rows[index.row()][0], self.spec.columns[index.column()][0]
        cell = self.cell(index)
        return f"{question}, {name}: {cell.why or cell.text}"

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> str | None:
        """Return the text, the tooltip, or what is read aloud."""
        cell = self.cell(index)
        if role == Qt.ItemDataRole.DisplayRole:
            return cell.text
        if role == Qt.ItemDataRole.ToolTipRole:
            return "\n".join(part for part in (cell.text, cell.why) if part)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            name = self.spec.columns[index.column()][0]
            parts = (f"{self.spec.rows[index.row()][0]}, {name}", _SAID[cell.outcome], cell.text)
            return ": ".join(part for part in parts if part)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> str | None:
        """Return a candidate's name or a question, also as the tooltip."""
        if role not in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return None
        across = orientation == Qt.Orientation.Horizontal
        heads = self.spec.columns if across else self.spec.rows
        # while the model resets, one head still asks for sections that the other view has already given up
        return heads[section][0] if section < len(heads) else None


class ColumnHead(QHeaderView):
    """Candidates: line sample and name, the selected one tinted."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.theme = theme
        self.setSectionsClickable(True)
        self.setHighlightSections(False)
        self.setMinimumSectionSize(60)

    def sizeHint(self) -> QSize:
        """Return the height of a head."""
        return QSize(100, ROW + 4)

    def wanted_width(self) -> int:
        """Return the width at which no candidate's name is cut."""
        strong = QFontMetrics(font(Type.STRONG))
        names = max((strong.horizontalAdvance(name) for name, _ in _spec(self).columns), default=0)
        return names + int(_PAD + SAMPLE_WIDTH) + 15

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        """Paint one candidate's head."""
        spec = _spec(self)
        name, ink = spec.columns[logicalIndex]
        place = QRectF(rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(place, self.theme.color("panel"))
        if logicalIndex == spec.selected:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.theme.color("tint"))
            painter.drawRoundedRect(place.adjusted(0, 0, 0, 8), 6, 6)
        draw_sample(painter, self.theme, ink, place.left() + _PAD, place.center().y())
        text = place.adjusted(_PAD + SAMPLE_WIDTH + 8, 0, -6, 0)
        face = font(Type.STRONG)
        draw_text(painter, text, elided_name(name, face, text.width()), face=face, color=self.theme.color("text"))
        painter.restore()


class RowHead(QHeaderView):
    """Questions; they stay in sight while the candidates scroll sideways."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self.theme = theme
        self.setDefaultSectionSize(ROW)
        self.setMinimumSectionSize(ROW)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setHighlightSections(False)

    def wanted_width(self, *, facts: bool = True) -> int:
        """Return the width at which no question is cut, or none that is a requirement."""
        body, title = QFontMetrics(font(Type.BODY)), QFontMetrics(font(Type.TITLE))
        spec = _spec(self)
        rows = spec.rows if facts or not spec.requirements else spec.rows[: spec.requirements]
        widths = [title.horizontalAdvance(spec.title), *(body.horizontalAdvance(question) for question, _ in rows)]
        return max(widths) + 20

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        """Paint one question."""
        place = QRectF(rect)
        painter.save()
        painter.fillRect(place, self.theme.color("panel"))
        question = _spec(self).rows[logicalIndex][0]
        draw_text(painter, place.adjusted(0, 0, -12, 0), question, face=font(Type.BODY), color=self.theme.color("text"))
        _draw_rule(painter, self.theme, place)
        painter.restore()


class CellPainter(QStyledItemDelegate):
    """Answers: sign and text; the selected candidate's column tinted, the current cell ringed."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self.theme = theme

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one answer."""
        model = index.model()
        if not isinstance(model, AnswersModel):
            return
        rect: QRect = option.rect
        state: QStyle.StateFlag = option.state
        cell, place = model.cell(index), QRectF(rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(place, self.theme.color("tint" if index.column() == model.spec.selected else "panel"))
        _draw_rule(painter, self.theme, place)
        draw_outcome(painter, self.theme, cell.outcome, QPointF(place.left() + _PAD + 8, place.center().y()))
        text = place.adjusted(_PAD + _SIGN, 0, -6, 0)
        role = "muted" if cell.outcome == "not-applicable" else "text"
        draw_text(painter, text, cell.text, face=font(Type.BODY), color=self.theme.color(role))
        if state & QStyle.StateFlag.State_HasFocus:
            draw_focus(painter, self.theme, place, 4.0)
        painter.restore()


def _shape(spec: TableSpec) -> tuple[int, int]:
    return len(spec.rows), len(spec.columns)


def _spec(head: QHeaderView) -> TableSpec:
    model = head.model()
    return model.spec if isinstance(model, AnswersModel) else TableSpec(title="")


def _draw_rule(painter: QPainter, theme: Theme, place: QRectF) -> None:
    painter.setPen(QPen(theme.color("rule"), 1.0))
    y = place.bottom() - 0.5
    painter.drawLine(QLineF(place.left(), y, place.right(), y))
