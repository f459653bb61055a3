from __future__ import annotations

import pytest
from attrs import evolve

from app.present.search_table import columns, search_spec, why_not
from app.state.search import SearchRequest, add_found, run_search
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case, parse_case
from models.case.write import case_text
from models.decide.judges import judge_one
from models.decide.search import SearchResult
from models.decide.structures import Offer
from models.decide.subject import Subject
from models.network.solver import Solver
from models.parts.capacitor import Capacitor
from models.parts.resistor import Resistor
from models.sources.switch_node import SwitchNode


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
    assert all(len(row) == len(columns(result)) for row in spec.rows)
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
    assert (mark.x, mark.y) == (result.found[1].touch_a, result.found[1].loudness.value)


def test_nothing_found_is_said() -> None:
    spec = search_spec(SearchResult(found=(), tried=7), 0)
    assert spec.summary == "No bridge meets every requirement, of 7 tried."
    assert spec.plot.empty == "Nothing was found."


def test_without_mains_there_is_nothing_to_draw_against(case: Case) -> None:
    bare = evolve(case, mains=None)
    found = run_search(SearchRequest(case=bare, offers=few_offers(bare)), lambda _: None)
    spec = search_spec(found, 0)
    assert spec.rows[0][4] == "none"
    assert "no touch current" in spec.plot.empty


LEAD = """
[[cable]]
name = "mains lead"
region = "hot side"
length = "1.5 m"
diameter = "5 mm"
far_end = "lisn"
"""
CONDUCTED_LINE = """
[[requirement]]
kind = "conducted-emission"
limit_line = "CISPR 32 class B"
"""


@pytest.mark.parametrize(
    ("more", "column", "unit"),
    [
        ("", "Peak", "V"),
        (LEAD, "At the LISN", "dBµV"),
        (LEAD.replace('far_end = "lisn"', 'far_end = "open"'), "Field at 10 m", "dBµV/m"),
    ],
)
def test_the_axis_says_what_stands_for_emission(case: Case, more: str, column: str, unit: str) -> None:
    other = parse_case(case_text(case) + more)
    spec = search_spec(run_search(SearchRequest(case=other, offers=few_offers(other)), lambda _: None), 0)
    assert spec.rows
    assert spec.columns[3] == column
    assert spec.plot.y.unit == unit
    assert all(row[3].endswith(f" {unit}") for row in spec.rows)


def test_against_a_limit_line_the_axis_is_the_margin_turned_round(case: Case) -> None:
    quiet = replaced_swing(parse_case(case_text(case) + LEAD + CONDUCTED_LINE), 1e-3)
    result = run_search(SearchRequest(case=quiet, offers=few_offers(quiet)), lambda _: None)
    spec = search_spec(result, 0)
    assert spec.columns[3] == "Over limit line"
    for found, row in zip(result.found, spec.rows, strict=True):
        verdict = found.verdicts[-1]
        assert verdict.requirement == "conducted-emission"
        assert verdict.margin_db == pytest.approx(-found.loudness.value)
        assert row[3].startswith("−")


def replaced_swing(case: Case, factor: float) -> Case:
    source = case.sources[0]
    assert isinstance(source, SwitchNode)
    return evolve(case, sources=(evolve(source, amplitude_v=source.amplitude_v * factor),))


def test_the_least_margin_names_its_requirement_and_no_rating(result: SearchResult) -> None:
    for found, row in zip(result.found, search_spec(result, 0).rows, strict=True):
        graded = [each for each in found.verdicts if each.requirement in ("touch-current", "common-mode-voltage")]
        least = min(graded, key=lambda each: each.margin_db or 0.0)
        assert found.margin_db == least.margin_db
        assert row[2].endswith({"touch-current": "touch current"}.get(least.requirement, "common-mode voltage"))


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
