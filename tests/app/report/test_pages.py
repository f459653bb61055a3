"""What belongs together stands on one page."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSizeF
from PySide6.QtGui import QImage, QTextCursor, QTextTable

from app.report.content import document
from app.report.figures import text_width
from app.report.options import Options
from app.report.pages import laid_out
from models.assets import CASES
from models.case.read import load_case


@pytest.mark.parametrize("name", ["class-ii-supply", "gateway", "sensor-board"])
def test_no_small_table_runs_over_two_pages(name: str) -> None:
    case = load_case(CASES / f"{name}.toml")
    page = QSizeF(680.0, 980.0)
    text = laid_out(document(case, Options(), text_width()), QImage(10, 10, QImage.Format.Format_RGB32), page)
    tables = [each for each in text.rootFrame().childFrames() if isinstance(each, QTextTable)]
    assert len(tables) > 3
    for table in tables:
        rect = text.documentLayout().frameBoundingRect(table)
        if rect.height() < 0.4 * page.height():
            assert int(rect.top() // page.height()) == int((rect.bottom() - 2.0) // page.height())


@pytest.mark.parametrize("height", [880.0, 930.0, 979.0])
def test_the_first_lines_of_a_paragraph_stand_together(height: float) -> None:
    case = load_case(CASES / "earthed-or-floating.toml")
    text = laid_out(
        document(case, Options(), text_width()), QImage(10, 10, QImage.Format.Format_RGB32), QSizeF(680.0, height)
    )
    several = 0
    for block in (text.findBlockByNumber(number) for number in range(text.blockCount())):
        if QTextCursor(block).currentTable() is None:
            top = text.documentLayout().blockBoundingRect(block).top()
            lines = [block.layout().lineAt(number) for number in range(min(block.layout().lineCount(), 3))]
            assert len({int((top + line.y() + 1.0) // height) for line in lines}) == 1, block.text()
            several += len(lines) > 1
    assert several > 10
