"""The report as PDF: vector pictures, real text, fonts inside, and the same bytes for the same input."""

from __future__ import annotations

import re
import uuid
from collections.abc import Sequence
from typing import TYPE_CHECKING

from app.report.blocks import Document
from app.report.outline import Place, with_outline
from app.report.pages import headings, laid_out, printed

if TYPE_CHECKING:
    from PySide6.QtCore import QBuffer, QSizeF
    from PySide6.QtGui import QPainter, QPdfWriter

_DPI, _POINTS = 96, 72
_MARGIN_MM = 15.0
_FOOT_PX = 30.0
_MOMENT = re.compile(rb"(/(?:CreationDate|ModDate) \(D:|xmp:(?:Create|Modify|Metadata)Date=\")([0-9T:+\-Z']{15,25})")


def pdf(document: Document) -> bytes:
    """Return a report as PDF."""
    from PySide6.QtCore import QBuffer, QIODevice

    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    places = _write(document, _writer(buffer, document))
    return with_outline(_dated(bytes(buffer.data().data()), document.date), places)


def _writer(buffer: QBuffer, document: Document) -> QPdfWriter:
    from PySide6.QtCore import QByteArray, QMarginsF, QUuid
    from PySide6.QtGui import QPageLayout, QPageSize, QPdfWriter

    writer = QPdfWriter(buffer)
    writer.setResolution(_DPI)
    size = {"a4": QPageSize.PageSizeId.A4, "letter": QPageSize.PageSizeId.Letter}[document.paper]
    writer.setPageSize(QPageSize(size))
    margins = QMarginsF(_MARGIN_MM, _MARGIN_MM, _MARGIN_MM, _MARGIN_MM)
    writer.setPageMargins(margins, QPageLayout.Unit.Millimeter)
    writer.setTitle(document.title)
    writer.setCreator(document.origin)
    writer.setAuthor(document.author)
    for each in document.listings:
        writer.addFileAttachment(each.file, QByteArray(each.text.encode()), "application/toml")
    writer.setDocumentId(QUuid(str(uuid.uuid5(uuid.NAMESPACE_OID, f"{document.origin} {document.title}"))))
    return writer


def _write(document: Document, writer: QPdfWriter) -> tuple[Place, ...]:
    """Write the pages, and return where the headings stand."""
    from PySide6.QtCore import QRectF, QSizeF
    from PySide6.QtGui import QFont, QPainter

    class Printer(QPainter):
        """Paints with the fonts of print."""

        def setFont(self, face: QFont | str | Sequence[str]) -> None:
            """Take on a font as it is for print."""
            super().setFont(printed(QFont(face)))

    page = QSizeF(writer.width(), writer.height() - _FOOT_PX)
    text = laid_out(document, writer, page)
    painter = Printer(writer)
    for number in range(text.pageCount()):
        if number:
            writer.newPage()
        painter.save()
        painter.translate(0.0, -number * page.height())
        text.drawContents(painter, QRectF(0.0, number * page.height(), page.width(), page.height()))
        painter.restore()
        _draw_foot(painter, document, page, f"{number + 1} / {text.pageCount()}")
    painter.end()
    foot_px = writer.pageLayout().marginsPixels(_DPI).bottom() + _FOOT_PX
    return tuple(
        Place(text=title, page=number, above_pt=(page.height() - down + foot_px) * _POINTS / _DPI)
        for title, number, down in headings(text, page.height())
    )


def _draw_foot(painter: QPainter, document: Document, page: QSizeF, number: str) -> None:
    from PySide6.QtCore import QRectF, Qt
    from PySide6.QtGui import QFontMetricsF

    from app.qt.theme import Type, font
    from app.report.figures import paper

    line = QRectF(0.0, page.height() + 10.0, page.width(), _FOOT_PX - 10.0)
    face = printed(font(Type.TINY))
    metrics = QFontMetricsF(face)
    rest = f" · {document.origin} · {document.date}"
    room = page.width() - metrics.horizontalAdvance(rest + number) - _FOOT_PX
    title = metrics.elidedText(document.title, Qt.TextElideMode.ElideRight, room)
    painter.setFont(face)
    painter.setPen(paper().color("muted"))
    painter.drawText(line, int(Qt.AlignmentFlag.AlignLeft), title + rest)
    painter.drawText(line, int(Qt.AlignmentFlag.AlignRight), number)


def _dated(raw: bytes, day: str) -> bytes:
    """Return the file with the date of the report in place of the moment it was written; no length changes."""
    plain, long = f"{day.replace('-', '')}000000Z00'00'".encode(), f"{day}T00:00:00+00:00".encode()

    def put(match: re.Match[bytes]) -> bytes:
        stamp = plain if match[1].startswith(b"/") else long
        return match[1] + stamp[: len(match[2])].ljust(len(match[2]))

    return _MOMENT.sub(put, raw)
