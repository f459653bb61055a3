from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from app.present.sizing_plot import nearest, sizing_spec
from app.state.sizing import Sized, SizingRequest, own_candidate, run_sizing, take_value
from models.arrays import Real
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.decide.sizing import size
from models.decide.template import template_of
from models.parts.resistor import Resistor


@pytest.fixture(scope="module")
def case() -> Case:
    return load_case(CASES / "class-ii-supply.toml")


@pytest.fixture(scope="module")
def sized(case: Case) -> Sized:
    return run_sizing(SizingRequest(case=case, candidate=0), lambda _: None)


def copper(case: Case) -> int:
    return [each.name for each in case.candidates].index("Copper")


def test_the_window_is_the_one_that_the_models_give(case: Case, sized: Sized) -> None:
    found = size(case, template=template_of(case, "Y-capacitor 2.2 nF"))
    (band,) = sizing_spec(sized).peak.bands
    assert (band.x_low, band.x_high) == (found.least_f, found.most_f)


def test_the_curves_meet_their_limits_at_the_ends_of_the_window(sized: Sized) -> None:
    over, sizing = sized.curves, sized.sizing
    assert over.touch_a is not None
    assert over.peak_v[over.capacitance_f == sizing.least_f] == pytest.approx(8.0, rel=1e-6)
    assert over.touch_a[over.capacitance_f == sizing.most_f] == pytest.approx(250e-6, rel=1e-6)


def test_both_plots_share_one_axis_of_capacitance(sized: Sized) -> None:
    spec = sizing_spec(sized)
    assert spec.peak.x == spec.touch.x
    assert spec.peak.x.log
    assert np.all(np.diff(spec.peak.curves[0].x) > 0.0)


def test_the_cursor_reads_the_standard_value_exactly(sized: Sized) -> None:
    spec = sizing_spec(sized)
    assert spec.chosen == 1.5e-9
    assert spec.touch.readouts[0].text == "192 µA"
    assert "13.6 times the interwinding capacitance" in spec.at_value


def test_the_caution_stands_beside_the_numbers(sized: Sized) -> None:
    assert "not a certification" in sizing_spec(sized).caution


def test_an_empty_window_offers_no_value_and_says_what_opens_it(case: Case) -> None:
    tight = tuple(evolve(each, limit=1.0) if each.kind == "common-mode-voltage" else each for each in case.requirements)
    spec = sizing_spec(run_sizing(SizingRequest(case=evolve(case, requirements=tight), candidate=0), lambda _: None))
    assert spec.title == "No value fits"
    assert spec.values == ()
    assert spec.peak.bands == ()
    assert spec.openings
    assert "dashed nominal" in spec.peak.subtitle


def test_without_mains_there_is_no_touch_current_to_draw(case: Case) -> None:
    spec = sizing_spec(run_sizing(SizingRequest(case=evolve(case, mains=None), candidate=0), lambda _: None))
    assert spec.touch.curves == ()
    assert "No mains" in spec.touch.empty


def test_a_direct_current_without_a_way_back_is_said_in_place_of_a_curve() -> None:
    board = load_case(CASES / "sensor-board.toml")
    spec = sizing_spec(run_sizing(SizingRequest(case=board, candidate=0), lambda _: None))
    assert spec.peak.curves == ()
    assert "no way back" in spec.peak.empty


def test_without_requirements_nothing_is_shaded(case: Case) -> None:
    spec = sizing_spec(run_sizing(SizingRequest(case=evolve(case, requirements=()), candidate=0), lambda _: None))
    assert spec.title == "Any value fits"
    assert spec.peak.bands == ()


def test_the_value_goes_into_the_candidate_that_was_sized(case: Case, sized: Sized) -> None:
    changed = take_value(case, sized, 1.5e-9)
    assert changed.candidates[0].branches[0].parts[0] == case.candidates[1].branches[0].parts[0]
    assert changed.candidates[1:] == case.candidates[1:]


def test_a_candidate_without_a_capacitor_stays_and_a_new_one_is_added(case: Case) -> None:
    found = run_sizing(SizingRequest(case=case, candidate=copper(case)), lambda _: None)
    assert own_candidate(found) is None
    assert sizing_spec(found).use == "Add as candidate"
    changed = take_value(case, found, 1.5e-9)
    assert changed.candidates[:-1] == case.candidates
    assert changed.candidates[-1].branches == case.candidates[1].branches


def test_a_new_one_with_a_resistor_is_called_damped(case: Case) -> None:
    (branch,) = case.candidates[0].branches
    damped = evolve(branch, parts=(*branch.parts, Resistor(resistance_ohm=10.0)))
    bare = evolve(case, candidates=(evolve(case.candidates[0], branches=(damped,)), case.candidates[copper(case)]))
    found = run_sizing(SizingRequest(case=bare, candidate=1), lambda _: None)
    assert take_value(bare, found, 1.5e-9).candidates[-1].name == "Y-capacitor 1.5 nF, damped"


def test_work_that_nobody_waits_for_stops(case: Case) -> None:
    def stop(_: str) -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        run_sizing(SizingRequest(case=case, candidate=0), stop)


@pytest.mark.parametrize(("wanted", "found"), [(None, 2.2e-9), (1e-12, 1e-9), (3e-9, 3.3e-9), (1.0, 3.3e-9)])
def test_the_nearest_value_is_nearest_as_a_ratio(wanted: float | None, found: float) -> None:
    assert nearest((1e-9, 2.2e-9, 3.3e-9), wanted) == found


def test_the_plots_mark_where_the_emission_limit_is_met(sized: Sized) -> None:
    farads = sized.curves.capacitance_f

    def marks(margins: Real | None) -> list[tuple[str, float]]:
        spec = sizing_spec(evolve(sized, curves=evolve(sized.curves, conducted_db=margins)))
        return [(mark.label, mark.x) for mark in spec.peak.marks if "emission" in mark.label]

    rising = 20.0 * np.log10(farads / 2e-9)
    assert marks(None) == marks(np.abs(rising)) == []
    ((label, at),) = marks(rising)
    assert at == pytest.approx(2e-9)
    assert label == "emission limit met from 2 nF"
    ((label, at),) = marks(-1.0 - np.abs(rising))
    assert label.startswith("emission at best −1.")
    assert at == pytest.approx(2e-9, rel=0.2)
