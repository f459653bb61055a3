"""Every shipped case opens, solves, comes to its stored key figures and tells its story."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest

from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.network.grid import point_grid
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator
from models.parts.copper import Copper
from tests.examples.figures import Figures, figures
from tests.reference.elements import case_elements
from tests.reference.exact import driven_by_current

STORED = tomllib.loads(Path(__file__).with_name("figures.toml").read_text(encoding="utf-8"))
STEMS = sorted(path.stem for path in CASES.glob("*.toml"))
DEMOS = ("class-ii-supply", "gateway", "sensor-board")


def case_of(stem: str) -> Case:
    return load_case(CASES / f"{stem}.toml")


def test_every_shipped_case_has_stored_figures() -> None:
    assert sorted(STORED) == STEMS


def as_list(each: Figures) -> list[float]:
    touch = math.nan if each.touch_a is None else each.touch_a
    return [each.bridge_ohm, each.at_1_mhz_ohm, each.at_100_mhz_ohm, each.peak_v, each.rms_v, touch]


@pytest.mark.parametrize("stem", STEMS)
def test_key_figures(stem: str) -> None:
    found = figures(stem)
    assert list(found) == list(STORED[stem])
    for name, each in found.items():
        assert as_list(each) == pytest.approx(STORED[stem][name], rel=1e-4, nan_ok=True), name


@pytest.mark.parametrize("stem", STEMS)
def test_it_compares_at_least_four_candidates_and_says_why(stem: str) -> None:
    case = case_of(stem)
    assert len(case.candidates) >= 4
    assert case.notes is not None
    assert len(case.notes) > 200
    assert case.requirements
    assert case.sources


@pytest.mark.parametrize("stem", DEMOS)
def test_a_demo_has_copper_and_nothing_among_them(stem: str) -> None:
    case = case_of(stem)
    outcomes = Evaluator().evaluate(case).outcomes
    copper = [
        each for each in outcomes if each.candidate.branches and isinstance(each.candidate.branches[0].parts[0], Copper)
    ]
    assert any(not each.dc.blocks and each.dc.bridge_ohm < 1e-3 for each in copper)
    bare = [each for each in outcomes if not each.candidate.branches]
    assert all(each.dc.blocks and each.dc.bridge_ohm == math.inf for each in bare)
    assert bare


@pytest.mark.parametrize("stem", DEMOS)
def test_a_demo_agrees_with_the_reference(stem: str) -> None:
    case = case_of(stem)
    grid = point_grid((50.0, 150e3, 30e6, 1e9))
    for candidate in case.candidates:
        elements = case_elements(case, candidate)
        found = Solver().in_circuit(case, candidate, grid)
        for omega, z in zip(grid.omega, found, strict=True):
            solved = driven_by_current(elements, float(omega), case.pair.a, case.pair.b)
            assert solved is not None
            wanted = solved.across(case.pair.b, case.pair.a)
            assert wanted is not None
            assert abs(z - wanted) <= 1e-9 * abs(wanted)


def verdicts_of(stem: str, kind: str) -> dict[str, str]:
    from models.decide.judges import judge

    case, evaluator = case_of(stem), Evaluator()
    return {
        outcome.name: verdict.outcome
        for outcome in evaluator.evaluate(case).outcomes
        for verdict in judge(evaluator, case, outcome)
        if verdict.requirement == kind
    }


def test_the_gateway_needs_a_capacitor_that_is_large_enough_and_not_too_large() -> None:
    assert verdicts_of("gateway", "blocks-dc") == {
        "Y-capacitor 2.2 nF": "pass",
        "Y-capacitor 1 nF": "pass",
        "Bead 600 Ω": "fail",
        "Copper": "fail",
        "Nothing": "pass",
    }
    assert verdicts_of("gateway", "common-mode-voltage")["Nothing"] == "fail"
    assert verdicts_of("gateway", "common-mode-voltage")["Y-capacitor 2.2 nF"] == "pass"


def test_the_bead_is_no_return_path_and_copper_is() -> None:
    verdicts = verdicts_of("sensor-board", "return-impedance")
    assert verdicts["Bead 600 Ω"] == "fail"
    assert verdicts["Copper, 5 mm wide"] == "pass"


def test_touch_current_forbids_the_largest_capacitor() -> None:
    verdicts = verdicts_of("class-ii-supply", "touch-current")
    assert verdicts["Y-capacitor 2.2 nF"] == "fail"
    assert verdicts["Y-capacitor 1.5 nF"] == "pass"
    assert verdicts["Copper"] == "fail"


@pytest.mark.parametrize("stem", STEMS)
def test_every_number_is_finite_or_has_a_reason(stem: str) -> None:
    case = case_of(stem)
    for outcome in Evaluator().evaluate(case).outcomes:
        assert np.isfinite(outcome.in_circuit_ohm).all()
        assert np.all(outcome.in_circuit_ohm.real >= -1e-9 * np.abs(outcome.in_circuit_ohm))
        assert outcome.candidate.branches or not np.isfinite(outcome.bridge_ohm).any()
