"""Saving a case: reading it again gives the same, and whatever was not changed stays as it was written."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st

from app.state.edits import add_branch, add_candidate, add_part, move_at, remove_at, remove_part, set_value
from models.assets import CASES
from models.case.document import Cable, Candidate, Case, Coupling, Mains
from models.case.read import parse_case
from models.case.requirement import DEMANDS, Requirement
from models.case.write import case_text
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.resistor import Resistor
from tests.files.cases.bad import GOOD
from tests.files.cases.good import SAME
from tests.laws.strategies import DrawChoose, cases

SHIPPED = {path.stem: path.read_text(encoding="utf-8") for path in sorted(CASES.glob("*.toml"))}
TEXTS = {**SHIPPED, **SAME, "plain": GOOD}
EDITED = {
    **{name: SHIPPED[name] for name in ("gateway", "sensor-board", "class-ii-supply")},
    **{name: SAME[name] for name in ("line ends of DOS", "a dotted pair", "an inline pair", "inline candidates")},
}
PATH = ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f")

COMMENTED = """# head
isthmus = 1          # the version
title = "right"      # what it is

[pair]               # the two
a = "primary"        # hot
b = "secondary"      # cold

[[coupling]]         # gap
name = "gap"         # its name
between = ["primary", "secondary"]  # where
parts = [ { kind = "capacitor", capacitance = "1n5" } ]  # trade form

[[candidate]]        # first
name = "one"
[[candidate.branch]] # first's
parts = [
    # disc
    { kind = "capacitor", capacitance = "2n2" },   # series one
    { kind = "resistor", resistance = "4R7" },     # series two
]

[[candidate]]        # second
name = "two"         # still second
note = "keep"
[[candidate.branch]]
parts = [ { kind = "copper", inductance = 6e-9 } ]   # bare number

[[candidate]]        # third
name = "three"

[[requirement]]      # R1
kind = "blocks-dc"
[[requirement]]      # R2
kind = "withstand"
limit = "4kV"        # as typed
# tail
"""


def comments(text: str) -> list[str]:
    return re.findall(r"#.*", text)


def lines_kept(old: str, new: str) -> set[str]:
    """Return the lines of the old text that the new one does not have to the letter."""
    return set(old.splitlines()) - set(new.splitlines())


@st.composite
def requirements(draw: st.DrawFn) -> Requirement:
    choose = DrawChoose(draw)
    kind = choose.one_of(tuple(DEMANDS))
    demand = DEMANDS[kind]
    return Requirement(
        kind=kind,
        limit=choose.number(1e-6, 1e4) if demand.unit else None,
        band_hz=(choose.number(1.0, 1e3), choose.number(1e4, 1e9)) if demand.band else None,
        limit_line="CISPR 32 class B" if demand.line else None,
        note=choose.one_of((None, "two\nlines # no comment")),
    )


def dressed(case: Case, wanted: list[Requirement]) -> Case:
    """Return a random case with what random networks leave out."""
    lead = Cable(name="lead", region="a", length_m=1.5, diameter_m=6e-3, far_end=150.0)
    return evolve(case, notes='"""\n# [pair]\n\\ \t"', requirements=tuple(wanted), cables=(lead,))


@given(case=cases(sources=2, ratings=True), wanted=st.lists(requirements(), max_size=3))
@settings(max_examples=20)
def test_what_is_written_reads_as_the_same_case(case: Case, wanted: list[Requirement]) -> None:
    full = dressed(case, wanted)
    text = case_text(full)
    assert parse_case(text) == full
    assert case_text(full, text) == text


@given(before=cases(sources=1), after=cases(sources=1, ratings=True))
@settings(max_examples=12)
def test_any_case_can_be_written_over_any_other(before: Case, after: Case) -> None:
    assert parse_case(case_text(after, case_text(before))) == after


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS.keys())
def test_an_unchanged_case_keeps_every_byte(text: str) -> None:
    assert case_text(parse_case(text), text) == text


EDITS: dict[str, Callable[[Case], Case]] = {
    "title": lambda case: evolve(case, title="another"),
    "notes": lambda case: evolve(case, notes="several\nlines"),
    "no mains": lambda case: evolve(case, mains=None),
    "mains": lambda case: evolve(
        case, mains=Mains(voltage_v=100.0, frequency_hz=60.0, feeds=case.pair.b, touched=case.pair.a)
    ),
    "sweep": lambda case: set_value(case, ("sweep", "start_hz"), 20.0),
    "name of a region": lambda case: set_value(case, ("pair", "a"), "renamed"),
    "name of the surroundings": lambda case: set_value(case, ("surroundings", "name"), "free space"),
    "name of a candidate": lambda case: set_value(case, ("candidates", 0, "name"), "renamed"),
    "add a candidate": lambda case: add_candidate(case, Candidate(name="fresh")),
    "add a candidate first": lambda case: add_candidate(case, case.candidates[1], 0),
    "remove a candidate": lambda case: remove_at(case, ("candidates", 0)),
    "remove every candidate": lambda case: evolve(case, candidates=()),
    "move a candidate": lambda case: move_at(case, ("candidates", 0), 1),
    "turn the candidates": lambda case: evolve(case, candidates=case.candidates[::-1]),
    "add a branch": lambda case: add_branch(case, 0, Copper(inductance_h=1e-9)),
    "add a part": lambda case: add_part(case, 0, 0, Resistor(resistance_ohm=10.0)),
    "remove a part": lambda case: remove_part(case, 0, 0, 0),
    "remove a source": lambda case: evolve(case, sources=case.sources[1:]),
    "turn the sources": lambda case: evolve(case, sources=case.sources[::-1]),
    "add a coupling": lambda case: evolve(
        case,
        couplings=(
            *case.couplings,
            Coupling(name="new", between=(case.pair.a, case.pair.b), parts=(Capacitor(capacitance_f=1e-12),)),
        ),
    ),
    "add a requirement": lambda case: evolve(case, requirements=(*case.requirements, Requirement(kind="blocks-dc"))),
    "remove a requirement": lambda case: evolve(case, requirements=case.requirements[1:]),
    "turn the requirements": lambda case: evolve(case, requirements=case.requirements[::-1]),
}


@pytest.mark.parametrize("edit", EDITS.values(), ids=EDITS.keys())
def test_every_edit_of_every_text_is_written(edit: Callable[[Case], Case]) -> None:
    for name, text in EDITED.items():
        after = edit(parse_case(text))
        assert parse_case(case_text(after, text)) == after, name


def test_one_changed_value_changes_one_line() -> None:
    for name, text in SHIPPED.items():
        case = parse_case(text)
        path = ("sweep", "stop_hz") if "[sweep]" in text else ("candidates", 0, "name")
        new = case_text(set_value(case, path, 2e8 if path[0] == "sweep" else "renamed"), text)
        assert len(lines_kept(text, new)) == 1, name
        assert comments(new) == comments(text)


def test_a_value_is_changed_where_it_stands() -> None:
    new = case_text(set_value(parse_case(COMMENTED), PATH, 3.3e-9), COMMENTED)
    assert new == COMMENTED.replace('"2n2"', '"3.3 nF"')


def test_two_like_parts_stay_apart() -> None:
    text = COMMENTED.replace('{ kind = "resistor", resistance = "4R7" }', '{ kind = "capacitor", capacitance = "2n2" }')
    path = ("candidates", 0, "branches", 0, "parts", 1, "capacitance_f")
    new = case_text(set_value(parse_case(text), path, 3.3e-9), text)
    assert new == text.replace('"2n2" },     #', '"3.3 nF" },     #')


def test_a_key_that_comes_back_to_its_default_stays_with_what_is_said_of_it() -> None:
    text = COMMENTED.replace('capacitance = "2n2"', 'capacitance = "2n2", esr = "1 ohm"')
    new = case_text(set_value(parse_case(text), (*PATH[:-1], "esr_ohm"), 0.0), text)
    assert parse_case(new) == parse_case(COMMENTED)
    assert new == text.replace('"1 ohm"', '"0 Ω"')
    text = f'{COMMENTED}\n[sweep]\nstart = "20 Hz"  # below, the mains\n'
    new = case_text(set_value(parse_case(text), ("sweep", "start_hz"), 10.0), text)
    assert new == text.replace("20 Hz", "10 Hz")


def test_candidates_take_their_text_along() -> None:
    case = parse_case(COMMENTED)
    new = case_text(evolve(case, candidates=case.candidates[::-1]), COMMENTED)
    assert sorted(comments(new)) == sorted(comments(COMMENTED))
    assert new.index("# third") < new.index("# second") < new.index("# still second") < new.index("# first")
    assert 'capacitance = "2n2"' in new
    assert "inductance = 6e-9" in new


def test_requirements_take_their_text_along() -> None:
    case = parse_case(COMMENTED)
    new = case_text(evolve(case, requirements=case.requirements[::-1]), COMMENTED)
    assert new.index("# R2") < new.index("# as typed") < new.index("# R1")


def test_removing_one_candidate_leaves_the_others_to_the_letter() -> None:
    case = parse_case(COMMENTED)
    new = case_text(remove_at(case, ("candidates", 0)), COMMENTED)
    gone = {"# first", "# first's", "# disc", "# series one", "# series two"}
    assert set(comments(COMMENTED)) - set(comments(new)) == gone
    assert lines_kept(COMMENTED, new).isdisjoint(
        {'name = "two"         # still second', 'limit = "4kV"        # as typed'}
    )


def test_adding_leaves_everything_to_the_letter() -> None:
    case = parse_case(COMMENTED)
    for after in (
        add_candidate(case, Candidate(name="fresh")),
        add_branch(case, 1, Copper()),
        evolve(case, requirements=(*case.requirements, Requirement(kind="dc-drop", limit=1e-3))),
        evolve(case, title="other"),
        evolve(case, notes="new"),
    ):
        new = case_text(after, COMMENTED)
        assert parse_case(new) == after
        assert comments(new) == comments(COMMENTED)
        assert len(lines_kept(COMMENTED, new)) <= 1


def test_line_ends_of_dos_are_kept() -> None:
    text = COMMENTED.replace("\n", "\r\n")
    new = case_text(set_value(parse_case(text), PATH, 3.3e-9), text)
    assert new == text.replace('"2n2"', '"3.3 nF"')
