from __future__ import annotations

import pytest
from attrs import evolve

from app.present.search_table import COLUMNS, search_spec, why_not
from app.state.search import SearchRequest, add_found, run_search
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.decide.search import SearchResult
from models.decide.structures import Offer
from models.decide.subject import Subject
from models.decide.verdict import judge_one
from models.network.solver import Solver
from models.parts.capacitor import Capacitor
from models.parts.resistor import Resistor


@pytest.fixture(scope="module")
def case() -> Case:
    return load_case(CASES / "class-ii-supply.toml")


def few_offers(case: Case) -> tuple[Offer, ...]:
    kept = case.candidates[1].branches[0].parts[0]
    assert isinstance(kept, Capacitor)
    return (
        Offer(name="1.5 nF", part=kept),
        Offer(name="1.6 nF", part=evolve(kept, capacitance_f=1.6e-9)),
        Offer(name="4.7 nF", part=evolve(kept, capacitance_f=4.7e-9)),
        Offer(name="4.7 Ω", part=Resistor(resistance_ohm=4.7)),
    )


@pytest.fixture(scope="module")
def result(case: Case) -> SearchResult:
    return run_search(SearchRequest(case=case, offers=few_offers(case)), lambda _: None)


def test_rows_stand_in_the_order_of_what_was_found(result: SearchResult) -> None:
    spec = search_spec(result, 0)
    assert [row[0] for row in spec.rows] == [each.structure.name for each in result.found]
    assert [int(row[1]) for row in spec.rows] == sorted(int(row[1]) for row in spec.rows)
    assert all(len(row) == len(COLUMNS) for row in spec.rows)
    assert len(spec.rows) >= 2


def test_what_breaks_a_limit_is_not_offered(result: SearchResult) -> None:
    assert not any("4.7 nF" in row[0] for row in search_spec(result, 0).rows)


def test_what_is_added_passes_when_it_is_judged_afresh(case: Case, result: SearchResult) -> None:
    for found in result.found:
        added = add_found(case, found).candidates[-1]
        subject = Subject(solver=Solver(), case=case, candidate=added)
        assert all(judge_one(subject, each).outcome != "fail" for each in case.requirements)


def test_no_point_lies_below_and_left_of_the_front(result: SearchResult) -> None:
    every, front = search_spec(result, 0).plot.curves
    for x, y in zip(front.x, front.y, strict=True):
        assert not any((every.x < x) & (every.y < y))


def test_the_chosen_row_is_marked(result: SearchResult) -> None:
    (mark,) = search_spec(result, 1).plot.marks
    assert (mark.x, mark.y) == (result.found[1].touch_a, result.found[1].peak_v)


def test_nothing_found_is_said() -> None:
    spec = search_spec(SearchResult(found=(), tried=7), 0)
    assert spec.summary == "No bridge meets every requirement, of 7 tried."
    assert spec.plot.empty == "Nothing was found."


def test_without_mains_there_is_nothing_to_draw_against(case: Case) -> None:
    bare = evolve(case, mains=None)
    found = run_search(SearchRequest(case=bare, offers=few_offers(bare)), lambda _: None)
    spec = search_spec(found, 0)
    assert spec.rows[0][4] == "none"
    assert spec.plot.empty == "Nothing to draw."


def test_without_requirements_a_search_means_nothing(case: Case) -> None:
    assert why_not(case) == ""
    assert "no requirement" in why_not(evolve(case, requirements=()))


def test_progress_goes_up_and_stops_the_search(case: Case) -> None:
    told: list[str] = []
    run_search(SearchRequest(case=case, offers=few_offers(case)), told.append)
    percents = [int(text.removesuffix(" %")) for text in told]
    assert percents == sorted(set(percents))
    assert percents[-1] == 100

    def stop(_: str) -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        run_search(SearchRequest(case=case, offers=few_offers(case)), stop)
