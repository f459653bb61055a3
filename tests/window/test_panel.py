from __future__ import annotations

import pytest
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QLabel, QToolButton
from pytestqt.qtbot import QtBot

from app.qt.panel import ElidedLabel, ModeSwitch, Panel, Words
from app.qt.theme import LIGHT, Theme, Type
from tests.window.hands import click


@pytest.fixture
def switch(qtbot: QtBot, theme: Theme) -> ModeSwitch:
    made = ModeSwitch("Shown", ("|Z|", "phase", "R and X"))
    qtbot.addWidget(made)
    made.show()
    return made


def test_a_switch_tells_a_click_and_not_what_it_is_told(switch: ModeSwitch) -> None:
    told: list[str] = []
    switch.chosen.connect(told.append)
    switch.show_choice("phase")
    assert (switch.choice(), told) == ("phase", [])
    click(switch.findChildren(QToolButton)[2])
    assert (switch.choice(), told) == ("R and X", ["R and X"])


def test_a_panel_is_a_card_with_round_corners(qtbot: QtBot, theme: Theme) -> None:
    panel = Panel(theme, QLabel("body"))
    qtbot.addWidget(panel)
    panel.show_title("Title", "a word")
    panel.resize(300, 120)
    panel.show()
    image = panel.grab().toImage()
    assert image.pixelColor(150, 100) == QColor(LIGHT.panel)
    assert image.pixelColor(0, 0) != QColor(LIGHT.panel)
    assert panel.accessibleName() == "Title"


def test_a_narrow_panel_drops_the_word_before_the_title(qtbot: QtBot, theme: Theme) -> None:
    panel = Panel(theme)
    qtbot.addWidget(panel)
    panel.add_tool(ModeSwitch("Shown", ("|Z|", "phase", "R and X")))
    panel.show_title("Impedance between the regions", "at the cursor")
    panel.resize(700, 120)
    panel.show()
    word = next(label for label in panel.findChildren(ElidedLabel) if label.full_text() == "at the cursor")
    assert word.isVisible()
    panel.resize(420, 120)
    assert not word.isVisible()
    panel.resize(700, 120)
    assert word.isVisible()


def test_a_cut_text_is_whole_in_its_tooltip(qtbot: QtBot, theme: Theme) -> None:
    label = ElidedLabel(Type.BODY)
    qtbot.addWidget(label)
    label.setText("a long line of text that does not fit")
    label.resize(90, 20)
    label.show()
    label.grab()
    assert label.toolTip() == label.full_text()
    label.resize(600, 20)
    label.grab()
    assert label.toolTip() == ""


def test_options_tell_what_they_are(qtbot: QtBot) -> None:
    made = ModeSwitch("Shown", ("|Z|", "∠", "R"), tips=("Magnitude", "Phase"))
    qtbot.addWidget(made)
    assert [button.toolTip() for button in made.findChildren(QToolButton)] == ["Magnitude", "Phase", ""]


def test_words_keep_to_their_lines_and_tell_the_rest_in_the_tooltip(qtbot: QtBot) -> None:
    said = "An estimate for design, not a certification: the test site and the current edition decide. " * 4
    words = Words("caution", at_most=2)
    qtbot.addWidget(words)
    words.resize(300, 60)
    words.show()
    words.setText(said)
    assert words.text().endswith("…")
    assert words.heightForWidth(300) <= 2 * words.fontMetrics().lineSpacing()
    assert (words.full_text(), words.toolTip()) == (said, said)
    words.resize(2400, 60)
    assert (words.text(), words.toolTip()) == (said, "")


def test_a_title_without_room_gives_way_to_its_short_form(qtbot: QtBot) -> None:
    label = ElidedLabel(Type.TITLE)
    qtbot.addWidget(label)
    label.setText("Impedance between the regions", "Impedance")
    pictures = []
    for width, text, short in ((400, "", ""), (120, "", ""), (120, "Impedance", "")):
        label.resize(width, 26)
        if text:
            label.setText(text, short)
        pictures.append(label.grab().toImage())
    assert pictures[0] != pictures[1] == pictures[2]
    label.setText("Impedance between the regions", "Impedance")
    label.grab()
    assert label.toolTip() == "Impedance between the regions"
