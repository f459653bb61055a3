"""Which candidate is recommended, and what is said about it."""

from __future__ import annotations

from attrs import evolve

from app.present.recommendation import Recommendation, recommend
from app.state.results import Desk
from models.assets import CASES, DEMO_CASE
from models.case.document import Case
from models.case.read import load_case
from models.case.requirement import Requirement


def advice(case: Case) -> Recommendation:
    return recommend(Desk().results(case))


def test_the_one_that_meets_everything_is_taken_with_its_tightest_requirement() -> None:
    case = load_case(DEMO_CASE)
    found = advice(case)
    assert found.candidate == 0
    assert found.meets
    assert found.sentences[0].startswith(
        "Take “Y-capacitor 2.2 nF”: it meets every requirement; the tightest is “Common"
    )
    assert "little room" in found.sentences[1]


def test_of_several_the_one_with_most_room_is_taken() -> None:
    case = load_case(CASES / "sensor-board.toml")
    found = advice(case)
    assert case.candidates[found.candidate or 0].name == "Copper, 5 mm wide"
    assert any("0 Ω link" in each for each in found.sentences)


def test_without_a_reason_for_a_separation_copper_is_what_to_begin_with() -> None:
    found = advice(load_case(CASES / "sensor-board.toml"))
    assert any("continuous copper" in each for each in found.sentences)
    assert not any("continuous copper" in each for each in advice(load_case(DEMO_CASE)).sentences)


def test_where_none_meets_everything_the_closest_is_named_with_what_it_misses() -> None:
    case = load_case(DEMO_CASE)
    found = advice(evolve(case, candidates=case.candidates[2:4]))
    assert found.candidate == 1
    assert not found.meets
    assert found.sentences[0] == "No candidate meets every requirement."
    assert (
        "“Copper”, which misses “Blocks DC”, “Withstands 4 kV” and “Touch current under 250 µA”" in found.sentences[1]
    )
    assert found.sentences[2] == "What keeps a person from harm is among it: a comparison, not a choice."


def test_what_keeps_a_person_from_harm_outweighs_any_number_of_others() -> None:
    """Copper would miss the touch current alone, 133 mA of it; a Y-capacitor only two limits on noise."""
    case = load_case(CASES / "class-ii-supply.toml")
    touch = next(each for each in case.requirements if each.kind == "touch-current")
    noise = Requirement(kind="common-mode-voltage", limit=3.0)
    bleed = Requirement(kind="static-bleed", limit=1.0)
    found = advice(
        evolve(case, requirements=(touch, noise, bleed), candidates=(case.candidates[1], case.candidates[3]))
    )
    assert found.candidate == 0
    assert not any("a comparison" in each for each in found.sentences)


def test_without_requirements_or_candidates_nothing_is_taken() -> None:
    case = load_case(DEMO_CASE)
    assert advice(evolve(case, requirements=())).candidate is None
    empty = advice(evolve(case, candidates=()))
    assert empty.candidate is None
    assert empty.sentences == ("The case has no candidate.",)
