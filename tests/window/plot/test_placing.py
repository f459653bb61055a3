"""Words on a plot stand where they hide least."""

import attrs
import numpy as np
import pytest
from PySide6.QtCore import QPointF, QRectF

from app.qt.plot.cursor import cursor_pixel, readout_box
from app.qt.plot.geometry import Frame, Trace, make_frame
from app.qt.plot.placing import Ground, around, freest
from tests.window import made_up

SPEC = made_up.impedance()
VIEW = ((1.0, 9.0), (-3.0, 7.0))


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
