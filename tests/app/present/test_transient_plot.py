"""What the window shows of a discharge, a burst or a surge."""

from __future__ import annotations

import numpy as np
import pytest

from app.present.transient_plot import TransientSpec, transient_spec
from models.case.document import Case
from models.case.read import parse_case
from models.network.solver import Solver
from models.outcomes.event import KINDS, Event
from models.outcomes.transient import transient

CASE = parse_case(
    """
isthmus = 1
[pair]
a = "p"
b = "s"
[[coupling]]
name = "lead"
between = ["p", "earth"]
parts = [{ kind = "copper" }]
[[coupling]]
name = "stray"
between = ["s", "earth"]
parts = [{ kind = "capacitor", capacitance = "100 pF" }]
[[candidate]]
name = "Y"
[[candidate.branch]]
parts = [{ kind = "capacitor", capacitance = "1 nF", safety_class = "Y2", withstand = "2 kV", rated_voltage = "300 V" }]
[[candidate]]
name = "Y and bleed"
[[candidate.branch]]
parts = [{ kind = "capacitor", capacitance = "1 nF" }]
[[candidate.branch]]
parts = [{ kind = "resistor", resistance = "1 Mohm" }]
[[candidate]]
name = "Nothing"
"""
)


def shown(kind: str, *, selected: int = 0, case: Case = CASE) -> TransientSpec:
    event = Event(kind=kind, into="s", level_v=4e3)
    solver = Solver()
    return transient_spec(case, [transient(solver, case, each, event) for each in case.candidates], selected)


def cells(spec: TransientSpec, question: str) -> list[str]:
    return [cell.text for name, row in spec.answers.rows if name == question for cell in row]


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_candidate_is_drawn_over_the_events_time(kind: str) -> None:
    spec = shown(kind, selected=1)
    assert [curve.label for curve in spec.voltage.curves] == ["Y", "Y and bleed", "Nothing"]
    assert [curve.strong for curve in spec.voltage.curves] == [False, True, False]
    assert spec.voltage.x.log
    assert spec.voltage.x.low == KINDS[kind].base.step_s
    assert KINDS[kind].standard in spec.voltage.subtitle
    for curve in (*spec.voltage.curves, *spec.current.curves):
        assert (curve.x > 0.0).all()
        assert curve.x.shape == curve.y.shape


def test_the_axis_holds_every_curve_and_the_mark_its_peak() -> None:
    spec = shown("discharge")
    values = np.concatenate([curve.y for curve in spec.voltage.curves])
    assert spec.voltage.y.low < values.min() <= values.max() < spec.voltage.y.high
    (mark,) = spec.voltage.marks
    assert abs(mark.y) == np.abs(spec.voltage.curves[0].y).max()


def test_currents_of_the_selected_candidate() -> None:
    spec = shown("discharge", selected=1)
    assert spec.current.title == "Currents, Y and bleed"
    assert spec.current.curves[0].label == "from the generator"
    assert {"branch 1", "branch 2", "stray"} <= {curve.label for curve in spec.current.curves}


def test_what_stays_and_how_long() -> None:
    spec = shown("discharge")
    assert cells(spec, "Left across the pair") == ["480 V", "480 V", "2.4 kV"]
    assert cells(spec, "which bleeds to 1 % in") == ["stays", "5.76 ms", "stays"]
    assert any("528 nC stay on s" in cell.why for _, row in spec.answers.rows for cell in row)


def test_a_burst_leaves_nothing() -> None:
    assert cells(shown("burst"), "Left across the pair") == ["nothing"] * 3
    assert cells(shown("burst"), "which bleeds to 1 % in") == ["–"] * 3


def test_only_the_largest_peak_is_marked() -> None:
    row = next(row for name, row in shown("discharge").answers.rows if name == "Peak across the pair")
    assert [cell.worst for cell in row] == [False, False, True]


def test_ratings_say_what_holds() -> None:
    spec = shown("surge")
    found = {row[1].text: row[2] for _, row in spec.ratings.rows}
    assert found["5 kV, impulse of its class"].outcome == "pass"
    assert found["2 kV, withstand"].outcome == "note"
    assert found["2 kV, withstand"].text.startswith("−6.")
    assert "for a minute" in found["2 kV, withstand"].why
    assert found["300 V, rated voltage"].outcome == "note"
    assert "for years" in found["300 V, rated voltage"].why
    assert cells(spec, "Closest rating")[0].startswith("+1.")
    assert cells(spec, "Closest rating")[1:] == ["none stated", "none stated"]


def test_unrated_parts_ask_for_a_rating() -> None:
    assert "Give it one" in shown("surge", selected=2).ratings.empty


def test_the_caution_stands_beside_the_numbers() -> None:
    assert "not a certification" in shown("surge").caution


def test_without_candidates_there_is_a_sentence() -> None:
    spec = transient_spec(CASE, (), 0)
    assert spec.voltage.empty
    assert spec.current.empty
    assert spec.answers.empty
    assert spec.ratings.empty
