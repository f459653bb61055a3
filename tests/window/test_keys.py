"""Every control of the window is reached with Tab, says what it is and shows that it has the hand."""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest
from attrs import evolve
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QDialog, QMenu, QWidget

from app.qt.keys import takes_keys
from app.qt.window import MainWindow
from models.assets import CASES
from tests.window.hands import settle
from tests.window.keyboard import choose, context_menu, focused, name_of, press, type_text, walk_to

_MOST_STOPS = 150
_SEEN = 60
"""Pixels that change at least where a control shows that it has the hand."""


def walked(window: MainWindow, key: str = "Tab") -> list[QWidget]:
    """Return what Tab reaches from the first candidate until it is there again."""
    window.header.pill_row.pills()[0].setFocus()
    stops: list[QWidget] = []
    while focused() not in stops:
        stops.append(focused())
        assert len(stops) < _MOST_STOPS
        press(key)
    assert focused() is stops[0]
    return stops


def cards(window: MainWindow) -> list[QWidget]:
    """Return the parts of the window from top to bottom, the inspector at last."""
    named = window.findChildren(QWidget)
    inside = (window.section, window.impedance, window.consequences, window.answers, window.inspector)
    return [window.header, *(each for each in inside if each in named)]


@pytest.mark.parametrize("size", [(1440, 900), (1024, 700)])
def test_tab_reaches_every_control_from_cause_to_effect(window: MainWindow, size: tuple[int, int]) -> None:
    window.resize(*size)
    for title in ("One", "Two"):
        window.session.change("Rename", partial(evolve, title=title))
    window.session.store.undo()
    settle(window)
    stops = walked(window)
    wanted = {each for each in window.findChildren(QWidget) if takes_keys(each) and not in_group(each)}
    assert len(wanted) > 40
    assert [name_of(each) for each in wanted - set(stops)] == []
    places = [k for stop in stops for k, card in enumerate(cards(window)) if card is stop or card.isAncestorOf(stop)]
    assert places == sorted(places)
    assert set(places) == set(range(6))
    assert stops[1:] == walked(window, "Shift+Tab")[:0:-1]


def in_group(widget: QWidget) -> bool:
    """Return whether the arrows lead to a button from the one that is chosen, so that Tab stops only there."""
    group = getattr(widget, "group", lambda: None)()
    return group is not None and not widget.isChecked()  # type: ignore[attr-defined]


@pytest.mark.parametrize("case", ["gateway", "sensor-board", "class-ii-supply"])
def test_every_stop_has_a_name_of_its_own_kind(window: MainWindow, case: str) -> None:
    window.documents.open_example(CASES / f"{case}.toml")
    settle(window)
    stops = walked(window)
    assert [each for each in stops if not name_of(each)] == []


@pytest.mark.parametrize("look", ["light", "contrast"])
def test_every_stop_shows_that_it_has_the_hand(window: MainWindow, look: str) -> None:
    window.session.views.change(theme=look)
    settle(window)
    window.header.pill_row.pills()[0].setFocus(Qt.FocusReason.TabFocusReason)
    shown: dict[QWidget, int] = {}
    while focused() not in shown:
        shown[focused()] = difference(window, focused())
        press("Tab")
    assert len(shown) > 40
    assert [(name_of(each), count) for each, count in shown.items() if count < _SEEN] == []


def difference(window: MainWindow, widget: QWidget) -> int:
    """Return how many pixels about the control that has the hand are others without it."""
    place = widget.rect().translated(widget.mapTo(window, QPoint(0, 0))).adjusted(-4, -4, 4, 4)
    with_hand = pixels(window.grab(place).toImage())
    widget.clearFocus()
    QApplication.processEvents()
    without = pixels(window.grab(place).toImage())
    widget.setFocus(Qt.FocusReason.TabFocusReason)
    return int((np.abs(with_hand - without) > 24).any(axis=2).sum())


def pixels(image: QImage) -> np.ndarray[tuple[int, int, int], np.dtype[np.int16]]:
    whole = image.convertToFormat(QImage.Format.Format_RGB32)
    data = np.frombuffer(whole.constBits(), np.uint8).reshape(whole.height(), whole.bytesPerLine())
    return data[:, : 4 * whole.width()].reshape(whole.height(), whole.width(), 4)[:, :, :3].astype(np.int16)


def test_f6_goes_from_card_to_card_and_back(window: MainWindow) -> None:
    window.header.pill_row.pills()[0].setFocus()
    on = []
    for _ in range(6):
        press("F6")
        on.append(next(k for k, card in enumerate(cards(window)) if card is focused() or card.isAncestorOf(focused())))
    assert on == [1, 2, 3, 4, 5, 0]
    press("Shift+F6")
    assert window.inspector.isAncestorOf(focused())


def test_a_question_mark_opens_the_sheet_of_keys_but_is_typed_in_a_field(window: MainWindow) -> None:
    walk_to("Name")
    type_text("?")
    assert [each for each in window.findChildren(QDialog) if each.isVisible()] == []
    press("Escape")
    window.impedance.plot.setFocus()
    press("?")
    (sheet,) = [each for each in window.findChildren(QDialog) if each.isVisible()]
    assert sheet.windowTitle() == "Keys"
    press("Escape")
    assert [each for each in window.findChildren(QDialog) if each.isVisible()] == []


def test_what_can_be_done_with_a_candidate_is_under_the_menu_key(window: MainWindow) -> None:
    count = len(window.session.case.candidates)
    window.header.pill_row.pills()[1].setFocus()
    context_menu()
    choose("Duplicate")
    settle(window)
    assert len(window.session.case.candidates) == count + 1
    assert window.session.view.candidate == 2


def test_what_can_be_done_in_the_drawing_is_under_the_menu_key(window: MainWindow) -> None:
    walk_to("Section of the board")
    press("Home")
    context_menu()
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    assert menu.actions()
    press("Escape")
    assert QApplication.activePopupWidget() is None
