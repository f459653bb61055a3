from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from pytestqt.qtbot import QtBot

from app.qt.actions import Actions
from app.qt.section_menu import SectionMenu
from app.qt.session import Session
from app.qt.theme import Theme
from tests.window.test_section import CASE


@pytest.fixture
def session(qtbot: QtBot) -> Session:
    session = Session(CASE)
    session.views.change(candidate=0)
    return session


@pytest.fixture
def menus(qtbot: QtBot, theme: Theme, session: Session) -> SectionMenu:
    owner = QWidget()
    qtbot.addWidget(owner)
    menu = SectionMenu(session, Actions(session, owner), owner)
    menu.keep = owner  # type: ignore[attr-defined]
    return menu


def kinds(session: Session) -> list[list[str]]:
    return [[part.kind for part in branch.parts] for branch in session.case.candidates[0].branches]


def run(menu: QMenu | None, *names: str) -> None:
    """Choose an entry of a menu, through its submenus."""
    assert menu is not None
    action = next(each for each in menu.actions() if each.text() == names[0])
    inner = action.menu()
    if isinstance(inner, QMenu):
        run(inner, *names[1:])
    else:
        action.trigger()


def test_the_menu_of_a_part_adds_duplicates_moves_and_removes(session: Session, menus: SectionMenu) -> None:
    run(menus.menu("branch", 0, 0), "Add in series", "Bead")
    assert kinds(session) == [["capacitor", "bead", "copper"]]
    run(menus.menu("branch", 0, 2), "Duplicate part")
    assert kinds(session) == [["capacitor", "bead", "copper", "copper"]]
    run(menus.menu("branch", 0, 1), "Move left")
    assert kinds(session) == [["bead", "capacitor", "copper", "copper"]]
    run(menus.menu("branch", 0, 3), "Remove part")
    run(menus.menu("branch", 0, -1), "Duplicate branch")
    assert kinds(session) == [["bead", "capacitor", "copper"]] * 2
    run(menus.menu("branch", 1, -1), "Remove branch")
    run(menus.menu("gap", 0, -1), "Copper")
    assert kinds(session) == [["bead", "capacitor", "copper"], ["copper"]]
    for _ in range(7):
        session.store.undo()
    assert session.case == CASE


def test_what_would_change_nothing_is_greyed(menus: SectionMenu) -> None:
    menu = menus.menu("branch", 0, 0)
    assert menu is not None
    states = {action.text(): action.isEnabled() for action in menu.actions() if action.text()}
    assert states["Move left"] is False
    assert states["Move right"] is True


def test_what_always_stands_is_removed_and_added_in_place(session: Session, menus: SectionMenu) -> None:
    count = len(session.case.couplings)
    run(menus.menu("coupling", 0, -1), "Add to the case", "Coupling", "Heat sink")
    assert session.case.couplings[-1].name == "heat sink"
    assert session.view.subject == ("coupling", count)
    run(menus.menu("coupling", count, -1), "Remove coupling")
    assert session.case == CASE


def test_the_keys_edit_and_ignore_what_is_gone(session: Session, menus: SectionMenu) -> None:
    menus.edit("later", 0, 0)
    assert kinds(session) == [["copper", "capacitor"]]
    menus.edit("remove", 0, 0)
    menus.edit("remove", 0, 0)
    assert kinds(session) == []
    menus.edit("remove", 0, 0)
    menus.edit("duplicate", 3, 1)
    assert kinds(session) == []


def test_a_part_that_is_added_is_shown(session: Session, menus: SectionMenu) -> None:
    for thing in (("gap", 0, -1), ("branch", 0, 0)):
        session.views.change(subject=("case", 0))
        run(menus.menu(*thing), *(("Copper",) if thing[0] == "gap" else ("Add in series", "Copper")))
        assert session.view.subject == ("candidate", 0)


def test_a_candidate_at_an_end_is_moved_no_further(qtbot: QtBot, theme: Theme, session: Session) -> None:
    owner = QWidget()
    qtbot.addWidget(owner)
    last = len(session.case.candidates) - 1
    for index in (0, last):
        Actions(session, owner).show_candidate_menu(index, QPoint(0, 0))
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu)
        possible = {each.text(): each.isEnabled() for each in menu.actions()}
        assert (possible["Move left"], possible["Move right"]) == (index > 0, index < last)
        menu.close()
