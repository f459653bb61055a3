"""What the cables of a lesson radiate, against the limit and against the rule of five microamperes."""

from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from app.lessons.check import contradictions
from app.lessons.emission import field, radiates
from app.lessons.truth import candidate_of
from models.case.document import Case
from models.decide.judges import judge_one
from models.decide.subject import Subject
from tests.app.lessons.shipped import LESSONS, TRUTHS

LESSON = next(each for each in LESSONS if each.id == "16-antenna")
CASE = LESSON.cases["case"]
BENCH = TRUTHS[LESSON.id].bench


@pytest.mark.parametrize("name", ["Bead", "Bridge 20 mm away", "Bridge beside the line"])
def test_the_field_is_the_one_that_the_requirement_is_judged_by(name: str) -> None:
    candidate = candidate_of(CASE, name)
    found = field(BENCH, CASE, candidate)
    assert found is not None
    worst_db = 20.0 * np.log10(np.nanmax(found.field_v_per_m / found.limit_v_per_m))
    verdict = judge_one(Subject(solver=BENCH.solver, case=CASE, candidate=candidate), CASE.requirements[0])
    assert verdict.outcome == ("pass" if worst_db < 0.0 else "fail")
    assert verdict.margin_db == pytest.approx(-worst_db, abs=0.01)


def test_enough_is_what_makes_the_limit_whatever_drives_it() -> None:
    truth = TRUTHS[LESSON.id]
    assert truth.value("near_i") / truth.value("near") == pytest.approx(truth.value("enough_i"))
    away = field(BENCH, CASE, candidate_of(CASE, "Bridge 20 mm away"))
    assert away is not None
    k = away.nearest(90e6)
    over = away.field_v_per_m[k] / away.limit_v_per_m[k]
    assert away.cable_a[k] / over == pytest.approx(truth.value("enough_i"), rel=1e-6)
    assert away.drive_v[k] / over == pytest.approx(truth.value("enough_v"), rel=1e-6)


def test_enough_lies_between_a_half_wave_and_a_short_wire_with_the_ground_in_phase() -> None:
    """E = 2·60·I/r of a half wave, E = µ0·f·I·L/r of a short wire: textbook cases on either side of a quarter wave."""
    limit_v_per_m, distance_m = 100e-6, 3.0
    half_wave_a = limit_v_per_m * distance_m / 120.0
    short_wire_a = limit_v_per_m * distance_m / (4e-7 * math.pi * 30e6 * 1.0)
    assert half_wave_a < TRUTHS[LESSON.id].value("enough_i") < short_wire_a


@pytest.mark.parametrize(
    "case",
    [evolve(CASE, cables=()), evolve(CASE, sources=()), evolve(CASE, requirements=())],
    ids=["no cable", "no source", "no limit"],
)
def test_a_lesson_on_a_field_needs_a_cable_a_source_and_a_limit(case: Case) -> None:
    assert not radiates(case)
    assert field(BENCH, case, candidate_of(case, "Bead")) is None
    said = [problem.text() for _, problem in contradictions(evolve(LESSON, cases={**LESSON.cases, "case": case}))]
    assert any("step[4].plot.kind" in each and "a cable, a source and a radiated-emission" in each for each in said)
    assert any("number[3].quantity" in each and "a case without a field" in each for each in said)
