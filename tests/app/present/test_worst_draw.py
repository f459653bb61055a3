"""The worst draw is a case of its own, which says what it is."""

from __future__ import annotations

from attrs import evolve

from app.present.worst_draw import judged, worst_draw
from models.assets import CASES
from models.case.read import load_case
from models.decide.tolerance import Request, study

CASE = load_case(CASES / "class-ii-supply.toml")
STUDY = study(Request(case=CASE, draws=8, points=20, peaks=4))
assert STUDY is not None
SPREAD = STUDY.candidates[0]


def test_it_keeps_the_notes_of_the_case_behind_what_it_is() -> None:
    found = worst_draw(CASE, SPREAD)
    assert found is not None
    assert found != CASE
    assert found.notes is not None
    assert found.notes.startswith("Draw ")
    assert "closest to a limit" in found.notes
    assert found.notes.endswith(CASE.notes or "")


def test_of_one_requirement_it_names_the_limit_and_of_none_there_is_none() -> None:
    row = SPREAD.spreads.index(judged(SPREAD)[0])
    found = worst_draw(CASE, SPREAD, row)
    assert found is not None
    assert "the limit of “" in (found.notes or "")
    assert worst_draw(CASE, SPREAD, len(SPREAD.spreads)) is None
    assert worst_draw(CASE, evolve(SPREAD, spreads=())) is None
