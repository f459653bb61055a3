"""Curves read off pictures that are drawn here, with numpy alone."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from models.arrays import Real
from models.errors import DataError, QuantityError
from models.fitting.fit import fit_part
from models.fitting.follow import follow_line, line_cover
from models.fitting.picture import AxisMarks, Calibration, Image, picture_measurement
from tests.models.fitting.synthetic import ferrite

WIDTH, HEIGHT = 640, 420
LEFT, RIGHT, TOP, BOTTOM = 60.0, 610.0, 20.0, 390.0
AXES = Calibration(
    x=AxisMarks(first_px=(LEFT, BOTTOM), second_px=(RIGHT, BOTTOM), first=1e6, second=1e9),
    y=AxisMarks(first_px=(LEFT, BOTTOM), second_px=(LEFT, TOP), first=1.0, second=1e4),
)
BLUE, RED, BLACK, GREY = (0, 90, 180), (200, 40, 30), (0, 0, 0), (215, 215, 215)
_GRID = np.indices((HEIGHT, WIDTH)).astype(np.float64) + 0.5


def paper() -> NDArray[np.float64]:
    return np.full((HEIGHT, WIDTH, 3), 255.0)


def stroke(
    paper: NDArray[np.float64], places: Real, color: tuple[int, int, int], width: float = 2.0, dash: float = 0.0
) -> None:
    """Draw a polyline with soft edges: each pixel takes its share by its distance from the line."""
    gone = 0.0
    for (x0, y0), (x1, y1) in pairwise(places):
        length = math.hypot(x1 - x0, y1 - y0)
        gone += length
        if length == 0.0 or (dash and gone % (2.0 * dash) > dash):
            continue
        low, high = int(max(min(y0, y1) - 4, 0)), int(min(max(y0, y1) + 5, HEIGHT))
        left, right = int(max(min(x0, x1) - 4, 0)), int(min(max(x0, x1) + 5, WIDTH))
        y, x = _GRID[0, low:high, left:right], _GRID[1, low:high, left:right]
        way = np.clip(((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / length**2, 0.0, 1.0)
        away = np.hypot(x - x0 - way * (x1 - x0), y - y0 - way * (y1 - y0))
        share = np.clip(width / 2.0 + 0.5 - away, 0.0, 1.0)[:, :, None]
        part = paper[low:high, left:right]
        part += np.minimum(share, 1.0) * (np.array(color) - part)


def grid(paper: NDArray[np.float64], color: tuple[int, int, int] = GREY) -> None:
    for x in np.linspace(LEFT, RIGHT, 4):
        stroke(paper, np.array([[x, TOP], [x, BOTTOM]]), color, 1.0)
    for y in np.linspace(TOP, BOTTOM, 5):
        stroke(paper, np.array([[LEFT, y], [RIGHT, y]]), color, 1.0)


def image(paper: NDArray[np.float64]) -> Image:
    return np.round(paper).astype(np.uint8)


def curve(f_hz: Real, size: Real) -> Real:
    return AXES.places(f_hz, size)


F_HZ: Real = np.geomspace(1.2e6, 0.9e9, 600)
FERRITE: Real = np.abs(ferrite(F_HZ))


def level_db(found: Real, f_hz: Real, truth: Real) -> Real:
    x, y = AXES.values(found)
    return np.asarray(20.0 * np.log10(y / np.exp(np.interp(np.log(x), np.log(f_hz), np.log(truth)))), np.float64)


def test_axes_read_their_own_marks_and_back() -> None:
    for axis, places in ((0, [AXES.x.first_px, AXES.x.second_px]), (1, [AXES.y.first_px, AXES.y.second_px])):
        marks = (AXES.x, AXES.y)[axis]
        assert AXES.values(np.array(places))[axis] == pytest.approx([marks.first, marks.second])
    x, y = np.array([2e6, 3e8]), np.array([17.0, 900.0])
    back_x, back_y = AXES.values(AXES.places(x, y))
    assert back_x == pytest.approx(x)
    assert back_y == pytest.approx(y)


def test_a_turned_picture_with_a_linear_axis_is_read_right() -> None:
    turn = np.array([[math.cos(0.1), -math.sin(0.1)], [math.sin(0.1), math.cos(0.1)]])

    def at(x: float, y: float) -> tuple[float, float]:
        turned = turn @ np.array([x, y])
        return float(turned[0]), float(turned[1])

    axes = Calibration(
        x=AxisMarks(first_px=at(50, 400), second_px=at(450, 400), first=0.0, second=200e6, log=False),
        y=AxisMarks(first_px=at(50, 350), second_px=at(50, 50), first=10.0, second=1000.0),
    )
    f_hz, z_ohm = axes.values(np.array([at(250, 200), at(150, 50)]))
    assert f_hz == pytest.approx([100e6, 50e6])
    assert z_ohm == pytest.approx([100.0, 1000.0])


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"second_px": (LEFT + 1, BOTTOM)}, "at one place"),
        ({"second": 1e6}, "at both marks"),
        ({"first": 0.0}, "log axis"),
    ],
)
def test_marks_that_make_no_axis_are_refused(changes: dict[str, object], says: str) -> None:
    plain: dict[str, object] = {"first_px": (LEFT, BOTTOM), "second_px": (RIGHT, BOTTOM), "first": 1e6, "second": 1e9}
    with pytest.raises(QuantityError, match=says):
        AxisMarks(**{**plain, **changes})  # type: ignore[arg-type]


def test_axes_that_run_the_same_way_are_refused() -> None:
    with pytest.raises(QuantityError, match="the same way"):
        Calibration(x=AXES.x, y=AxisMarks(first_px=(LEFT, 100), second_px=(RIGHT, 110), first=1.0, second=10.0))


@pytest.mark.parametrize("ground", [255.0, 30.0])
def test_a_line_is_followed_from_end_to_end_over_a_grid(ground: float) -> None:
    page = paper() - 255.0 + ground
    grid(page, GREY if ground > 100.0 else (70, 70, 70))
    places = curve(F_HZ, FERRITE)
    stroke(page, places, (90, 170, 250))
    found = follow_line(image(page), (places[200][0], places[200][1] + 2.0))
    assert found[0, 0] == pytest.approx(places[0, 0], abs=2.0)
    assert found[-1, 0] == pytest.approx(places[-1, 0], abs=2.0)
    assert np.sqrt(np.mean(level_db(found, F_HZ, FERRITE) ** 2)) < 0.1


def test_another_line_that_crosses_does_not_lead_astray() -> None:
    page = paper()
    grid(page)
    places, other = curve(F_HZ, FERRITE), curve(F_HZ, 1e3 * (F_HZ / 3e7) ** -0.7)
    stroke(page, places, RED)
    stroke(page, other, BLUE)
    found = follow_line(image(page), (places[100][0], places[100][1]))
    assert np.abs(level_db(found, F_HZ, FERRITE)).max() < 0.8
    assert len(found) > 500


def test_a_line_of_the_same_colour_that_crosses_does_not_lead_astray() -> None:
    page = paper()
    places, other = curve(F_HZ, FERRITE), curve(F_HZ, 2e3 * (F_HZ / 3e7) ** -1.2)
    stroke(page, places, BLACK)
    stroke(page, other, BLACK)
    found = follow_line(image(page), (places[60][0], places[60][1]))
    assert np.median(np.abs(level_db(found, F_HZ, FERRITE))) < 0.1
    assert found[-1, 0] == pytest.approx(places[-1, 0], abs=3.0)


def test_a_dashed_line_is_bridged() -> None:
    page = paper()
    grid(page)
    fine = np.geomspace(1.2e6, 0.9e9, 2400)
    size = np.abs(ferrite(fine))
    stroke(page, curve(fine, size), BLUE, dash=7.0)
    places = curve(fine, size)
    inked = next(k for k in range(600, 700) if image(page)[int(places[k, 1]), int(places[k, 0]), 0] < 60)
    found = follow_line(image(page), (places[inked, 0], places[inked, 1]))
    assert found[-1, 0] - found[0, 0] > 0.95 * (places[-1, 0] - places[0, 0])
    assert np.sqrt(np.mean(level_db(found, fine, size) ** 2)) < 0.2


def test_a_sharp_dip_is_read_at_its_tip() -> None:
    f = np.geomspace(1e6, 1e9, 3000)
    z = np.abs(1.2 + 1j * (2 * np.pi * f * 9e-9 - 1 / (2 * np.pi * f * 220e-12)))
    page = paper()
    stroke(page, curve(f, z), BLUE)
    found = follow_line(image(page), tuple(curve(f[600:601], z[600:601])[0]))
    x, y = AXES.values(found)
    assert y.min() < 2.0
    assert x[np.argmin(y)] == pytest.approx(f[np.argmin(z)], rel=0.03)


def test_the_frame_in_the_colour_of_the_line_ends_it() -> None:
    page = paper()
    grid(page, BLACK)
    places = curve(F_HZ, FERRITE)
    stroke(page, places, BLACK)
    found = follow_line(image(page), (places[90][0], places[90][1]))
    assert np.median(np.abs(level_db(found, F_HZ, FERRITE))) < 0.2
    assert found[-1, 0] < WIDTH - 20


def test_a_place_without_a_line_is_refused() -> None:
    page = paper()
    stroke(page, curve(F_HZ, FERRITE), BLUE)
    with pytest.raises(DataError, match="no line there"):
        follow_line(image(page), (300.0, 380.0))
    with pytest.raises(DataError, match="outside"):
        follow_line(image(page), (-3.0, 10.0))


def test_other_colours_are_not_the_line() -> None:
    page = paper()
    stroke(page, np.array([[50.0, 100.0], [600.0, 100.0]]), RED, 5.0)
    stroke(page, np.array([[50.0, 200.0], [600.0, 200.0]]), BLUE, 5.0)
    cover = line_cover(image(page), (300.0, 100.0))
    assert cover[98:102, 300].min() > 0.9
    assert cover[190:210].max() == 0.0


def test_a_followed_bead_is_fitted() -> None:
    page = paper()
    grid(page)
    places = curve(F_HZ, FERRITE)
    stroke(page, places, BLUE)
    found = follow_line(image(page), tuple(places[300]))
    measurement = picture_measurement(AXES, found, source="made up")
    result = fit_part(measurement, "bead")
    ratio = np.abs(result.impedance(F_HZ)) / FERRITE
    assert np.sqrt(np.mean((20 * np.log10(ratio)) ** 2)) < 0.3
    assert any("read off a picture" in said for said in result.warnings)


def test_points_below_the_axis_are_left_out_or_refused() -> None:
    linear = Calibration(
        x=AXES.x, y=AxisMarks(first_px=(LEFT, BOTTOM), second_px=(LEFT, TOP), first=0.0, second=100.0, log=False)
    )
    below = np.array([[100.0, BOTTOM + 5.0]])
    with pytest.raises(DataError, match="no point above 0"):
        picture_measurement(linear, below, source="made up")
    both = np.vstack([below, [[100.0, BOTTOM - 50.0]]])
    assert "1 points at or below 0" in picture_measurement(linear, both, source="made up").warnings[0]
