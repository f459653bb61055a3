"""The document's history: every edit undone, a drag as one step, a contradiction refused."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from app.state.edits import add_candidate, remove_at, set_value
from app.state.store import Store
from app.state.view import View, ViewStore
from models.case.document import Cable, Candidate, Case
from models.case.read import parse_case
from models.case.requirement import Requirement
from models.errors import CaseError
from tests.files.cases.bad import GOOD

PATH = ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f")
CASE = parse_case(GOOD)
MOST = 20


def with_farad(value: float) -> Case:
    return set_value(CASE, PATH, value)


def watched(store: Store | ViewStore) -> list[None]:
    told: list[None] = []
    store.listen(lambda: told.append(None))
    return told


def test_undo_and_redo_walk_the_edits() -> None:
    store = Store(CASE)
    store.edit("first", with_farad(1e-9))
    store.edit("second", with_farad(2e-9))
    assert (store.undo_name, store.redo_name) == ("second", None)
    store.undo()
    assert store.case == with_farad(1e-9)
    assert (store.undo_name, store.redo_name) == ("first", "second")
    store.undo()
    assert store.case == CASE
    assert (store.undo_name, store.redo_name) == (None, "first")
    store.redo()
    store.redo()
    assert store.case == with_farad(2e-9)
    assert store.redo_name is None


def test_undo_at_the_beginning_and_redo_at_the_end_do_nothing() -> None:
    store = Store(CASE)
    told = watched(store)
    store.undo()
    store.redo()
    assert store.case == CASE
    assert told == []


def test_a_new_edit_forgets_what_was_undone() -> None:
    store = Store(CASE)
    store.edit("first", with_farad(1e-9))
    store.undo()
    store.edit("other", with_farad(3e-9))
    assert store.redo_name is None
    store.undo()
    assert store.case == CASE


def test_a_drag_is_one_step_whatever_it_passes() -> None:
    store = Store(CASE)
    told = watched(store)
    store.begin_drag()
    for value in (1e-9, 2e-9, 3e-9, 4e-9):
        store.edit("drag capacitance", with_farad(value))
    assert len(told) == 4
    assert store.case == with_farad(4e-9)
    store.end_drag()
    assert store.undo_name == "drag capacitance"
    store.undo()
    assert store.case == CASE
    assert store.undo_name is None
    store.redo()
    assert store.case == with_farad(4e-9)


def test_a_drag_that_comes_back_is_no_step() -> None:
    store = Store(CASE)
    store.begin_drag()
    store.edit("drag", with_farad(1e-9))
    store.edit("drag", CASE)
    store.end_drag()
    assert store.undo_name is None
    assert not store.changed


def test_undo_in_the_middle_of_a_drag_takes_the_whole_drag_back() -> None:
    store = Store(CASE)
    store.begin_drag()
    store.edit("drag", with_farad(1e-9))
    store.undo()
    assert store.case == CASE
    store.edit("after", with_farad(2e-9))
    store.undo()
    assert store.case == CASE


def test_a_contradiction_is_refused_and_nothing_moves() -> None:
    store = Store(CASE)
    told = watched(store)
    clash = add_candidate(CASE, Candidate(name="new"))
    clash = set_value(clash, ("candidates", 2, "name"), "Y")
    with pytest.raises(CaseError, match=r'^found "Y" a second time; accepted: a different name for each candidate$'):
        store.edit("rename", clash)
    stray = Cable(name="lead", region="nowhere", length_m=1.0, diameter_m=5e-3)
    with pytest.raises(CaseError, match=r'^region of cable “lead”: found "nowhere"; accepted: a region of the case'):
        store.edit("add", evolve(CASE, cables=(stray,)))
    line = Requirement(kind="conducted-emission", limit_line="none such")
    with pytest.raises(CaseError, match=r'^limit line of requirement 1: found "none such"'):
        store.edit("add", evolve(CASE, requirements=(line,)))
    with pytest.raises(CaseError, match="nothing joins"):
        store.edit("remove", remove_at(CASE, ("couplings", 1)))
    assert store.case == CASE
    assert store.undo_name is None
    assert told == []


def test_an_edit_that_changes_nothing_is_no_step() -> None:
    store = Store(CASE)
    told = watched(store)
    store.edit("nothing", with_farad(2.2e-9))
    assert store.undo_name is None
    assert told == []


def test_changed_is_measured_against_what_was_saved() -> None:
    store = Store(CASE)
    assert not store.changed
    store.edit("edit", with_farad(1e-9))
    assert store.changed
    store.mark_saved()
    assert not store.changed
    store.undo()
    assert store.changed
    store.redo()
    assert not store.changed


def test_another_document_begins_anew() -> None:
    store = Store(CASE)
    store.edit("edit", with_farad(1e-9))
    store.open(with_farad(5e-9))
    assert store.case == with_farad(5e-9)
    assert (store.undo_name, store.redo_name, store.changed) == (None, None, False)


def test_history_has_an_end() -> None:
    store = Store(CASE, most_steps=MOST)
    for number in range(MOST + 5):
        store.edit("edit", with_farad((number + 1) * 1e-12))
    for _ in range(MOST + 5):
        store.undo()
    assert store.case == with_farad(5e-12)


@given(steps=st.lists(st.sampled_from(("edit", "undo", "redo", "begin", "end")), max_size=40))
def test_undoing_everything_comes_back_to_the_start(steps: list[str]) -> None:
    store = Store(CASE)
    for number, step in enumerate(steps):
        match step:
            case "edit":
                store.edit("edit", with_farad((number + 1) * 1e-12))
            case "undo":
                store.undo()
            case "redo":
                store.redo()
            case "begin":
                store.begin_drag()
            case "end":
                store.end_drag()
    store.end_drag()
    end = store.case
    done = 0
    while store.undo_name is not None:
        store.undo()
        done += 1
    assert store.case == CASE
    for _ in range(done):
        store.redo()
    assert store.case == end


def test_the_view_is_no_edit_and_tells_of_real_changes_only() -> None:
    views = ViewStore()
    told = watched(views)
    views.change(cursor_hz=1e6)
    assert told == []
    views.change(cursor_hz=2e6, candidate=1)
    assert len(told) == 1
    assert views.view == View(cursor_hz=2e6, candidate=1)
