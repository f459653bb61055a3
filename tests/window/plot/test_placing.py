"""Words on a plot stand where they hide least."""

import attrs
import numpy as np
import pytest
from PySide6.QtCore import QPointF, QRectF

from app.present.specs import AxisSpec, BandSpec, LimitSpec
from app.qt.plot.cursor import cursor_pixel, readout_box
from app.qt.plot.geometry import Frame, Trace, make_frame
from app.qt.plot.guides import guide_line, guide_starts
from app.qt.plot.items import CurveInk
from app.qt.plot.names import place_names
from app.qt.plot.placing import Ground, around, freest
from tests.window import made_up

SPEC = made_up.impedance()
VIEW = ((1.0, 9.0), (-3.0, 7.0))
LEVELS = ((5.0, 8.0), (0.0, 120.0))


def frame_of(width: float) -> Frame:
    return make_frame(QRectF(50.0, 10.0, width, 300.0), SPEC.x, SPEC.y, VIEW)


def level(height: float) -> Trace:
    return Trace(x=np.array([50.0, 650.0]), y=np.array([height, height]))


def test_a_straight_line_of_two_points_is_seen_all_along() -> None:
    ground = Ground(frame_of(600.0), [level(100.0)])
    assert ground.hidden(QRectF(200.0, 90.0, 60.0, 20.0)) == pytest.approx(60 / 3, abs=2)
    assert ground.hidden(QRectF(200.0, 120.0, 60.0, 20.0)) == 0


def test_words_avoid_curves_and_what_is_taken() -> None:
    frame = frame_of(600.0)
    at = QPointF(300.0, 100.0)
    places = around(at, 80.0, 14.0, frame)
    ground = Ground(frame, [level(90.0)])
    free = freest(places, ground, [])
    assert free is not None
    assert ground.hidden(free) == 0
    again = freest(places, ground, [free])
    assert again is not None
    assert not again.intersects(free)
    assert freest(places, ground, [frame.rect()]) is None


def test_words_at_an_edge_stay_inside() -> None:
    frame = frame_of(600.0)
    for x, y in ((51.0, 11.0), (649.0, 309.0), (649.0, 11.0)):
        assert all(frame.rect().contains(place) for place in around(QPointF(x, y), 80.0, 14.0, frame))


@pytest.mark.parametrize("height", [40.0, 280.0])
def test_the_box_of_readings_goes_where_the_curves_are_not(height: float) -> None:
    frame = frame_of(600.0)
    ground = Ground(frame, [level(height)])
    spec = attrs.evolve(SPEC, marks=(), cursor_x=1e4)
    box = readout_box(frame, spec, ground)
    assert box is not None
    assert ground.hidden(box.place) == 0
    cursor = cursor_pixel(frame, spec)
    assert cursor is not None
    assert not box.place.contains(QPointF(cursor, box.place.center().y()))


def test_no_box_without_a_cursor() -> None:
    frame = frame_of(600.0)
    assert readout_box(frame, attrs.evolve(SPEC, cursor_x=None), Ground(frame)) is None


def test_a_sharp_peak_weighs_by_its_length() -> None:
    peak = Trace(x=np.array([50.0, 300.0, 302.0, 304.0, 650.0]), y=np.array([290.0, 290.0, 20.0, 290.0, 290.0]))
    ground = Ground(frame_of(600.0), [peak])
    assert ground.hidden(QRectF(280.0, 20.0, 40.0, 200.0)) > 2 * 200 / 3 * 0.9


def test_gaps_and_what_is_out_of_sight_weigh_nothing() -> None:
    gap = Trace(x=np.array([50.0, 200.0, 250.0, 300.0, 650.0]), y=np.array([100.0, 100.0, np.nan, 100.0, 100.0]))
    far = Trace(x=np.array([50.0, 650.0]), y=np.array([9000.0, 9000.0]))
    ground = Ground(frame_of(600.0), [gap, far])
    assert ground.hidden(QRectF(210.0, 90.0, 80.0, 20.0)) == 0
    assert ground.hidden(QRectF(50.0, 250.0, 600.0, 60.0)) == 0


@pytest.mark.parametrize("width", [260.0, 420.0, 700.0])
@pytest.mark.parametrize("cursor_hz", [12.0, 1e6, 4e7, 9e8])
def test_no_word_stands_on_another_nor_on_the_cursor(width: float, cursor_hz: float) -> None:
    frame = frame_of(width)
    spec = attrs.evolve(SPEC, cursor_x=cursor_hz, note="tinted: 5 to 95 % of 256 draws")
    names = place_names(frame, spec, [ink.points(frame) for ink in map(CurveInk, spec.curves)])
    cursor = QRectF(frame.x.pixel(cursor_hz) - 1, frame.top, 2, frame.bottom - frame.top)
    assert names.box is not None
    places = [cursor, names.box.place, *(name.place for name in names.texts)]
    assert not any(a.intersects(b) for n, a in enumerate(places) for b in places[:n])
    assert all(frame.rect().contains(name.place) for name in names.texts)
    assert all(name.ink == SPEC.marks[0].ink for name in names.texts if name.lines[0] in SPEC.marks[0].label)


def test_the_name_of_a_band_gives_way_to_the_cursor() -> None:
    frame = frame_of(600.0)
    band = BandSpec(label="conducted band", x_low=150e3, x_high=30e6)
    usual, beside = (
        place_names(frame, attrs.evolve(SPEC, bands=(band,), marks=(), guides=(), readouts=(), cursor_x=f_hz), [])
        for f_hz in (1e3, 2e5)
    )
    assert beside.texts[0].place.left() > frame.x.pixel(2e5) > usual.texts[0].place.left()


def test_a_guide_is_named_where_no_curve_runs() -> None:
    frame = frame_of(600.0)
    guide = next(each for each in SPEC.guides if each.label.endswith("H"))
    line = guide_line(frame, guide)
    assert line is not None
    (free,) = guide_starts(frame, [guide], Ground(frame), [])
    assert free is not None
    at = line.pointAt((free + 10.0) / line.length())
    (moved,) = guide_starts(frame, [guide], Ground(frame, [level(at.y())]), [])
    assert moved is not None
    assert moved < free
    assert guide_starts(frame, [guide], Ground(frame), [frame.rect()]) == (None,)


def test_names_of_two_limit_lines_close_together_stand_apart() -> None:
    frame = make_frame(QRectF(50.0, 10.0, 300.0, 90.0), SPEC.x, AxisSpec(unit="dBµV", low=0.0, high=120.0), LEVELS)
    x = np.array([150e3, 30e6])
    limits = tuple(LimitSpec(label=name, x=x, y=np.full(2, y)) for name, y in (("quasi-peak", 60.0), ("average", 50.0)))
    names = place_names(frame, attrs.evolve(SPEC, bands=(), marks=(), guides=(), cursor_x=None, limits=limits), [])
    assert [name.lines for name in names.texts] == [("quasi-peak",), ("average",)]
    assert not names.texts[0].place.intersects(names.texts[1].place)
