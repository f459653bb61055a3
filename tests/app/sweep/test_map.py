"""Maps: what is offered, and the numbers against an evaluation of their own."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from app.present.sweep_plot import family, map_plot
from app.sweep.address import find
from app.sweep.faults import SweepError
from app.sweep.map import MapRequest, csv_text, run_map
from app.sweep.offered import Result, named, results, usual_span, values, with_values
from app.sweep.values import axis
from models.assets import CASES, DEMO_CASE
from models.case.read import load_case
from models.network.grid import point_grid
from models.network.solver import Solver

DEMO = load_case(DEMO_CASE)
C = "candidate[1].branch[0].parts[0].capacitance"


def asked(label: str, *texts: str) -> MapRequest:
    result: Result = next(each for each in results(DEMO, 1e6) if each.label == label)
    axes = tuple(axis(DEMO, text) for text in texts)
    return MapRequest(case=DEMO, candidate="Y-capacitor 1 nF", axes=axes, result=result, at_hz=1e6)


def test_a_magnitude_is_that_of_the_solver() -> None:
    said: list[str] = []
    found = run_map(asked("Impedance in circuit at 1 MHz", f"{C}=1n,2n,4n"), said.append)
    assert said[0] == "3 of 3 points"
    for farad, z_ohm in zip(found.surface.x.tolist(), found.surface.z[0].tolist(), strict=True):
        case = find(DEMO, C).put(DEMO, farad)
        assert z_ohm == pytest.approx(abs(Solver().in_circuit(case, case.candidates[1], point_grid((1e6,)))[0]))
    assert [each.value for each in found.curves] == [1e-9, 2e-9, 4e-9]


def test_a_map_has_lines_between_its_corners_and_a_row_a_point() -> None:
    found = run_map(asked("Touch current, worst", f"{C}=1n..4n:4", "mains.voltage=100..230:3:lin"), lambda _text: None)
    assert found.curves == ()
    spec = map_plot(found.surface, unit="A", here=(1e-9, 230.0), at=None)
    assert {"present case", "100 µA"} <= {each.label for each in spec.curves}
    assert spec.x.log
    assert not spec.y.log
    assert len(csv_text(found).splitlines()) == 1 + 3 * 4


def test_points_that_cannot_be_are_left_out_and_told() -> None:
    found = run_map(asked("Peak of flyback switch", "source[0].duty=0.2..1.4:7:lin"), lambda _text: None)
    assert np.isfinite(found.surface.z[0]).tolist() == [True] * 4 + [False] * 3
    assert [each.value for each in found.curves] == pytest.approx([0.2, 0.4, 0.6, 0.8])
    assert found.problem.startswith("3 of 7 points have no result: found duty 1")
    none = run_map(asked("Peak of flyback switch", "source[0].duty=1.2..1.4:3:lin"), lambda _text: None)
    assert none.curves == ()
    assert none.problem.startswith("3 of 3 points")
    assert family(none.surface, unit="V").empty


def test_stopped_work_goes_no_further() -> None:
    def stop(_text: str) -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        run_map(asked("Touch current, worst", f"{C}=1n..4n:4"), stop)


@pytest.mark.parametrize("path", sorted(CASES.glob("*.toml")), ids=lambda path: path.stem)
def test_everything_offered_can_be_varied_in_every_shipped_case(path: object) -> None:
    case = load_case(CASES / str(path))
    for number in range(len(case.candidates)):
        for address in values(case, number):
            low, high, log = usual_span(case, address)
            assert address.read(low) < address.read(high)
            assert not log or address.read(low) > 0.0
            assert named(case, address)
            assert address.path[0] != "candidates" or address.path[1] == number
    assert len({each.label for each in results(case, 1e6)}) == len(results(case, 1e6))


def test_values_go_in_together_and_none_is_refused() -> None:
    pairs = ((find(DEMO, C), "3n3"), (find(DEMO, "mains.voltage"), "120 V"))
    changed = with_values(DEMO, pairs)
    assert changed == evolve(
        DEMO,
        candidates=with_values(DEMO, pairs[:1]).candidates,
        mains=with_values(DEMO, pairs[1:]).mains,
    )
    with pytest.raises(SweepError, match="no value"):
        with_values(DEMO, ((find(DEMO, C), ""),))
