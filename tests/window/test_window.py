"""The whole window, driven as a person drives it."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QLineEdit

from app.qt.purpose_view import PurposeView
from app.qt.session import Session
from app.qt.start import tell_faults
from app.qt.window import MainWindow
from app.state.recovery import Keeper, left_behind
from app.state.results import Desk, Results
from app.state.usual import BRIDGES
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case, parse_case
from models.codec import KeyPath
from tests.window.hands import Opener, click, drag, key, settle, type_text

CAPACITANCE = ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f")
NOBODY = 2**22 + 1


def editor(window: MainWindow, path: KeyPath) -> QLineEdit:
    field = window.inspector.field(path)
    assert field is not None
    line = field.editor()
    assert isinstance(line, QLineEdit)
    return line


def enter(window: MainWindow, path: KeyPath, text: str) -> None:
    line = editor(window, path)
    line.setFocus()
    line.selectAll()
    type_text(line, text)
    key(line, Qt.Key.Key_Return)
    settle(window)


def capacitance(session: Session) -> float:
    part = session.case.candidates[0].branches[0].parts[0]
    return float(part.capacitance_f)  # type: ignore[attr-defined]


@pytest.mark.parametrize("case", sorted(CASES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_example_opens_and_shows_its_candidates(open_window: Opener, case: Path) -> None:
    window = open_window(case)
    assert [pill.text() for pill in window.header.pill_row.pills()] == [
        each.name for each in load_case(case).candidates
    ]


def test_a_document_that_cannot_be_computed_leaves_the_last_good_curves_and_says_so(
    open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = open_window()
    before = window.session.results

    def fail(_: Desk, case: Case) -> Results:
        raise FloatingPointError(case.title)

    with monkeypatch.context() as broken:
        broken.setattr(Desk, "results", fail)
        enter(window, CAPACITANCE, "4n7")
        assert window.session.results is before
        assert "Not computed (FloatingPointError" in window.message.text()
        for plot in (window.impedance.plot, window.consequences.plot):
            assert "before this edit" in plot.accessibleDescription()
        assert capacitance(window.session) == 4.7e-9
    window.session.store.undo()
    settle(window)
    assert "before this edit" not in window.impedance.plot.accessibleDescription()


def test_a_fault_of_the_program_is_told_and_logged(
    open_window: Opener, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    window = open_window()
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    tell_faults(window)
    try:
        raise ZeroDivisionError("somewhere")
    except ZeroDivisionError as error:
        sys.excepthook(type(error), error, error.__traceback__)
    assert "ZeroDivisionError: somewhere" in window.message.text()
    assert window.message.isVisible()
    assert "Traceback" in caplog.text


def test_a_typed_value_moves_every_answer_and_can_be_undone(open_window: Opener) -> None:
    window = open_window()
    before = window.session.results.evaluation.outcomes[0].peak_v()
    enter(window, CAPACITANCE, "4n7")
    assert capacitance(window.session) == 4.7e-9
    assert window.session.results.evaluation.outcomes[0].peak_v() < before
    assert editor(window, CAPACITANCE).text() == "4.7 nF"
    window.session.store.undo()
    settle(window)
    assert capacitance(window.session) == 2.2e-9
    assert editor(window, CAPACITANCE).text() == "2.2 nF"


def test_a_value_typed_another_way_is_shown_in_the_program_s_form(open_window: Opener) -> None:
    window = open_window()
    enter(window, CAPACITANCE, "2200p")
    assert not window.session.store.changed
    assert editor(window, CAPACITANCE).text() == "2.2 nF"


@pytest.mark.parametrize("text", ["2.2 nH", "-1 nF", "nan", "", "4k7", "0"])
def test_a_mistake_stands_beside_its_field_and_nothing_moves(open_window: Opener, text: str) -> None:
    window = open_window()
    line = editor(window, CAPACITANCE)
    line.setFocus()
    line.selectAll()
    key(line, Qt.Key.Key_Delete)
    type_text(line, text)
    key(line, Qt.Key.Key_Return)
    settle(window)
    field = window.inspector.field(CAPACITANCE)
    assert field is not None
    assert "accepted" in field.error()
    assert capacitance(window.session) == 2.2e-9
    assert not window.session.store.changed


def test_a_drag_follows_the_hand_and_is_one_step(open_window: Opener) -> None:
    window = open_window()
    field = window.inspector.field(CAPACITANCE)
    assert field is not None
    slider = field.slider()
    assert slider is not None
    y = slider.height() // 2
    start = round(slider.knob_x())
    peaks = []
    window.session.frame.connect(lambda: peaks.append(window.session.results.evaluation.outcomes[0].peak_v()))
    drag(slider, [QPoint(start, y), QPoint(start + 10, y), QPoint(start + 20, y), QPoint(start + 30, y)])
    settle(window)
    assert capacitance(window.session) > 2.2e-9
    assert peaks
    window.session.store.undo()
    assert capacitance(window.session) == 2.2e-9
    assert window.session.store.undo_name is None


def test_candidates_are_added_duplicated_and_removed(open_window: Opener) -> None:
    window = open_window()
    count = len(window.session.case.candidates)
    window.bridges.add(BRIDGES[0])
    window.bridges.run("duplicate")
    settle(window)
    names = [each.name for each in window.session.case.candidates]
    assert len(names) == len(set(names)) == count + 2
    assert window.session.view.candidate == count + 1
    window.bridges.run("remove")
    window.bridges.run("remove")
    settle(window)
    assert len(window.session.case.candidates) == count
    assert window.session.view.candidate < count


def test_the_last_candidate_can_go_and_the_window_says_what_to_do(open_window: Opener) -> None:
    window = open_window()
    for _ in window.session.case.candidates:
        window.bridges.run("remove")
        settle(window)
    assert window.session.case.candidates == ()
    assert window.session.results.evaluation.outcomes == ()


def test_a_click_on_a_pill_selects_and_the_keyboard_goes_on(open_window: Opener) -> None:
    window = open_window()
    pills = window.header.pill_row.pills()
    click(pills[2])
    settle(window)
    assert window.session.view.candidate == 2
    pills[2].setFocus()
    key(pills[2], Qt.Key.Key_Right)
    settle(window)
    assert window.session.view.candidate == 3


def test_saving_keeps_the_comments_and_reopening_gives_the_same_case(open_window: Opener, tmp_path: Path) -> None:
    window = open_window()
    enter(window, CAPACITANCE, "3.3 nF")
    file = tmp_path / "mine.toml"
    window.session.save(file)
    assert not window.session.store.changed
    text = file.read_text(encoding="utf-8")
    assert "# The demo: how large a Y-capacitor" in text
    assert '"3.3 nF"' in text
    again = open_window(file)
    assert again.session.case == window.session.case
    assert again.session.path == file


def test_a_broken_file_is_told_and_the_document_stays(open_window: Opener, tmp_path: Path) -> None:
    window = open_window()
    before = window.session.case
    broken = tmp_path / "broken.toml"
    broken.write_text("isthmus = 1\n[pair]\na = 3\n", encoding="utf-8")
    window.documents.open(broken)
    settle(window)
    assert window.session.case is before
    assert "pair.a" in window.message.text()
    foot = window.message.geometry().bottom()
    assert window.height() - 40 < foot < window.height()
    click(window.message.close_button)
    assert not window.message.isVisible()


def test_a_file_that_cannot_be_written_is_told_and_nothing_is_lost(open_window: Opener, tmp_path: Path) -> None:
    window = open_window()
    enter(window, CAPACITANCE, "3.3 nF")
    window.session.path = tmp_path / "missing" / "mine.toml"
    assert not window.documents.save()
    assert "not saved" in window.message.text()
    assert window.session.store.changed


def test_work_left_by_a_kill_is_offered_and_taken_up_with_its_comments(open_window: Opener, tmp_path: Path) -> None:
    window = open_window(None, Keeper(tmp_path))
    enter(window, CAPACITANCE, "3.3 nF")
    window.session.keep()
    (kept,) = tmp_path.iterdir()
    record = json.loads(kept.read_text(encoding="utf-8"))
    orphan = tmp_path / f"gone{''.join(kept.suffixes[-2:])}"
    orphan.write_text(json.dumps(record | {"process": NOBODY}), encoding="utf-8")
    later = open_window()
    later.recovery.offer(left_behind(tmp_path))
    assert later.recovery.isVisible()
    click(later.recovery.take_button)
    settle(later)
    assert capacitance(later.session) == 3.3e-9
    assert later.session.store.changed
    assert not later.recovery.isVisible()
    assert not orphan.exists()
    later.session.save(tmp_path / "saved.toml")
    assert "# The demo" in (tmp_path / "saved.toml").read_text(encoding="utf-8")


def test_a_window_that_closes_leaves_nothing_behind(open_window: Opener, tmp_path: Path) -> None:
    window = open_window(None, Keeper(tmp_path))
    enter(window, CAPACITANCE, "3.3 nF")
    window.session.keep()
    assert list(tmp_path.iterdir())
    window.session.leave()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("look", ["light", "dark", "contrast", "system"])
def test_every_look_can_be_put_on_while_working(open_window: Opener, look: str) -> None:
    window = open_window()
    window.header.theme_chosen.emit(look)
    settle(window)
    assert window.session.view.theme == look


def test_a_new_case_begins_with_copper_and_nothing(open_window: Opener) -> None:
    window = open_window()
    window.documents.new()
    settle(window)
    assert [each.name for each in window.session.case.candidates] == ["Copper", "Nothing"]
    assert window.session.path is None


def test_saved_text_of_every_example_reads_back(open_window: Opener, tmp_path: Path) -> None:
    for case in sorted(CASES.glob("*.toml")):
        window = open_window(case)
        window.session.save(tmp_path / case.name)
        saved = (tmp_path / case.name).read_text(encoding="utf-8")
        assert saved == case.read_text(encoding="utf-8")
        assert parse_case(saved, folder=case.parent) == window.session.case


def test_a_transformer_takes_the_values_of_a_winding_from_the_catalogue_as_one_step(open_window: Opener) -> None:
    window = open_window()
    before = window.session.case.transformers[0]
    menu = window.bridges.construction_menu(0)
    planar = next(each for each in menu.actions() if each.text().startswith("Planar"))
    assert "350 pF" in planar.text()
    assert "Estimate" in planar.toolTip()
    planar.trigger()
    settle(window)
    taken = window.session.case.transformers[0]
    assert (taken.name, taken.between) == (before.name, before.between)
    assert taken.interwinding_capacitance_f == 350e-12
    assert window.session.store.undo_name == "Take a winding"
    window.session.store.undo()
    assert window.session.case.transformers[0] == before


def test_a_case_without_a_reason_leads_to_the_question_for_one(open_window: Opener) -> None:
    window = open_window()
    assert not window.answers.offer.isVisible()
    window.documents.new()
    settle(window)
    assert "continuous copper" in window.answers.working()
    click(window.answers.offer)
    assert window.findChildren(PurposeView)
