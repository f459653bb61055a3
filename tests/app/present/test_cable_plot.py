"""The current along a cable: its shape, where it is largest, and what is said where there is none."""

from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from app.present.consequences import Shown, consequence
from app.present.specs import ConsequenceSpec
from app.state.additions import ADDITIONS
from app.state.chosen import ALONG_CABLE, change_of
from app.state.events import Events
from app.state.results import Desk
from app.state.usual import BRIDGES
from app.state.view import View
from models.assets import CASES
from models.case.document import Case, Pair
from models.case.read import load_case
from models.formulas.constants import LIGHT_M_PER_S

SUPPLY = load_case(CASES / "earthed-or-floating.toml")
EMPTY = Case(pair=Pair(a="A", b="B"), candidates=(BRIDGES[0],))
DESK = Desk()
VIEW = View(mode="radiated", radiated_shows=ALONG_CABLE, cursor_hz=60e6)


def shown(case: Case, view: View = VIEW) -> ConsequenceSpec:
    spec, whole = consequence(
        Shown(desk=DESK, events=Events(DESK.evaluator.solver), results=DESK.results(case), view=view)
    )
    assert whole
    return spec


def ended(far_end: str | float, waves: float) -> Case:
    """The mains lead with another end, so many waves long at 60 MHz, close over the plane."""
    (lead,) = SUPPLY.cables
    length = waves * LIGHT_M_PER_S / 60e6
    return evolve(SUPPLY, cables=(evolve(lead, far_end=far_end, length_m=length, diameter_m=0.02, height_m=0.02),))


def test_every_candidate_has_the_current_that_its_spectrum_has_at_the_region() -> None:
    spec = shown(SUPPLY)
    outcomes = DESK.results(SUPPLY).evaluation.outcomes
    order = round(60e6 / SUPPLY.sources[0].wave.frequency_hz)
    for curve, outcome in zip(spec.plot.curves, outcomes, strict=True):
        assert curve.y[0] == pytest.approx(outcome.cables[0].a_rms[order], rel=1e-12)
        assert curve.y.max() == pytest.approx(outcome.cables[0].largest_a_rms[order], rel=1e-3)
        assert curve.x[[0, -1]].tolist() == [0.0, SUPPLY.cables[0].length_m]
    assert [bar.strong for bar in spec.bars.bars] == [True, False, False, False]


@pytest.mark.parametrize(
    ("far_end", "waves", "says"),
    [
        ("open", 0.25, "largest at inlet"),
        ("earthed", 0.25, "largest at the far end"),
        ("open", 0.6, "1.7 m from inlet"),
    ],
)
def test_the_note_says_where_a_ferrite_does_most(far_end: str, waves: float, says: str) -> None:
    spec = shown(ended(far_end, waves))
    assert says in spec.note
    (mark,) = spec.plot.marks
    curve = spec.plot.curves[0]
    assert mark.y == pytest.approx(float(np.interp(mark.x, curve.x, curve.y)), rel=0.02)
    assert mark.y == pytest.approx(float(curve.y.max()))


def test_the_shape_is_that_of_the_far_end_and_the_size_that_of_the_bridge() -> None:
    first, *others = (curve.y for curve in shown(SUPPLY).plot.curves)
    for other in others:
        np.testing.assert_allclose(other / other[0], first / first[0], rtol=1e-12)
    assert len({f"{each[0]:.3g}" for each in (first, *others)}) == 4


def test_the_cursor_chooses_the_harmonic() -> None:
    assert "harmonic 1 of" in shown(SUPPLY, evolve(VIEW, cursor_hz=1.0)).note
    last = math.floor(SUPPLY.sweep.stop_hz / SUPPLY.sources[0].wave.frequency_hz)
    assert f"harmonic {last} of" in shown(SUPPLY, evolve(VIEW, cursor_hz=1e12)).note


def test_cable_and_source_are_chosen_where_there_are_several() -> None:
    (lead,) = SUPPLY.cables
    two = evolve(SUPPLY, cables=(lead, evolve(lead, name="probe lead", region="output", far_end="open")))
    spec = shown(two, evolve(VIEW, **change_of(VIEW, "cable", "1")))
    assert spec.title == "Current along probe lead"
    assert [each.name for each in spec.choices] == ["radiated_shows", "cable"]
    assert [each.name for each in shown(SUPPLY).choices] == ["radiated_shows"]
    assert spec.plot.curves[0].y[-1] < 1e-9
    back = change_of(VIEW, "radiated_shows", "field")
    assert shown(SUPPLY, evolve(VIEW, **back)).title.startswith("Radiated field")


def test_what_lacks_is_said_and_offered() -> None:
    for start, says, offer in (
        (evolve(EMPTY, candidates=()), "No candidate", None),
        (EMPTY, "Add a source", "add-switch-node"),
        (ADDITIONS["add-ripple"].edit(EMPTY)[0], "Add a cable", "add-signal-cable"),
    ):
        spec = shown(start)
        assert says in spec.plot.empty
        assert (None if spec.offer is None else spec.offer[0]) == offer


def test_the_way_to_the_cables_stands_where_no_harmonic_radiates() -> None:
    low = evolve(SUPPLY, sweep=evolve(SUPPLY.sweep, stop_hz=20e6))
    field = shown(low, View(mode="radiated"))
    assert field.plot.empty
    assert [each.name for each in field.choices] == ["radiated_shows"]
    assert shown(low, evolve(VIEW, cursor_hz=10e6)).plot.empty == ""
