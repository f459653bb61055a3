"""How loud a bridge is, against levels read off the outcomes one by one."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.decide.judges import judge_one
from models.decide.loudness import AGAINST_LINE, CONDUCTED, FIELD, PEAK, loudness
from models.decide.subject import Subject
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator, Outcome


def _case(*, cables: bool = True, lisn: bool = True, lines: bool = False) -> Case:
    case = load_case(CASES / "earthed-or-floating.toml")
    leads = case.cables if lisn else tuple(evolve(each, far_end="open") for each in case.cables)
    return evolve(case, cables=leads if cables else (), requirements=case.requirements if lines else ())


def _loud(case: Case, index: int) -> tuple[str, float]:
    found = loudness(Subject(solver=Solver(), case=case, candidate=case.candidates[index]))
    return found.measure, found.value


def _outcome(case: Case, index: int) -> Outcome:
    return Evaluator().evaluate(case).outcomes[index]


@pytest.mark.parametrize("index", [0, 1])
def test_against_lines_it_is_the_least_margin_of_the_verdicts_turned_round(index: int) -> None:
    case = _case(lines=True)
    subject = Subject(solver=Solver(), case=case, candidate=case.candidates[index])
    margins = [judge_one(subject, each).margin_db for each in case.requirements if each.kind.endswith("emission")]
    known = [each for each in margins if each is not None]
    assert len(known) == 2
    measure, value = _loud(case, index)
    assert measure == AGAINST_LINE
    assert value == pytest.approx(-min(known))


def test_without_a_line_it_is_the_highest_reading_at_the_lisn() -> None:
    case = _case()
    (lead,) = _outcome(case, 0).conducted
    (own,) = lead.each
    inside = (own.f_hz >= 150e3) & (own.f_hz <= 30e6)
    highest = 20.0 * np.log10(np.max(own.read("quasi-peak")[inside]) / 1e-6)
    measure, value = _loud(case, 0)
    assert measure == CONDUCTED
    assert value == pytest.approx(highest)


def test_without_a_lisn_it_is_the_highest_field_at_ten_metres() -> None:
    case = _case(lisn=False)
    (field,) = _outcome(case, 0).radiated
    highest = 20.0 * np.log10(np.max(field.at(10.0).read("quasi-peak")) / 1e-6)
    measure, value = _loud(case, 0)
    assert measure == FIELD
    assert value == pytest.approx(highest)


def test_without_cables_it_is_the_peak_across_the_pair() -> None:
    case = _case(cables=False)
    measure, value = _loud(case, 0)
    assert measure == PEAK
    assert value >= _outcome(case, 0).peak_v() * (1.0 - 1e-12)


def test_every_candidate_of_a_case_is_measured_alike() -> None:
    for case in (_case(), _case(lines=True), _case(lisn=False), _case(cables=False)):
        assert len({_loud(case, index)[0] for index in range(len(case.candidates))}) == 1
