"""Arrays for a family of curves and a contour map."""

from __future__ import annotations

import numpy as np
import pytest

from app.present.sweep_plot import family
from app.sweep.columns import Columns
from app.sweep.contour import contour, levels
from app.sweep.faults import SweepError
from app.sweep.here import Here
from app.sweep.plan import Plan, make_plan
from app.sweep.run import run
from app.sweep.surface import Surface, surface
from app.sweep.values import axis
from models.assets import DEMO_CASE
from models.case.read import load_case

DEMO = load_case(DEMO_CASE)
C = "candidate[1].branch[0].parts[0].capacitance"
NAME = "Y-capacitor 1 nF"


def swept(*texts: str) -> tuple[Plan, Surface]:
    plan = make_plan(DEMO, tuple(axis(DEMO, text) for text in texts), Columns(groups=("touch-current",)), (NAME,))
    rows = [row for done in run(plan, Here()) for row in done.rows]
    return plan, surface(plan, reversed(rows), "touch_unweighted_a_rms", NAME)


def test_two_values_make_a_grid_with_the_cheap_one_inside() -> None:
    _, found = swept(f"{C}=1n..4n:4:lin", "mains.voltage=100,200,230")
    assert found.outer is not None
    assert (found.outer.text, found.inner.text) == ("mains.voltage", C)
    assert found.x == pytest.approx([1e-9, 2e-9, 3e-9, 4e-9])
    assert found.z.shape == (3, 4)
    assert found.z[1] == pytest.approx(2.0 * found.z[0])
    assert (np.diff(found.z, axis=1) > 0.0).all()


def test_a_family_has_a_curve_a_value_and_no_more_than_six() -> None:
    _, found = swept(f"{C}=1n..4n:4:lin", "mains.voltage=100..230:14:lin")
    spec = family(found, unit="A")
    assert len(spec.curves) == 6
    assert spec.curves[0].label == "voltage 100 V"
    assert spec.curves[-1].label == "voltage 230 V"
    assert spec.curves[-1].y is not None
    assert spec.x.unit == "F"
    _, alone = swept(f"{C}=1n..100n:5")
    assert [each.label for each in family(alone, unit="A").curves] == ["result"]
    assert family(alone, unit="A").x.log


def test_what_cannot_be_drawn_is_refused() -> None:
    plan, _ = swept(f"{C}=1n,2n")
    with pytest.raises(SweepError, match="touch_weighted"):
        surface(plan, [], "peak", NAME)
    words = make_plan(DEMO, (axis(DEMO, "mains.feeds=primary"),), Columns(groups=("touch-current",)), (NAME,))
    with pytest.raises(SweepError, match="both quantities"):
        surface(words, [], "touch_unweighted_a_rms", NAME)


def test_a_ring_closes_and_lies_on_its_level() -> None:
    x, y = np.linspace(-2.0, 2.0, 81), np.linspace(-1.5, 1.5, 61)
    z = x[None, :] ** 2 + y[:, None] ** 2
    (line,) = contour(x, y, z, 1.0)
    assert (line[0][0], line[1][0]) == (line[0][-1], line[1][-1])
    assert np.hypot(*line) == pytest.approx(1.0, abs=1e-3)
    turned = np.unwrap(np.arctan2(line[1], line[0]))
    assert abs(turned[-1] - turned[0]) == pytest.approx(2.0 * np.pi)


def test_an_open_line_runs_from_edge_to_edge() -> None:
    x, y = np.linspace(0.0, 1.0, 11), np.linspace(0.0, 1.0, 7)
    z = x[None, :] + 2.0 * y[:, None]
    (line,) = contour(x, y, z, 1.3)
    assert line[0] + 2.0 * line[1] == pytest.approx(1.3)
    assert sorted((line[0][0], line[0][-1])) == pytest.approx([0.0, 1.0])


def test_a_saddle_and_a_hole_keep_lines_apart() -> None:
    corners = np.array([[1.0, -1.0], [-1.0, 1.0]])
    around_high = contour(np.arange(2.0), np.arange(2.0), corners, 0.1)
    assert sorted(float((x + y).max()) > 1.0 for x, y in around_high) == [False, True], "the middle lies below"
    around_low = contour(np.arange(2.0), np.arange(2.0), corners, -0.1)
    assert sorted(float((x - y).max()) > 0.0 for x, y in around_low) == [False, True], "the middle lies above"
    z = np.arange(5.0)[None, :] + np.zeros((5, 1))
    z[2, 2] = np.nan
    lines = contour(np.arange(5.0), np.arange(5.0), z, 2.5)
    assert len(lines) == 2
    assert contour(np.arange(5.0), np.arange(5.0), z, 9.0) == ()


def test_levels_are_round_and_inside() -> None:
    assert levels(np.array([0.3, 40.0])) == (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
    assert levels(np.array([10.0, 16.0]), 6) == (11.0, 12.0, 13.0, 14.0, 15.0)
    assert len(levels(np.array([1e-9, 1e9]))) <= 12
    assert levels(np.array([np.nan, 2.0, 2.0])) == ()
