from __future__ import annotations

from itertools import count

from app.state.edits import set_value
from app.state.judging import Judging
from app.state.results import Desk
from models.assets import DEMO_CASE
from models.case.read import load_case

STRAY = ("couplings", 0, "parts", 0, "capacitance_f")


def test_a_moment_is_judged_to_its_end_a_candidate_a_turn_though_the_document_goes_on() -> None:
    case, desk, ticks = load_case(DEMO_CASE), Desk(), count()
    judging = Judging(lambda: float(next(ticks)) * 2.5e-3)
    moments = [desk.results(set_value(case, STRAY, (1 + k) * 1e-12)) for k in range(len(case.candidates))]
    found = [judging.advance(moment) for moment in moments]
    assert found == [None] * (len(moments) - 1) + [moments[0]]
    assert judging.advance(moments[-1]) is None


def test_where_the_hand_rests_an_older_moment_is_given_up() -> None:
    case, desk, ticks = load_case(DEMO_CASE), Desk(), count()
    judging = Judging(lambda: float(next(ticks)) * 2.5e-3)
    older, present = (desk.results(set_value(case, STRAY, value)) for value in (1e-12, 2e-12))
    judging.advance(older)
    found = [judging.advance(present) for _ in range(len(case.candidates) + 1)]
    assert found == [None] * len(case.candidates) + [present]


def test_what_is_known_takes_no_turn() -> None:
    case, desk = load_case(DEMO_CASE), Desk()
    results = desk.results(case)
    assert len(results.verdicts) == len(case.candidates)
    assert Judging(lambda: 0.0).advance(results) is results


def test_judged_candidate_by_candidate_comes_to_the_same() -> None:
    case, desk = load_case(DEMO_CASE), Desk()
    results, judging = desk.results(case), Judging()
    while judging.advance(results) is None:
        pass
    assert results.verdicts == Desk().results(case).verdicts
