from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from app.qt.header import Header
from app.qt.paint import elided_name, text_width
from app.qt.theme import Theme, ThemeName, Type, font
from tests.window import made_up
from tests.window.hands import click, key


@pytest.fixture
def header(qtbot: QtBot, theme: Theme) -> Header:
    made = Header(theme)
    qtbot.addWidget(made)
    made.resize(1024, 48)
    made.render(made_up.header())
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def told(header: Header) -> list[int]:
    chosen: list[int] = []
    header.candidate_selected.connect(chosen.append)
    return chosen


def test_a_click_on_a_pill_asks_for_it_and_leaves_the_state_to_the_spec(header: Header) -> None:
    chosen = told(header)
    click(header.pill_row.pills()[2])
    assert chosen == [2]
    assert [pill.isChecked() for pill in header.pill_row.pills()] == [True, False, False, False]
    header.render(made_up.header(selected=2))
    assert [pill.isChecked() for pill in header.pill_row.pills()] == [False, False, True, False]


def test_arrows_go_to_the_neighbour(header: Header) -> None:
    chosen = told(header)
    header.pill_row.pills()[0].setFocus()
    for pressed in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Left, Qt.Key.Key_Left, Qt.Key.Key_Left):
        focused = header.focusWidget()
        assert focused is not None
        key(focused, pressed)
    assert chosen == [1, 2, 1, 0, 0]


def test_pills_are_updated_in_place(header: Header) -> None:
    before = header.pill_row.pills()
    header.render(made_up.header(6))
    assert header.pill_row.pills()[:4] == before
    header.render(made_up.header(3))
    assert header.pill_row.pills() == before[:3]


def test_buttons(header: Header) -> None:
    told: list[str] = []
    header.add_requested.connect(lambda: told.append("add"))
    header.undo.connect(lambda: told.append("undo"))
    header.redo.connect(lambda: told.append("redo"))
    for button in (header.add_button, header.undo_button, header.redo_button):
        click(button)
    assert told == ["add", "undo"]
    assert header.undo_button.toolTip() == "Undo drag capacitance"
    assert not header.redo_button.isEnabled()


def test_the_theme_is_chosen_from_a_menu(header: Header) -> None:
    told: list[str] = []
    header.theme_chosen.connect(told.append)
    actions = header.look_button.menu().actions()
    assert [action.text() for action in actions] == ["As the system", "Light", "Dark", "High contrast"]
    actions[2].trigger()
    assert told == ["dark"]
    header.show_look(ThemeName.CONTRAST)
    assert [action.isChecked() for action in actions] == [False, False, False, True]
    assert told == ["dark"]


@pytest.mark.parametrize(("width", "count"), [(1024, 4), (1024, 8), (1440, 12), (760, 12)])
def test_the_selected_candidate_is_in_sight_at_any_width(header: Header, qtbot: QtBot, width: int, count: int) -> None:
    header.resize(width, 48)
    header.render(made_up.header(count, selected=count - 1))
    row = header.pill_row

    def seen() -> bool:
        pill = row.pills()[-1]
        left = pill.mapTo(row, pill.rect().topLeft()).x()
        return pill.width() >= 60 and left >= 0 and left + pill.width() <= row.width() + 1

    qtbot.waitUntil(seen)
    assert header.look_button.geometry().right() <= width
    assert header.minimumSizeHint().width() <= width


def test_tab_goes_from_left_to_right(header: Header) -> None:
    header.pill_row.pills()[0].setFocus()
    places = []
    for _ in range(6):
        focused = header.focusWidget()
        assert focused is not None
        places.append(focused.mapTo(header, focused.rect().center()).x())
        key(focused, Qt.Key.Key_Tab)
    assert places == sorted(places)
    assert len(set(places)) == 6


def test_a_menu_appears_when_there_is_one(header: Header) -> None:
    assert not header.menu_button.isVisible()
    menu = QMenu(header)
    header.set_menu(menu)
    assert header.menu_button.isVisible()
    assert header.menu_button.menu() is menu


def test_assistive_tools_hear_what_is_selected(header: Header) -> None:
    pills = header.pill_row.pills()
    assert pills[1].accessibleName() == "Bead 600 Ω"
    assert pills[0].accessibleDescription() == "selected candidate"


@pytest.mark.usefixtures("theme")
def test_a_short_name_keeps_its_end() -> None:
    face = font(Type.BODY)
    names = ("Y-capacitor 2.2 nF", "Y-capacitor 1 nF")
    for room in (60.0, 80.0, 110.0):
        shown = [elided_name(name, face, room) for name in names]
        assert shown[0].endswith("2.2 nF")
        assert shown[1].endswith("1 nF")
        assert all(text_width(each, face) <= room + 0.5 for each in shown)
    assert elided_name("Copper", face, 200.0) == "Copper"


def test_signs_stand_for_words_where_the_row_is_narrow(header: Header) -> None:
    buttons = (header.undo_button, header.redo_button, header.look_button)
    header.resize(1440, 48)
    assert [button.text() for button in buttons] == ["Undo", "Redo", "Theme"]
    header.resize(1024, 48)
    assert all(len(button.text()) == 1 for button in buttons)
    assert [button.accessibleName() for button in buttons] == ["Undo drag capacitance", "Redo", "Choose the theme"]


def test_pills_beyond_the_edge_fade_out(header: Header) -> None:
    row = header.pill_row

    def contrast_at(x: int) -> float:
        """The furthest that anything in a column stands out from the ground."""
        picture, ground = row.grab().toImage(), row.ground().lightnessF()
        return max(abs(picture.pixelColor(x, y).lightnessF() - ground) for y in range(row.height()))

    header.render(made_up.header(12))
    header.resize(700, 48)
    bar = row.horizontalScrollBar()
    bar.setValue(bar.maximum() // 2)
    assert contrast_at(1) < 0.1
    assert contrast_at(row.width() - 2) < 0.1
    bar.setValue(bar.minimum())
    assert contrast_at(1) > 0.1
