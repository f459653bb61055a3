from __future__ import annotations

import attrs
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.qt.bars import BarsView
from app.qt.theme import LIGHT, Theme
from tests.window import made_up
from tests.window.hands import click


@pytest.fixture
def bars(qtbot: QtBot, theme: Theme) -> BarsView:
    view = BarsView(theme)
    qtbot.addWidget(view)
    view.render(made_up.bars())
    view.resize(420, view.sizeHint().height())
    view.show()
    return view


def picture(view: BarsView) -> QImage:
    return view.grab().toImage()


def test_bars_are_as_long_as_their_share(bars: BarsView) -> None:
    widths = [bars.bar_rect(k).width() for k in range(4)]
    assert widths[1] / widths[0] == pytest.approx(0.82 / 0.52)
    limit = bars.limit_x()
    assert limit is not None
    assert bars.bar_rect(0).right() < limit < bars.bar_rect(1).right()


def test_a_share_beyond_the_width_ends_at_it(bars: BarsView) -> None:
    bars.render(made_up.bars((5.0, 1.0, -1.0, 0.0)))
    assert bars.bar_rect(0).width() == bars.bar_rect(1).width()
    assert bars.bar_rect(2).width() == 2.0


def test_each_bar_has_its_colour(bars: BarsView) -> None:
    image = picture(bars)
    for k in range(4):
        place = bars.bar_rect(k)
        seen = image.pixelColor(int(place.left()) + 6, int(place.center().y()))
        assert seen == QColor(LIGHT.inks[k])


def test_what_is_beyond_the_limit_is_hatched(bars: BarsView) -> None:
    image, place, limit = picture(bars), bars.bar_rect(1), bars.limit_x()
    assert limit is not None
    y = int(place.center().y())
    beyond = {image.pixelColor(x, y).name() for x in range(int(limit) + 3, int(place.right()) - 1)}
    below = {image.pixelColor(x, y).name() for x in range(int(place.left()) + 5, int(limit) - 3)}
    assert len(below) == 1
    assert len(beyond) > 1


def test_the_worst_and_the_strong_look_different(bars: BarsView) -> None:
    spec = made_up.bars()
    before = picture(bars)
    bars.render(attrs.evolve(spec, bars=tuple(attrs.evolve(b, worst=False) for b in spec.bars)))
    calm = picture(bars)
    assert before != calm
    bars.render(attrs.evolve(spec, bars=tuple(attrs.evolve(b, worst=False, strong=False) for b in spec.bars)))
    assert calm != picture(bars)


def test_assistive_tools_hear_every_number_and_the_limit(bars: BarsView) -> None:
    assert bars.accessibleName() == "Peak"
    assert "Nothing 82.9 V, the worst" in bars.accessibleDescription()
    assert bars.accessibleDescription().endswith("wanted: under 3 V")


def test_a_click_tells_the_row(bars: BarsView) -> None:
    rows: list[int] = []
    bars.bar_activated.connect(rows.append)
    click(bars, bars.row_rect(2).center().toPoint())
    click(bars, QPoint(3, 3))
    assert rows == [2]


def test_the_height_follows_the_rows(bars: BarsView) -> None:
    tall = bars.sizeHint().height()
    bars.render(attrs.evolve(made_up.bars(), bars=made_up.bars().bars[:2]))
    assert bars.sizeHint().height() < tall
    bars.resize(200, 100)
    assert not picture(bars).isNull()


def test_the_pointer_shows_where_a_click_chooses(bars: BarsView) -> None:
    chosen: list[int] = []
    bars.bar_activated.connect(chosen.append)
    row, head = bars.row_rect(1).center().toPoint(), QPoint(20, 8)
    for offers, at, shape in (
        (True, row, Qt.CursorShape.PointingHandCursor),
        (True, head, Qt.CursorShape.ArrowCursor),
        (False, row, Qt.CursorShape.ArrowCursor),
    ):
        bars.let_choose(chooses=offers)
        QTest.mouseMove(bars, at + QPoint(3, 0))
        QTest.mouseMove(bars, at)
        assert bars.cursor().shape() == shape
        click(bars, at)
    assert chosen == [1]
