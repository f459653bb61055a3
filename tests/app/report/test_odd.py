"""Reports of odd cases: many candidates, none, names that run from right to left."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from attrs import evolve
from PySide6.QtCore import QSizeF, Qt
from PySide6.QtGui import QImage, QTextCursor, QTextTable

from app.present.origin import measured_files
from app.report.blocks import MOST_COLUMNS, Bullets, Document, Figure, Grid, Heading, Paragraph
from app.report.content import document
from app.report.figures import text_width
from app.report.options import Options
from app.report.pages import laid_out
from app.report.write import report_bytes
from models.assets import CASES, DEMO_CASE
from models.case.document import Case
from models.case.read import load_case, parse_case
from models.case.write import case_text

DAY = date(2026, 3, 4)
TEXTS = ("impedance", "common-mode", "touch-current", "separation")


def crowded() -> Case:
    """Return the demo case with a dozen candidates."""
    case = load_case(DEMO_CASE)
    first, *others = case.candidates
    more = (evolve(first, name=f"Y-capacitor, reel number {number}") for number in range(12 - len(others)))
    return evolve(case, candidates=(*more, *others))


def grids(found: Document) -> list[Grid]:
    return [block for section in found.sections for block in section.blocks if isinstance(block, Grid)]


def test_a_dozen_candidates_stand_in_tables_that_can_be_read() -> None:
    case = crowded()
    found = grids(document(case, Options(date=DAY, sections=TEXTS), text_width()))
    assert max(len(each.head) for each in found) <= 1 + MOST_COLUMNS
    parts = [each for each in found if each.caption.startswith("Magnitude of the impedance")]
    assert [each.caption.rpartition(". ")[2] for each in parts] == ["Part 1 of 2.", "Part 2 of 2."]
    assert [name for each in parts for name in each.head[1:]] == [each.name for each in case.candidates]
    assert parts[0].rows[3][0] == parts[1].rows[3][0]
    assert all(len(row) == len(each.head) for each in parts for row in each.rows)


@pytest.mark.parametrize("height", [880.0, 979.0])
def test_no_row_of_a_table_runs_over_two_pages(height: float) -> None:
    found = document(crowded(), Options(date=DAY, sections=TEXTS), text_width())
    text = laid_out(found, QImage(10, 10, QImage.Format.Format_RGB32), QSizeF(680.0, height))
    tables = [each for each in text.rootFrame().childFrames() if isinstance(each, QTextTable)]
    ran_over = 0
    for table in tables:
        pages = [_pages(table, row, height) for row in range(table.rows())]
        assert all(len(each) == 1 for each in pages)
        ran_over += len(set.union(*pages)) > 1
    assert ran_over, "a table that runs over two pages is what this is about"


def _pages(table: QTextTable, row: int, height: float) -> set[int]:
    """Return the pages on which lines of a row stand."""
    pages: set[int] = set()
    for column in range(table.columns()):
        cell = table.cellAt(row, column)
        cursor, last = cell.firstCursorPosition(), cell.lastCursorPosition().position()
        while True:
            block = cursor.block()
            top = table.document().documentLayout().blockBoundingRect(block).top()
            lines = (block.layout().lineAt(number) for number in range(block.layout().lineCount()))
            pages |= {int((top + line.y() + 1.0) // height) for line in lines}
            if block.position() + block.length() > last:
                break
            cursor.movePosition(QTextCursor.MoveOperation.NextBlock)
    return pages


def test_a_case_without_candidates_has_no_empty_tables() -> None:
    bare = [evolve(load_case(path), candidates=()) for path in sorted(CASES.glob("*.toml"))]
    for found in (document(case, Options(date=DAY), text_width()) for case in bare):
        _has_no_empty_tables(found)


def _has_no_empty_tables(found: Document) -> None:
    assert all(each.rows and len(each.head) > 1 for each in grids(found))
    headings = [each.text for section in found.sections for each in section.blocks if isinstance(each, Heading)]
    assert headings == ["Purpose"]
    assert "separation" not in {section.key for section in found.sections}


def test_long_notes_do_not_push_the_verdicts_off_the_first_page() -> None:
    short = load_case(DEMO_CASE)
    long = evolve(short, notes="\n\n".join(["Why they are apart. " * 40] * 4))
    orders = []
    for case in (short, long):
        blocks = document(case, Options(date=DAY, sections=(), notes="Mine."), text_width()).sections[0].blocks
        orders.append([each.text for each in blocks if isinstance(each, Heading)])
        texts = [each.text for each in blocks if isinstance(each, Paragraph)]
        assert sum(text.startswith((case.notes or "")[:40]) for text in texts) in (1, 4)
    assert orders[0] == ["Purpose", "Verdicts", "Candidates", "Notes"]
    assert orders[1] == ["Purpose", "Verdicts", "Candidates", "Notes", "Notes of the case"]


def test_a_level_has_its_own_unit_and_a_note_the_name_of_its_candidate() -> None:
    found = document(load_case(CASES / "earthed-or-floating.toml"), Options(date=DAY), text_width())
    sections = {each.key: each.blocks for each in found.sections}
    for key, unit in (("conducted", "dBµV"), ("radiated", "dBµV/m")):
        table = next(each for each in sections[key] if isinstance(each, Grid))
        assert all(row[3].text.endswith(f" {unit}") and row[4].text.endswith(f" {unit}") for row in table.rows)
        figure = next(each for each in sections[key] if isinstance(each, Figure))
        assert figure.caption.startswith("“Floating, 2.2 nF”: ")


def test_numbers_keep_their_units_and_the_listing_its_spaces() -> None:
    text = '[pair]\na = "x"\n# 2.2 nF\n'
    page = report_bytes(load_case(DEMO_CASE), ".html", Options(date=DAY, sections=("case",), case_text=text)).decode()
    assert "Touch current under 250\u00a0µA" in page
    assert "# 2.2 nF\n" in page


def test_names_from_right_to_left_keep_their_places() -> None:
    case = load_case(DEMO_CASE)
    text = case_text(case).replace('"primary"', '"שנית"')
    options = Options(date=DAY, title="תכנון", notes="הערות בעברית.", sections=())
    page = report_bytes(parse_case(text), ".html", options).decode()
    assert '<h1 dir="auto">תכנון</h1>' in page
    assert "<bdi>שנית</bdi> to <bdi>secondary</bdi>" in page
    found = document(parse_case(text), options, text_width())
    paper = laid_out(found, QImage(10, 10, QImage.Format.Format_RGB32), QSizeF(680.0, 979.0))
    blocks = [paper.findBlockByNumber(number) for number in range(paper.blockCount())]
    ways = {each.text().strip(): each.textDirection() for each in blocks}
    assert ways["תכנון"] == ways["הערות בעברית."] == Qt.LayoutDirection.RightToLeft
    assert blocks[0].text().startswith("\u2068שנית\u2069 to secondary · 2026")


def test_texts_in_pictures_are_as_wide_as_they_were_laid_out_in_any_font() -> None:
    page = report_bytes(load_case(DEMO_CASE), ".html", Options(date=DAY, sections=("drawing",))).decode()
    texts = re.findall(r'<text ([^>]*)font-weight="([0-9]+)"[^>]*>([^<]+)</text>', page)
    widths = {(weight, words): float(re.findall(r'textLength="([0-9.]+)"', how)[0]) for how, weight, words in texts}
    measure = text_width()
    assert widths["400", "flyback switch"] == pytest.approx(measure("flyback switch", "small"), abs=0.1)
    assert widths["600", "primary"] == pytest.approx(measure("primary", "strong"), abs=0.1)
    assert {weight for weight, words in widths if words == "flyback switch"} == {"400"}


@pytest.mark.parametrize("path", sorted(CASES.glob("*.toml")), ids=lambda path: path.stem)
def test_a_drawing_on_paper_cuts_nothing_short(path: Path) -> None:
    page = report_bytes(load_case(path), ".html", Options(date=DAY, sections=("drawing",))).decode()
    assert len(re.findall("<text ", page)) > 10
    assert not re.findall(r"<text [^>]*>[^<]*…", page)


def test_measured_data_are_named_with_what_tells_them_apart(tmp_path: Path) -> None:
    (tmp_path / "bead.s1p").write_text(
        "# MHz Z RI R 1\n1 1 2\n3 4 8\n10 20 30\n30 50 30\n100 80 10\n", encoding="utf-8"
    )
    part = '{ kind = "measured", file = "bead.s1p", rdc = "0.1 ohm" }'
    (tmp_path / "case.toml").write_text(
        'isthmus = 1\n[pair]\na = "a"\nb = "b"\n[[coupling]]\nname = "gap"\nbetween = ["a", "b"]\n'
        'parts = [ { kind = "capacitor", capacitance = "5 pF" } ]\n'
        f'[[candidate]]\nname = "bead"\n[[candidate.branch]]\nparts = [ {part}, {part} ]\n',
        encoding="utf-8",
    )
    case = load_case(tmp_path / "case.toml")
    found = document(case, Options(date=DAY, sections=("impedance", "case")), text_width())
    made_of = next(each for each in grids(found) if each.head == ("Candidate", "Made of"))
    assert made_of.rows[0][1].text == "measured bead.s1p + measured bead.s1p"
    (figure,) = found.figures
    assert figure.caption.endswith("Dotted: beyond what was measured.")
    section = found.sections[-1]
    items = next(each.items for each in section.blocks if isinstance(each, Bullets))
    assert [each for each in items if "bead.s1p" in each] == [
        f"Measured data, in a file of its own: bead.s1p ({measured_files(case)[0][1][:12]})"
    ]


def test_what_is_given_by_its_sides_is_told_with_all_of_them() -> None:
    found = document(load_case(CASES / "sensor-board.toml"), Options(date=DAY, sections=()), text_width())
    made_of = {row[0].text: row[1].text for row in grids(found)[-1].rows}
    assert made_of["Copper, 5 mm wide"] == "copper length 3 mm, width 5 mm, thickness 35 µm"
    assert made_of["Capacitor 10 nF"] == "capacitor 10 nF"
