from __future__ import annotations

import attrs
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QContextMenuEvent
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from app.qt.paint import draw_outcome
from app.qt.table import AnswersView
from app.qt.table_paint import ROW, ColumnHead, RowHead
from app.qt.theme import LIGHT, Theme
from tests.window import made_up
from tests.window.hands import click, key


@pytest.fixture
def answers(qtbot: QtBot, theme: Theme) -> AnswersView:
    view = AnswersView(theme)
    qtbot.addWidget(view)
    view.resize(1000, 260)
    view.render(made_up.answers())
    view.show()
    return view


def told(answers: AnswersView) -> list[tuple[int, int]]:
    cells: list[tuple[int, int]] = []
    answers.cell_activated.connect(lambda row, column: cells.append((row, column)))
    return cells


def cell_place(answers: AnswersView, row: int, column: int) -> QPoint:
    return answers.grid().visualRect(answers.grid().model().index(row, column)).center()


def test_a_click_tells_the_cell_and_shows_its_working(answers: AnswersView) -> None:
    cells = told(answers)
    click(answers.grid().viewport(), cell_place(answers, 1, 0))
    assert cells == [(1, 0)]
    assert answers.working() == (
        "Separates safely (4 kV), Y-capacitor 2.2 nF: The bead joins the touched region to the mains."
    )


def test_arrows_and_enter_do_the_same(answers: AnswersView) -> None:
    cells = told(answers)
    grid = answers.grid()
    grid.setFocus()
    grid.setCurrentIndex(grid.model().index(0, 0))
    for pressed in (Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Return, Qt.Key.Key_Space):
        key(grid, pressed)
    assert cells == [(1, 1), (1, 1)]
    assert answers.working() == "Separates safely (4 kV), Bead 600 Ω: no mains"


def test_a_click_on_a_requirement_and_f2_on_its_answer_open_it(answers: AnswersView) -> None:
    answers.render(attrs.evolve(made_up.answers(), requirements=2))
    opened: list[int] = []
    answers.requirement_activated.connect(opened.append)
    heads = answers.grid().verticalHeader().viewport()
    for row in (1, 2):
        click(heads, QPoint(20, cell_place(answers, row, 0).y()))
    assert opened == [1]
    answers.grid().setFocus()
    for row in (0, 3):
        answers.grid().setCurrentIndex(answers.grid().model().index(row, 1))
        key(answers.grid(), Qt.Key.Key_F2)
    assert opened == [1, 0]


def test_where_there_is_a_requirement_the_way_to_change_it_is_said(answers: AnswersView) -> None:
    answers.render(made_up.answers(5))
    assert "requirement" not in answers.working()
    answers.render(attrs.evolve(made_up.answers(4), requirements=2))
    assert answers.working().endswith("Choose a requirement to change it.")


def test_new_numbers_keep_the_current_cell(answers: AnswersView) -> None:
    grid = answers.grid()
    grid.setCurrentIndex(grid.model().index(2, 3))
    answers.render(made_up.answers(selected=1))
    assert (grid.currentIndex().row(), grid.currentIndex().column()) == (2, 3)
    answers.render(made_up.answers(5))
    assert answers.working() == "Choose an answer to see its working."


def test_only_what_changed_is_painted_again(answers: AnswersView) -> None:
    cells: list[tuple[int, int]] = []
    answers.grid().model().dataChanged.connect(lambda index, _last: cells.append((index.row(), index.column())))
    spec = made_up.answers()
    answers.render(spec)
    assert cells == []
    question, row = spec.rows[3]
    changed = (*row[:2], attrs.evolve(row[2], text="83 V"), row[3])
    answers.render(attrs.evolve(spec, rows=(*spec.rows[:3], (question, changed), spec.rows[4])))
    assert cells == [(3, 2)]
    assert answers.grid().model().index(3, 2).data() == "83 V"


def test_the_selected_candidate_is_tinted(answers: AnswersView) -> None:
    image = answers.grid().viewport().grab().toImage()
    colours = [
        image.pixelColor(answers.grid().columnViewportPosition(k) + 4, cell_place(answers, 0, k).y()) for k in range(2)
    ]
    assert colours == [QColor(LIGHT.tint), QColor(LIGHT.panel)]


def test_every_outcome_has_a_shape_of_its_own(qtbot: QtBot, theme: Theme) -> None:
    from PySide6.QtGui import QImage, QPainter

    shapes = []
    for outcome in ("pass", "fail", "not-applicable", "note"):
        image = QImage(20, 20, QImage.Format.Format_Grayscale8)
        image.fill(255)
        painter = QPainter(image)
        draw_outcome(painter, theme, outcome, QPointF(10, 10))
        painter.end()
        shapes.append(frozenset((x, y) for x in range(20) for y in range(20) if image.pixelColor(x, y).red() < 200))
    assert len(set(shapes)) == 4
    assert shapes[3] == frozenset()


def test_assistive_tools_hear_question_candidate_outcome_and_number(answers: AnswersView) -> None:
    index = answers.grid().model().index(2, 3)
    heard = index.data(Qt.ItemDataRole.AccessibleTextRole)
    assert heard == "Touch current ≤ 0.25 mA, Nothing: fail: mains on the case"
    assert "The bead joins" in index.data(Qt.ItemDataRole.ToolTipRole)


def test_many_candidates_scroll_sideways_and_the_questions_stay(answers: AnswersView) -> None:
    answers.render(made_up.answers(12))
    bar = answers.grid().horizontalScrollBar()
    assert bar.maximum() > 0
    questions = answers.grid().verticalHeader()
    left = questions.mapTo(answers, QPoint(0, 0))
    bar.setValue(bar.maximum())
    assert questions.mapTo(answers, QPoint(0, 0)) == left


def test_few_candidates_share_the_width(answers: AnswersView) -> None:
    assert answers.grid().horizontalScrollBar().maximum() == 0
    used = answers.grid().verticalHeader().width() + answers.grid().horizontalHeader().length()
    assert answers.grid().width() - 4 <= used <= answers.grid().width()


def test_a_click_on_a_head_tells_the_candidate(answers: AnswersView) -> None:
    columns: list[int] = []
    answers.column_activated.connect(columns.append)
    head = answers.grid().horizontalHeader()
    click(head.viewport(), QPoint(head.sectionViewportPosition(2) + 20, 10))
    assert columns == [2]


def test_without_requirements_it_says_what_to_do(answers: AnswersView) -> None:
    spec = attrs.evolve(made_up.answers(0), rows=(), empty="Say why these grounds are separate.")
    answers.render(spec)
    assert not answers.grid().isVisible()
    answers.render(made_up.answers())
    assert answers.grid().isVisible()


def test_tab_leaves_the_table(qtbot: QtBot, theme: Theme) -> None:
    sheet, after = QWidget(), QPushButton("after")
    qtbot.addWidget(sheet)
    row = QVBoxLayout(sheet)
    answers = AnswersView(theme)
    answers.render(made_up.answers())
    row.addWidget(answers)
    row.addWidget(after)
    sheet.show()
    sheet.activateWindow()
    qtbot.waitUntil(sheet.isActiveWindow)
    answers.grid().setFocus()
    key(answers.grid(), Qt.Key.Key_Tab)
    assert after.hasFocus()


def test_no_row_is_cut_in_two(answers: AnswersView) -> None:
    for height in range(160, 300, 9):
        answers.resize(1000, height)
        QApplication.processEvents()
        assert answers.grid().viewport().height() % ROW == 2, height


def test_a_wide_window_keeps_no_scroll_bar_of_a_narrow_one(answers: AnswersView) -> None:
    bar = answers.grid().horizontalScrollBar()
    for width, seen in ((420, True), (1500, False), (420, True)):
        answers.resize(width, 200)
        QApplication.processEvents()
        assert bar.isVisible() is seen


def test_a_right_click_asks_for_the_menu_of_an_answer(answers: AnswersView) -> None:
    asked: list[tuple[int, int, str]] = []
    answers.menu_requested.connect(lambda row, column, said, _at: asked.append((row, column, said)))
    viewport, at = answers.grid().viewport(), cell_place(answers, 1, 0)
    QApplication.sendEvent(viewport, QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, viewport.mapToGlobal(at)))
    assert asked == [(1, 0, answers.working())]


def test_facts_give_room_to_names_that_would_be_cut_and_requirements_do_not(answers: AnswersView) -> None:
    columns, rows = answers.grid().horizontalHeader(), answers.grid().verticalHeader()
    assert isinstance(columns, ColumnHead)
    assert isinstance(rows, RowHead)
    spec = made_up.answers()
    fact = ("A fact with a question of many more words than that", spec.rows[0][1])
    answers.render(attrs.evolve(spec, rows=(*spec.rows, fact), requirements=len(spec.rows)))
    answers.resize(1700, 300)
    assert rows.width() == rows.wanted_width()
    names = len(spec.columns) * columns.wanted_width()
    answers.resize(names + rows.wanted_width() - 20, 300)
    assert rows.wanted_width(facts=False) <= rows.width() < rows.wanted_width()
    assert columns.sectionSize(0) >= columns.wanted_width()
    answers.resize(names + rows.wanted_width(facts=False) - 60, 300)
    assert rows.width() == rows.wanted_width(facts=False)
