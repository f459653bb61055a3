from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from app.qt.actions import Actions
from app.qt.chooser import PartChooser, choose_part
from app.qt.session import Session
from app.qt.theme import Theme
from app.state.own_catalogue import keep_part
from models.case.document import Candidate, Case, Pair
from models.catalogue.shelf import catalogue
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor
from models.parts.part import Part
from models.quantity import format_quantity
from tests.window.hands import click, key, type_text


@pytest.fixture
def taken() -> list[Part]:
    return []


@pytest.fixture
def mine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("ISTHMUS_CATALOGUE", str(tmp_path))
    return tmp_path


@pytest.fixture
def chooser(qtbot: QtBot, theme: Theme, mine: Path, taken: list[Part]) -> PartChooser:
    made = PartChooser(theme, taken.append)
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def editor(chooser: PartChooser, name: str) -> QLineEdit:
    field = chooser.form.field((name,))
    assert field is not None
    found = field.editor()
    assert isinstance(found, QLineEdit)
    return found


def say(chooser: PartChooser, name: str, text: str) -> None:
    found = editor(chooser, name)
    found.setFocus()
    found.selectAll()
    key(found, Qt.Key.Key_Delete)
    type_text(found, text)
    key(found, Qt.Key.Key_Return)


def titles(chooser: PartChooser) -> list[str]:
    return [chooser.list.item(row).text().split("\n")[0] for row in range(chooser.list.count())]


def test_the_whole_catalogue_is_listed_but_for_transformers(chooser: PartChooser) -> None:
    parts = [entry for entry in catalogue().entries.values() if entry.kind != "transformer"]
    assert chooser.list.count() == len(parts) > 100
    assert chooser.use.isEnabled()


def test_words_and_family_narrow_the_list(chooser: PartChooser) -> None:
    type_text(chooser.search, "0805 power")
    assert titles(chooser)
    assert all("0805" in title for title in titles(chooser))
    assert len(titles(chooser)) < 12
    chooser.search.clear()
    chooser.family.setFocus()
    while chooser.family.currentText() != "safety-capacitor":
        key(chooser.family, Qt.Key.Key_Down)
    assert titles(chooser)
    part = chooser.part()
    assert isinstance(part, Capacitor)
    assert part.rating.safety_class is not None
    assert "Class Y" in chooser.ratings.text()
    assert chooser.caution.isVisible()


def test_what_nothing_matches_is_said(chooser: PartChooser) -> None:
    type_text(chooser.search, "no such part at all")
    assert titles(chooser) == []
    assert chooser.plot.sheet().spec.empty == "No part has all these words."
    assert not chooser.text.isVisible()
    assert not chooser.use.isEnabled()


@pytest.mark.parametrize("words", ["4n7", "4.7nF", "4.7 nF", "y-capacitor 4.7nf", "Y1 4.7"])
def test_a_part_is_found_however_its_value_is_spelled(chooser: PartChooser, words: str) -> None:
    type_text(chooser.search, words)
    assert "Y1 disc 4.7 nF, 4 mm leads" in titles(chooser)


def test_what_is_called_by_the_word_comes_first(chooser: PartChooser) -> None:
    type_text(chooser.search, "cap")
    kinds = [catalogue().entries[chooser.list.item(row).data(Qt.ItemDataRole.UserRole)].kind for row in range(9)]
    assert set(kinds) == {"capacitor"}


def test_a_data_sheet_that_says_nothing_yet_asks_for_a_number(chooser: PartChooser) -> None:
    chooser.way.chosen.emit("data sheet")
    assert "Type what the data sheet says" in chooser.plot.sheet().spec.empty


def test_the_curve_follows_the_keys_and_enter_takes(chooser: PartChooser, taken: list[Part]) -> None:
    before = chooser.plot.sheet().spec
    key(chooser.search, Qt.Key.Key_Down)
    key(chooser.search, Qt.Key.Key_Down)
    spec = chooser.plot.sheet().spec
    assert chooser.list.currentRow() == 2
    assert spec.title == titles(chooser)[2] != before.title
    assert spec.curves[0].y.max() != before.curves[0].y.max()
    key(chooser.search, Qt.Key.Key_Return)
    assert [part.rating.catalogue for part in taken] == [chooser.list.item(2).data(Qt.ItemDataRole.UserRole)]
    assert not chooser.isVisible()


def test_the_highlight_stays_while_the_list_narrows(chooser: PartChooser) -> None:
    chooser.highlight("bead-0805-600r-general")
    kept = chooser.list.currentItem().text()
    type_text(chooser.search, "0805")
    assert chooser.list.currentItem().text() == kept


def test_the_cursor_reads_the_part(chooser: PartChooser) -> None:
    chooser.highlight("bead-0805-600r-general")
    assert chooser.plot.sheet().spec.readouts[0].text.startswith("600 Ω")
    chooser.plot.cursor_moved.emit(1e6)
    assert chooser.plot.sheet().spec.cursor_text == "1 MHz"
    assert not chooser.plot.sheet().spec.readouts[0].text.startswith("600 Ω")


def test_a_bead_follows_from_a_data_sheet_and_says_what_was_assumed(chooser: PartChooser, taken: list[Part]) -> None:
    chooser.way.chosen.emit("data sheet")
    assert not chooser.use.isEnabled()
    assert chooser.message.text() == ""
    say(chooser, "rdc_ohm", "0.2")
    assert "|Z| at the test frequency" in chooser.message.text()
    say(chooser, "test_ohm", "600 ohm")
    assert "peak is taken to lie at 200 MHz" in chooser.text.text()
    say(chooser, "peak_hz", "180M")
    assert "peak is taken to lie" not in chooser.text.text()
    assert chooser.plot.sheet().spec.readouts[0].text.startswith("600 Ω")
    click(chooser.use)
    (part,) = taken
    assert isinstance(part, Bead)
    assert part.rdc_ohm == 0.2


def test_what_follows_from_a_data_sheet_can_be_read_in_a_field(chooser: PartChooser) -> None:
    chooser.way.chosen.emit("data sheet")
    say(chooser, "test_ohm", "600")
    bead = chooser.part()
    assert isinstance(bead, Bead)
    (cell,) = bead.cells
    for value, unit in ((cell.inductance_h, "H"), (cell.capacitance_f, "F"), (bead.rdc_ohm, "ohm")):
        assert len(format_quantity(value, unit)) <= len("1.23456 pF")


def test_a_capacitor_follows_from_a_data_sheet(chooser: PartChooser) -> None:
    chooser.way.chosen.emit("data sheet")
    chooser.sheet_kind.chosen.emit("capacitor")
    say(chooser, "capacitance_f", "2n2")
    say(chooser, "self_resonance_hz", "40 MHz")
    field = chooser.form.field(("dielectric",))
    assert field is not None
    box = field.editor()
    assert isinstance(box, QComboBox)
    box.setFocus()
    key(box, Qt.Key.Key_Down)
    part = chooser.part()
    assert isinstance(part, Capacitor)
    assert part.capacitance_f == 2.2e-9
    assert part.esl_h == pytest.approx(7.196e-9, rel=1e-3)
    assert "C0G" in chooser.text.text()


def test_mistakes_stand_beside_their_field_and_contradictions_below(chooser: PartChooser) -> None:
    chooser.way.chosen.emit("data sheet")
    say(chooser, "test_ohm", "600 H")
    field = chooser.form.field(("test_ohm",))
    assert field is not None
    assert "accepted" in field.error()
    say(chooser, "test_ohm", "600")
    say(chooser, "peak_ohm", "500")
    assert chooser.part() is None
    assert "accepted" in chooser.message.text()
    say(chooser, "peak_ohm", "")
    assert chooser.part() is not None


def test_ones_own_parts_are_offered_apart(qtbot: QtBot, theme: Theme, mine: Path) -> None:
    bead = Bead(cells=(Cell(resistance_ohm=77.0, inductance_h=1e-6),))
    keep_part(bead, "Mine alone", "from the drawer", mine)
    made = PartChooser(theme, print)
    qtbot.addWidget(made)
    made.family.setCurrentText("my own parts")
    assert titles(made) == ["Mine alone"]
    assert made.text.text() == "Your own part. from the drawer"


def test_an_edit_waits_for_the_choice_and_is_one_step(qtbot: QtBot, theme: Theme, mine: Path) -> None:
    session = Session(Case(pair=Pair(a="A", b="B"), candidates=(Candidate(name="Empty"),)))
    owner = PartChooser(theme, print)
    qtbot.addWidget(owner)
    Actions(session, owner).run("add-branch")
    chooser = owner.findChild(PartChooser)
    assert chooser is not None
    chooser.highlight("bead-0805-600r-general")
    assert not session.case.candidates[0].branches
    click(chooser.use)
    (branch,) = session.case.candidates[0].branches
    assert branch.parts[0].rating.catalogue == "bead-0805-600r-general"
    assert session.store.undo_name == "Add branch"
    session.store.undo()
    assert not session.case.candidates[0].branches
    session.timer.cancel()


def test_escape_takes_nothing(qtbot: QtBot, theme: Theme, mine: Path, taken: list[Part]) -> None:
    owner = PartChooser(theme, taken.append)
    qtbot.addWidget(owner)
    chooser = choose_part(owner, theme, taken.append)
    with qtbot.waitSignal(chooser.destroyed):
        key(chooser, Qt.Key.Key_Escape)
    assert taken == []


def test_a_part_of_the_catalogue_becomes_a_bridge_of_its_own(qtbot: QtBot, theme: Theme, mine: Path) -> None:
    session = Session(Case(pair=Pair(a="A", b="B"), candidates=(Candidate(name="Empty"),)))
    owner = PartChooser(theme, print)
    qtbot.addWidget(owner)
    entry = Actions(session, owner).bridge_menu().actions()[-1]
    assert entry.text() == "From the catalogue…"
    entry.trigger()
    chooser = owner.findChild(PartChooser)
    assert chooser is not None
    chooser.highlight("y1-disc-4n7")
    click(chooser.use)
    assert [each.name for each in session.case.candidates] == ["Empty", "Y-capacitor 4.7 nF"]
    assert session.view.subject == ("candidate", 1)
    assert session.store.undo_name == "Add candidate"
    session.timer.cancel()


def test_a_candidate_that_gets_a_part_is_shown(qtbot: QtBot, theme: Theme, mine: Path) -> None:
    session = Session(Case(pair=Pair(a="A", b="B"), candidates=(Candidate(name="Empty"),)))
    session.views.change(subject=("case", 0))
    owner = PartChooser(theme, print)
    qtbot.addWidget(owner)
    Actions(session, owner).run("add-branch")
    chooser = owner.findChild(PartChooser)
    assert chooser is not None
    click(chooser.use)
    assert session.view.subject == ("candidate", 0)
    session.timer.cancel()
