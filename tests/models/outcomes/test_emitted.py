"""What a receiver reads of a candidate along frequency, against one limit line and one detector."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.limits import LimitLine, limits
from models.outcomes.emitted import Asked, Emitted, emitted, judged_by
from models.outcomes.evaluation import Evaluator, Outcome
from models.outcomes.radiated import worst_field

SUPPLY = load_case(CASES / "earthed-or-floating.toml")
OUTCOMES = Evaluator().evaluate(SUPPLY).outcomes


def line(kind: str) -> LimitLine:
    found = limits().find("CISPR 32 class B", kind)
    assert found is not None
    return found


def shown(outcome: Outcome, asked: Asked) -> Emitted:
    found = emitted(outcome, asked)
    assert found is not None
    return found


@pytest.mark.parametrize("outcome", OUTCOMES, ids=lambda each: each.name)
def test_the_closest_harmonic_is_the_verdicts(outcome: Outcome) -> None:
    conducted = shown(outcome, Asked(kind="conducted", line=line("conducted")))
    assert conducted.margin == outcome.conducted[0].margin(line("conducted"))
    radiated = shown(outcome, Asked(kind="radiated", line=line("radiated"), distance_m=10.0))
    assert radiated.margin == worst_field(outcome.radiated, line("radiated"))


def test_no_harmonic_comes_closer_to_the_limit_than_the_one_named() -> None:
    found = shown(OUTCOMES[0], Asked(kind="conducted", line=line("conducted"), detector="average"))
    assert found.margin is not None
    room = line("conducted").limit_db(found.f_hz, "average") - found.level_db
    assert found.margin.margin_db == pytest.approx(float(np.nanmin(room)))
    assert found.margin.f_hz == pytest.approx(float(found.f_hz[np.nanargmin(room)]))


def test_the_field_falls_by_the_distance_and_carries_its_usual_error() -> None:
    near, far = (shown(OUTCOMES[2], Asked(kind="radiated", distance_m=each)) for each in (3.0, 10.0))
    assert near.level_db - far.level_db == pytest.approx(20.0 * np.log10(10.0 / 3.0))
    assert near.high_db - near.low_db == pytest.approx(12.0)
    assert shown(OUTCOMES[2], Asked(kind="conducted")).error_db == 0.0


def test_peak_is_held_against_the_quasi_peak_limit_where_there_is_no_other() -> None:
    peak = judged_by(line("conducted"), "peak")
    assert peak is not None
    at_hz = np.array([150e3, 1e6, 10e6])
    assert peak.limit_db(at_hz, "peak") == pytest.approx(line("conducted").limit_db(at_hz, "quasi-peak"))
    average_alone = evolve(line("conducted"), limits=tuple(e for e in peak.limits[:1]))
    assert judged_by(average_alone, "average") is None


def test_several_sources_are_read_in_one_row_and_never_below_each_alone() -> None:
    source = SUPPLY.sources[0]
    second = evolve(source, name="second", wave=evolve(source.wave, frequency_hz=170e3))  # type: ignore[misc]
    both = Evaluator().evaluate(evolve(SUPPLY, sources=(source, second))).outcomes[3]
    found = shown(both, Asked(kind="conducted"))
    assert found.sources == ("switch node", "second")
    assert (np.diff(found.f_hz) >= 0.0).all()
    alone = both.conducted[0].each
    assert found.f_hz.size == sum(each.f_hz.size for each in alone)
    first = alone[0]
    read = found.level_db[np.searchsorted(found.f_hz, first.f_hz, side="left")]
    own = first.level_db("quasi-peak")
    apart = np.array([np.count_nonzero(found.f_hz == each) == 1 for each in first.f_hz])
    assert (read[apart] >= own[apart] - 1e-9).all()


def bare(**changes: object) -> Outcome:
    case: Case = evolve(SUPPLY, **changes)  # type: ignore[arg-type]
    return Evaluator().evaluate(case).outcomes[0]


def test_without_cable_or_source_nothing_is_emitted() -> None:
    assert emitted(bare(cables=()), Asked(kind="conducted")) is None
    assert emitted(bare(cables=()), Asked(kind="radiated")) is None
    assert emitted(bare(sources=()), Asked(kind="conducted")) is None
