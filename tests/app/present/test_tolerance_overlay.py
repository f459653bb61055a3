from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from app.present.answers import answers_table
from app.present.impedance_plot import impedance_plot
from app.present.tolerance_overlay import share_said, with_band, with_yields
from app.state.results import Desk, Results
from app.state.view import View
from models.assets import CASES
from models.case.read import load_case
from models.decide.tolerance import Request, Study, study


@pytest.fixture(scope="module")
def results() -> Results:
    return Desk().results(load_case(CASES / "class-ii-supply.toml"))


@pytest.fixture(scope="module")
def drawn(results: Results) -> Study:
    found = study(Request(case=results.case, draws=16, peaks=16))
    assert found is not None
    return found


def test_the_band_lies_on_that_of_the_study_and_around_the_curve(results: Results, drawn: Study) -> None:
    spec = with_band(impedance_plot(results, (), View()), drawn, results, View())
    seen = 0
    for curve, spread in zip(spec.curves, drawn.candidates, strict=True):
        if curve.low is None or curve.high is None:
            continue
        seen += 1
        at_points = np.exp(np.interp(np.log(drawn.f_hz), np.log(curve.x), np.log(curve.low)))
        assert np.median(np.abs(at_points / spread.band.low_ohm - 1.0)) < 1e-2
        assert np.mean((curve.low <= curve.y * 1.02) & (curve.y <= curve.high * 1.02)) > 0.9
    assert seen


def test_the_same_study_gives_the_same_arrays(results: Results, drawn: Study) -> None:
    one, other = (with_band(impedance_plot(results, (), View()), drawn, results, View()) for _ in range(2))
    assert [id(each.low) for each in one.curves] == [id(each.low) for each in other.curves]


@pytest.mark.parametrize("view", [View(bridge_alone=True), View(z_shows="phase")])
def test_no_band_where_it_would_be_of_something_else(results: Results, drawn: Study, view: View) -> None:
    assert all(each.low is None for each in with_band(impedance_plot(results, (), view), drawn, results, view).curves)


def test_a_study_of_another_case_changes_nothing(results: Results, drawn: Study) -> None:
    edited = Desk().results(evolve(results.case, title="Another"))
    plot, table = impedance_plot(edited, (), View()), answers_table(edited, 0)
    assert with_band(plot, drawn, edited, View()) is plot
    assert with_yields(table, drawn, edited) is table


def test_yields_stand_where_values_were_drawn_and_nowhere_else(results: Results, drawn: Study) -> None:
    plain = answers_table(results, 0)
    rows = with_yields(plain, drawn, results).rows
    for number, (_, cells) in enumerate(rows):
        for place, cell in enumerate(cells):
            known = number < len(results.case.requirements)
            spread = drawn.candidates[place].spreads[number] if known else None
            said = f"{share_said(spread.share)} of 16 draws" if spread is not None and spread.values.size else "draws"
            assert (said in cell.why) == bool(spread is not None and spread.values.size)


@pytest.mark.parametrize(("share", "said"), [(1.0, "100 %"), (0.998, "99.8 %"), (0.5, "50 %"), (0.001, "0.1 %")])
def test_nearly_all_is_not_all(share: float, said: str) -> None:
    assert share_said(share) == said


def test_the_axis_holds_the_band_and_a_note_says_what_it_is(results: Results, drawn: Study) -> None:
    plain = impedance_plot(results, (), View())
    edges = [each.band for each in drawn.candidates if each.toleranced]
    lowest = min(float(each.low_ohm.min()) for each in edges)
    tight = evolve(plain, y=evolve(plain.y, low=10.0 * lowest))
    spec = with_band(tight, drawn, results, View())
    assert spec.y.low <= lowest
    assert spec.y.high >= plain.y.high
    assert "5 to 95 % of 16 draws" in spec.note
    assert not plain.note
