"""Named edits, and what a person types turned into what the document holds."""

from __future__ import annotations

import pytest
from attrs import evolve

from app.state.edits import (
    add_branch,
    add_candidate,
    add_part,
    free_name,
    move_at,
    remove_at,
    remove_part,
    set_value,
)
from app.state.typed import value_typed
from app.state.usual import BRIDGES, PARTS
from models.case.check import contradictions
from models.case.document import Branch, Cable, Candidate
from models.case.read import parse_case
from models.codec import KeyPath
from models.declare import get_path
from models.errors import QuantityError
from models.parts.copper import Copper
from tests.files.cases.bad import GOOD

CASE = parse_case(GOOD)
FAR = Candidate(name="far", branches=(Branch(between=("primary", "chassis"), parts=(Copper(),)),))
CABLED = evolve(
    CASE,
    cables=(Cable(name="lead", region="primary", length_m=1.0, diameter_m=1e-3),),
    candidates=(*CASE.candidates, FAR),
)
PART = ("candidates", 0, "branches", 0, "parts", 0)


@pytest.mark.parametrize(
    ("path", "old"),
    [
        (("pair", "a"), "primary"),
        (("pair", "b"), "secondary"),
        (("pair", "others", 0), "chassis"),
        (("surroundings", "name"), "earth"),
    ],
)
def test_a_renamed_region_is_followed_everywhere(path: KeyPath, old: str) -> None:
    renamed = set_value(CABLED, path, "renamed")
    assert contradictions(renamed) == []
    assert repr(old) not in repr(renamed)
    assert set_value(renamed, path, old) == CABLED


def test_a_renamed_transformer_is_followed_by_its_sources() -> None:
    renamed = set_value(CASE, ("transformers", 0, "name"), "T9")
    assert contradictions(renamed) == []
    assert set_value(renamed, ("transformers", 0, "name"), "T1") == CASE


def test_a_value_that_its_object_refuses_is_refused() -> None:
    with pytest.raises(QuantityError, match="capacitance_f"):
        set_value(CASE, (*PART, "capacitance_f"), 0.0)
    with pytest.raises(QuantityError, match="edges"):
        set_value(CASE, ("sources", 0, "wave", "rise_s"), 1.0)


def test_candidates_get_free_names() -> None:
    assert free_name("Y", ("bead",)) == "Y"
    assert free_name("Y", ("Y", "Y 2", "Y 4")) == "Y 3"
    twice = add_candidate(CASE, CASE.candidates[0], 1)
    assert [each.name for each in twice.candidates] == ["Y", "Y 2", "bead"]
    assert twice.candidates[1].branches == CASE.candidates[0].branches


def test_entries_move_and_stop_at_the_ends() -> None:
    assert [each.name for each in move_at(CASE, ("candidates", 0), 1).candidates] == ["bead", "Y"]
    assert move_at(CASE, ("candidates", 0), -1) == CASE
    assert move_at(CASE, ("candidates", 1), 5) == CASE


def test_parts_and_branches_come_and_go() -> None:
    more = add_part(add_branch(CASE, 0, Copper()), 0, 0, Copper(resistance_ohm=1.0))
    assert [len(branch.parts) for branch in more.candidates[0].branches] == [2, 1]
    assert remove_part(remove_part(more, 0, 0, 1), 0, 1, 0) == CASE
    bare = remove_part(CASE, 0, 0, 0)
    assert bare.candidates[0].branches == ()
    assert remove_at(CASE, ("candidates", 0)).candidates == CASE.candidates[1:]


def test_usual_bridges_and_parts_are_ready_to_use() -> None:
    for bridge in BRIDGES:
        assert contradictions(add_candidate(CASE, bridge)) == []
    assert len({bridge.name for bridge in BRIDGES}) == len(BRIDGES)
    for part in PARTS.values():
        assert contradictions(add_part(CASE, 0, 0, part)) == []


@pytest.mark.parametrize(
    ("path", "text", "value"),
    [
        ((*PART, "capacitance_f"), "4n7", 4.7e-9),
        ((*PART, "capacitance_f"), " 4.7 nF ", 4.7e-9),
        ((*PART, "capacitance_f"), "100p", 100e-12),
        ((*PART, "esr_ohm"), "4R7", 4.7),
        ((*PART, "esr_ohm"), "0", 0.0),
        ((*PART, "insulation_resistance_ohm"), "", None),
        ((*PART, "insulation_resistance_ohm"), "10 Gohm", 10e9),
        ((*PART, "count"), "3", 3),
        ((*PART, "rating", "tolerance"), "10 %", 0.1),
        ((*PART, "rating", "safety_class"), "Y1", "Y1"),
        ((*PART, "rating", "safety_class"), "none", None),
        (("candidates", 1, "branches", 0, "parts", 0, "cells", 0, "resistance_ohm"), "1k", 1e3),
        (("couplings", 1, "between"), "chassis → primary", ("chassis", "primary")),
        (("candidates", 0, "name"), " new ", "new"),
        (("sources", 1, "count"), "4", 4),
        (("sources", 0, "wave", "duty"), "40 %", 0.4),
        (("requirements", 0, "limit"), "100u", 100e-6),
        (("requirements", 1, "limit"), "2k2", 2200.0),
        (("sweep", "stop_hz"), "30M", 30e6),
        (("title",), "new title", "new title"),
    ],
)
def test_what_is_typed_is_what_a_file_would_hold(path: KeyPath, text: str, value: object) -> None:
    found = value_typed(CASE, path, text)
    assert found == value
    changed = set_value(CASE, path, found)
    assert get_path(changed, path) == value


@pytest.mark.parametrize(
    ("path", "text", "accepted"),
    [
        ((*PART, "capacitance_f"), "4k7", "capacitance"),
        ((*PART, "capacitance_f"), "2 nH", "capacitance"),
        ((*PART, "capacitance_f"), "", "capacitance"),
        ((*PART, "capacitance_f"), "0", "more than 0"),
        ((*PART, "esr_ohm"), "-1", "0 or more"),
        ((*PART, "count"), "2.5", "a whole number"),
        ((*PART, "count"), "0", "a whole number"),
        ((*PART, "rating", "tolerance"), "150 %", "at most"),
        ((*PART, "rating", "safety_class"), "Y9", '"Y1"'),
        (("couplings", 1, "between"), "chassis → chassis", "two different regions"),
        (("couplings", 1, "between"), "chassis", "two different regions"),
        (("candidates", 0, "name"), "  ", "1 to 80 characters"),
        (("requirements", 0, "limit"), "1 V", "current"),
        (("sweep", "stop_hz"), "20m", "frequency"),
    ],
)
def test_a_slip_is_told_with_what_is_accepted(path: KeyPath, text: str, accepted: str) -> None:
    with pytest.raises(QuantityError) as caught:
        value_typed(CASE, path, text)
    assert accepted in caught.value.accepted
