"""The text of a report laid out in pages: pictures in their places, nothing parted from what it belongs to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from app.report.blocks import Document, Figure
from app.report.currents import WIDTH
from app.report.figures import paint
from app.report.html import SIGNS, fill

if TYPE_CHECKING:
    from PySide6.QtCore import QRect, QSizeF
    from PySide6.QtGui import QFont, QPaintDevice, QPainter, QTextBlock, QTextDocument, QTextTable

_MARK = "\ue000{}\ue001"
"""Private characters around a number, which stand for a picture until it is put there."""
_MARKED = re.compile("\ue000([0-9]+)\ue001")
_OBJECT = "\ufffc"
_NUMBER = 0x101
_OUTLINE_LEVELS, _HEADING_LEVELS = (1, 2), (2, 3)
_SMALL_PX = 11
_ROUNDS = 40
_FIRST_LINES = 3
"""Lines of a paragraph that stand together, and below its heading, at least."""
_SMALL_TABLE = 0.45
"""Part of a page below which a table stands on one page rather than run over two."""


def printed(face: QFont) -> QFont:
    """Return a font with plain figures: from tabular ones, text taken out of the file would have no digits."""
    from PySide6.QtGui import QFont

    plain = QFont(face)
    plain.unsetFeature(QFont.Tag("tnum"))
    return plain


def laid_out(document: Document, device: QPaintDevice, page: QSizeF) -> QTextDocument:
    """Return the text in pages, pictures in place, and what belongs together on one page."""
    from PySide6.QtGui import QTextDocument

    from app.qt.theme import Type, font

    text = QTextDocument()
    text.setDocumentMargin(0.0)
    text.documentLayout().setPaintDevice(device)
    text.setDefaultFont(printed(font(Type.BODY)))
    marks = {each: _MARK.format(number) for number, each in enumerate(document.figures)}
    text.setHtml(fill("paper.html", document=document, marks=marks, signs=SIGNS))
    _place_figures(text, document.figures)
    text.setPageSize(page)
    _keep_together(text, page)
    return text


def headings(text: QTextDocument, height: float) -> Iterator[tuple[str, int, float]]:
    """Yield the title and the headings of sections, with their pages and how far down they stand there."""
    for block in _blocks(text.begin()):
        if block.blockFormat().headingLevel() in _OUTLINE_LEVELS:
            top = text.documentLayout().blockBoundingRect(block).top()
            yield block.text(), int(top // height), top % height


def _place_figures(text: QTextDocument, figures: tuple[Figure, ...]) -> None:
    """Put a painted object in the place of every mark."""
    from PySide6.QtCore import QPointF, QRectF, QSizeF
    from PySide6.QtGui import QPyTextObject, QTextCharFormat, QTextCursor, QTextFormat
    from PySide6.QtGui import QTextDocument as Text

    kind = int(QTextFormat.ObjectTypes.UserObject) + 1

    class Pictures(QPyTextObject):
        """Tells Qt how large a figure is, and paints it."""

        def intrinsicSize(self, _document: Text, _position: int, form: QTextFormat) -> QSizeF:
            """Return the size of a figure."""
            return QSizeF(WIDTH, figures[int(form.property(_NUMBER))].height)

        def drawObject(
            self, painter: QPainter, rect: QRectF | QRect, _document: Text, _position: int, form: QTextFormat
        ) -> None:
            """Paint a figure; Qt asks for those of the next page too, whose text would be in the file twice."""
            if rect.top() >= painter.clipBoundingRect().bottom() - 1.0:
                return
            painter.save()
            painter.translate(QPointF(rect.topLeft()))
            paint(painter, figures[int(form.property(_NUMBER))])
            painter.restore()

    text.documentLayout().registerHandler(kind, Pictures(text))
    cursor = QTextCursor(text)
    while not (cursor := text.find("\ue000", cursor)).isNull():
        match = _MARKED.search(cursor.block().text())
        assert match is not None
        cursor.setPosition(cursor.block().position())
        cursor.movePosition(QTextCursor.MoveOperation.EndOfBlock, QTextCursor.MoveMode.KeepAnchor)
        form = QTextCharFormat()
        form.setObjectType(kind)
        form.setProperty(_NUMBER, int(match[1]))
        cursor.insertText(_OBJECT, form)


def _keep_together(text: QTextDocument, page: QSizeF) -> None:
    """Move over to the next page what would stand apart: a heading, a picture without its caption, part of a row."""
    start = text.begin()
    for _ in range(_ROUNDS):
        parted = next((block for block in _blocks(start) if _is_parted(text, block, page.height())), None)
        if parted is None:
            return
        if _row_of(parted) is None:
            _break_before(parted)
        else:
            _push_over(text, parted, page.height())
        # what stands further up stays where it is, but for the heading of what was moved
        start = parted.previous() if parted.previous().isValid() else parted
        # what follows is laid out anew only when all of it is
        text.setPageSize(page)


def _blocks(block: QTextBlock) -> Iterator[QTextBlock]:
    while block.isValid():
        yield block
        block = block.next()


def _is_parted(text: QTextDocument, block: QTextBlock, height: float) -> bool:
    """Return whether a block starts on another page than what has to stand with it; one that was moved never is.

    With the first line of a paragraph stand the ones after it.
    """
    from PySide6.QtGui import QTextCursor, QTextFormat

    if block.blockFormat().pageBreakPolicy() == QTextFormat.PageBreakFlag.PageBreak_AlwaysBefore:
        return False
    row = _row_of(block)
    if row is not None:
        return _is_split(text, row, height)
    page = _page_of_line(text, block, 0, height)
    if QTextCursor(block).currentTable() is None and page != _page_of(text, block, height):
        return True
    partner = _partner(text, block, height)
    return partner is not None and page != _page_of(text, partner, height)


def _row_of(block: QTextBlock) -> tuple[QTextTable, int] | None:
    """Return the table and the row that begins with a block."""
    from PySide6.QtGui import QTextCursor

    table = QTextCursor(block).currentTable()
    if table is None:
        return None
    cell = table.cellAt(block.position())
    begins = cell.column() == 0 and cell.firstCursorPosition().block() == block
    return (table, cell.row()) if begins else None


def _is_split(text: QTextDocument, place: tuple[QTextTable, int], height: float) -> bool:
    """Return whether a row begins on one page and ends on another; the first one stands with the caption anyway."""
    table, row = place
    if row < 2 or table.cellAt(row - 1, 0).format().toTableCellFormat().bottomPadding() > 0.0:
        return False
    first, last = table.cellAt(row, 0).firstCursorPosition().block(), _longest(text, table, row)
    return _page_of_line(text, first, 0, height) != _page_of(text, last, height)


def _push_over(text: QTextDocument, block: QTextBlock, height: float) -> None:
    """Let a row of a table begin on the next page: the row above it reaches down to the foot of this one."""
    place = _row_of(block)
    assert place is not None
    table, row = place
    padding = table.format().toTableFormat().cellPadding()
    top = text.documentLayout().blockBoundingRect(block).top() - padding
    for column in range(table.columns()):
        cell = table.cellAt(row - 1, column)
        form = cell.format().toTableCellFormat()
        form.setBottomPadding(padding + max(height - top % height - 2.0, 1.0))
        cell.setFormat(form)


def _partner(text: QTextDocument, block: QTextBlock, height: float) -> QTextBlock | None:
    """Return what has to stand with a block: what follows a heading, the caption of a picture, the rows of a table.

    Of a small table that is its last row, of a large one its first.
    """
    from PySide6.QtGui import QTextCursor

    follower = block.next()
    if not follower.isValid() or QTextCursor(block).currentTable() is not None:
        return None
    table = QTextCursor(follower).currentTable()
    if table is not None and table.rows() > 1:
        small = text.documentLayout().frameBoundingRect(table).height() < _SMALL_TABLE * height
        return _longest(text, table, table.rows() - 1 if small else 1)
    if block.blockFormat().headingLevel() in _HEADING_LEVELS:
        return follower
    return follower if block.text() == _OBJECT and _is_small(follower) else None


def _longest(text: QTextDocument, table: QTextTable, row: int) -> QTextBlock:
    """Return the last block of the cell that reaches furthest down in a row."""
    text.documentLayout().frameBoundingRect(table)  # lays it out
    cells = (table.cellAt(row, column).lastCursorPosition().block() for column in range(table.columns()))
    return max(cells, key=lambda block: block.layout().position().y() + block.layout().boundingRect().height())


def _is_small(block: QTextBlock) -> bool:
    return block.begin().fragment().charFormat().font().pixelSize() == _SMALL_PX


def _page_of(text: QTextDocument, block: QTextBlock, height: float) -> int:
    """Return the page on which the first lines of a block stand, or the last one in the cell of a table."""
    from PySide6.QtGui import QTextCursor

    text.documentLayout().blockBoundingRect(block)  # lays it out: before, it has no lines
    last = max(block.layout().lineCount() - 1, 0)
    in_table = QTextCursor(block).currentTable() is not None
    return _page_of_line(text, block, last if in_table else min(last, _FIRST_LINES - 1), height)


def _page_of_line(text: QTextDocument, block: QTextBlock, number: int, height: float) -> int:
    top = text.documentLayout().blockBoundingRect(block).top()
    line = block.layout().lineAt(number)
    return int((top + (line.y() if line.isValid() else 0.0) + 1.0) // height)


def _break_before(block: QTextBlock) -> None:
    """Let a page begin with a block; what stands right behind it comes along, and begins none of its own."""
    from PySide6.QtGui import QTextCursor, QTextFormat

    flags = QTextFormat.PageBreakFlag
    for each, policy in ((block, flags.PageBreak_AlwaysBefore), (block.next(), flags.PageBreak_Auto)):
        form = each.blockFormat()
        form.setPageBreakPolicy(policy)
        QTextCursor(each).setBlockFormat(form)
