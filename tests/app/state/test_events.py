"""Transients that keep up with a drag, one a frame."""

from __future__ import annotations

import numpy as np
from attrs import evolve

from app.state.edits import set_value
from app.state.events import Events
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.network.solver import Solver
from models.outcomes.event import Event
from models.outcomes.transient import transient

SUPPLY = load_case(CASES / "earthed-or-floating.toml")
EVENT = Event(kind="discharge", into="output", level_v=4e3)
STRAY = ("couplings", 1, "parts", 0, "capacitance_f")


def edited(farad: float) -> Case:
    return set_value(SUPPLY, STRAY, farad)


def test_the_first_look_shows_every_candidate() -> None:
    shown = Events(Solver()).advance(SUPPLY, EVENT, 1)
    assert [each.candidate for each in shown.transients] == [each.name for each in SUPPLY.candidates]
    assert not shown.late


def test_an_edit_brings_the_selected_candidate_first_and_the_others_one_by_one() -> None:
    events = Events(Solver())
    events.advance(SUPPLY, EVENT, 2)
    late = [events.advance(edited(60e-12), EVENT, 2).late for _ in range(5)]
    assert late == [{0, 1, 3}, {1, 3}, {3}, set(), set()]
    shown = events.advance(edited(60e-12), EVENT, 2)
    for candidate, found in zip(SUPPLY.candidates, shown.transients, strict=True):
        fresh = transient(Solver(), edited(60e-12), candidate, EVENT)
        assert np.array_equal(found.v_pair_v, fresh.v_pair_v)


def test_an_edit_of_one_candidate_makes_no_other_late() -> None:
    events = Events(Solver())
    events.advance(SUPPLY, EVENT, 3)
    changed = set_value(SUPPLY, ("candidates", 3, "branches", 0, "parts", 0, "capacitance_f"), 1e-9)
    assert not events.advance(changed, EVENT, 3).late


def test_another_event_and_fewer_candidates_are_followed_at_once() -> None:
    events = Events(Solver())
    events.advance(SUPPLY, EVENT, 0)
    surge = Event(kind="surge", into="output", level_v=1e3)
    shown = events.advance(SUPPLY, surge, 0)
    assert {each.event for each in shown.transients} == {surge}
    fewer = evolve(SUPPLY, candidates=SUPPLY.candidates[1:3])
    assert len(events.advance(fewer, surge, 0).transients) == 2
    assert events.advance(evolve(SUPPLY, candidates=()), surge, 0).transients == ()
