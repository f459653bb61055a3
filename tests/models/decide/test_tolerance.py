from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case, parse_case
from models.decide.judges import judge_one
from models.decide.subject import Subject
from models.decide.tolerance import CandidateSpread, Request, Study, corners, drawn_case, study
from models.network.grid import point_grid
from models.network.solver import Solver
from tests.models.decide.small_case import (
    CHASSIS,
    CONVERTER,
    HEAD,
    SWITCH,
    T1,
    branch,
    capacitor,
    coupling,
    mains,
    requirement,
)

EXAMPLES = ("gateway", "class-ii-supply", "sensor-board")


def _study(request: Request) -> Study:
    found = study(request)
    assert found is not None
    return found


def _wide(*pieces: str, bridge: str) -> Case:
    return parse_case(HEAD + CHASSIS + "".join(pieces) + f'[[candidate]]\nname = "it"\n{bridge}')


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_draw_is_the_case_with_those_values(name: str) -> None:
    """The plain way, one network after the other, gives the same impedances and the same values."""
    case = load_case(CASES / f"{name}.toml")
    found = _study(Request(case=case, draws=6, peaks=6, points=9))
    grid = point_grid(tuple(float(f) for f in found.f_hz))
    for spread in found.candidates:
        for number in (0, 5):
            alone = drawn_case(case, spread, number)
            (candidate,) = alone.candidates
            subject = Subject(solver=Solver(), case=alone, candidate=candidate)
            for each in spread.spreads:
                if each.values.size:
                    verdict = judge_one(subject, each.requirement)
                    assert _found(verdict.value) == pytest.approx(_judged(each.values[number]), rel=2e-2), (
                        each.requirement.kind
                    )
        z = np.abs([_impedance(case, spread, number, grid) for number in range(6)])
        assert spread.band.median_ohm == pytest.approx(np.sort(z, axis=0)[round(0.5 * 5)], rel=1e-7)


@pytest.mark.parametrize(("kind", "limit"), [("loop-current", "10 mA"), ("common-mode-voltage", "2 V")])
def test_a_draw_of_a_ground_loop_is_the_case_with_those_values(kind: str, limit: str) -> None:
    """100 Ω of 5 % meets 10 mA in half the draws; a bond of 50 % and the screen beside it lift the region by 1 V."""
    case = _wide(
        coupling("bond of p", "p", "earth", '{ kind = "copper", resistance = 0.02 }'),
        coupling("bond of s", "s", "earth", '{ kind = "copper", resistance = 0.03, tolerance = 0.5 }'),
        '[[cable]]\nname = "screen"\nregion = "s"\nlength = "3 m"\ndiameter = "6 mm"\nfar_end = "earthed"\n',
        '[[source]]\nname = "offset"\nkind = "mains-offset"\nbetween = ["p", "s"]\nvoltage = "1 V"\n',
        requirement(kind, f'limit = "{limit}"'),
        bridge=branch('{ kind = "resistor", resistance = 100.0, tolerance = 0.05 }'),
    )
    (spread,) = _study(Request(case=case, draws=6, peaks=6, points=5)).candidates
    drawn = [drawn_case(case, spread, number) for number in range(6)]
    subjects = [Subject(solver=Solver(), case=each, candidate=each.candidates[0]) for each in drawn]
    values = [_found(judge_one(each, case.requirements[0]).value) for each in subjects]
    assert spread.spreads[0].values == pytest.approx(values, rel=1e-6)
    if kind == "loop-current":
        assert spread.share == 0.5


def _found(value: float | None) -> float:
    return math.inf if value is None else value


def _judged(value: float) -> float:
    return float(value)


def _impedance(
    case: Case, spread: CandidateSpread, number: int, grid: object
) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
    alone = drawn_case(case, spread, number)
    return Solver().in_circuit(alone, alone.candidates[0], grid)  # type: ignore[arg-type]


def test_the_same_seed_gives_the_same_numbers() -> None:
    case = load_case(CASES / "gateway.toml")
    one, again, other = (_study(Request(case=case, draws=50, peaks=5, seed=seed)) for seed in (7, 7, 8))
    for first, second, third in zip(one.candidates, again.candidates, other.candidates, strict=True):
        assert np.array_equal(first.factors, second.factors)
        assert np.array_equal(first.band.high_ohm, second.band.high_ohm)
        assert not np.array_equal(first.factors, third.factors)
        for left, right in zip(first.spreads, second.spreads, strict=True):
            assert np.array_equal(left.values, right.values)


def test_candidates_share_the_draws_of_what_they_share() -> None:
    found = _study(Request(case=load_case(CASES / "gateway.toml"), draws=20, peaks=1))
    columns = [spread.factors[:, 0] for spread in found.candidates]
    assert all(np.array_equal(columns[0], each) for each in columns)


def test_a_yield_known_by_heart() -> None:
    """C even within ±20 % at 250 µA: I > limit from 1.1·C on, which a quarter of the lot exceeds."""
    limit = 2.0 * math.pi * 50.0 * 230.0 * 1.1 * 2.2e-9
    case = _wide(
        mains(tolerance=0.0),
        requirement("touch-current", f"limit = {limit}"),
        bridge=branch(capacitor(2.2e-9, "tolerance = 0.2")),
    )
    (spread,) = _study(Request(case=case)).candidates
    assert spread.share == pytest.approx(0.75, abs=0.01)
    low, median, high = np.percentile(spread.spreads[0].values, (5.0, 50.0, 95.0))
    nominal = limit / 1.1
    assert (low / nominal, median / nominal, high / nominal) == pytest.approx((0.82, 1.0, 1.18), abs=5e-3)


def test_the_band_of_a_capacitor_is_its_tolerance() -> None:
    case = _wide(bridge=branch(capacitor(1e-9, "tolerance = 0.1")))
    found = _study(Request(case=case))
    (spread,) = found.candidates
    ideal = 1.0 / (2.0 * math.pi * found.f_hz * 1e-9)
    assert spread.band.low_ohm == pytest.approx(ideal / 1.09, rel=2e-3)
    assert spread.band.high_ohm == pytest.approx(ideal / 0.91, rel=2e-3)


def test_a_shorted_capacitor_counts_in_every_draw() -> None:
    bridge = branch(*[capacitor(2e-9, "tolerance = 0.1")] * 2)
    case = _wide(mains(), requirement("touch-current", 'limit = "0.1 mA"\nfault_limit = "0.2 mA"'), bridge=bridge)
    (spread,) = _study(Request(case=case, draws=40)).candidates
    pure = 2.0 * math.pi * 50.0 * 230.0 * 2e-9 * 0.5
    # one of two shorted: twice the current against twice the limit, the larger of the two capacitors left
    assert spread.spreads[0].values.mean() == pytest.approx(pure, rel=0.06)
    assert (spread.spreads[0].values >= pure * 0.9 * 0.9 - 1e-12).all()


def test_the_worst_draw_opens_as_a_case_that_fails() -> None:
    case = load_case(CASES / "class-ii-supply.toml")
    spread = _study(Request(case=case, draws=300, peaks=100)).candidates[0]
    assert 0.5 < spread.share < 1.0
    worst = drawn_case(case, spread, spread.worst())
    touch = next(each for each in worst.requirements if each.kind == "touch-current")
    verdict = judge_one(Subject(solver=Solver(), case=worst, candidate=worst.candidates[0]), touch)
    assert verdict.outcome == "fail"
    assert verdict.value is not None
    assert verdict.value > 0.25e-3
    assert "draw" in worst.title


def test_corners_reach_the_worst_case_of_the_verdict() -> None:
    case = load_case(CASES / "class-ii-supply.toml")
    candidate = case.candidates[0]
    spread = corners(case, candidate, points=20)
    number = [each.kind for each in case.requirements].index("touch-current")
    assert len(spread.factors) == 2 ** len(spread.toleranced)
    verdict = judge_one(Subject(solver=Solver(), case=case, candidate=candidate), case.requirements[number])
    assert verdict.value == pytest.approx(float(spread.spreads[number].values.max()), rel=1e-9)


def test_it_reports_progress_and_stops_when_told() -> None:
    case = load_case(CASES / "gateway.toml")
    seen: list[float] = []
    assert study(Request(case=case, draws=10, peaks=1), progress=seen.append) is not None
    assert seen == sorted(seen)
    assert seen[-1] == pytest.approx(1.0)
    assert 0.0 < seen[0] < 0.2
    calls: list[float] = []
    stopped = study(Request(case=case, draws=10, peaks=1), progress=calls.append, cancelled=lambda: len(calls) >= 2)
    assert stopped is None
    assert len(calls) == 2


def test_nothing_toleranced_is_a_line_without_width() -> None:
    case = _wide(
        T1, SWITCH, CONVERTER, requirement("common-mode-voltage", "limit = 1.0"), bridge=branch(capacitor(1e-9))
    )
    (spread,) = _study(Request(case=case, draws=5)).candidates
    assert np.array_equal(spread.band.low_ohm, spread.band.high_ohm)
    assert spread.share == 0.0
    assert np.isinf(spread.spreads[0].values).all()


def test_a_case_without_candidates_is_an_empty_study() -> None:
    case = evolve(load_case(CASES / "gateway.toml"), candidates=())
    assert _study(Request(case=case, draws=3)).candidates == ()
