"""What comes of the bridges, looked at and changed by mouse and keys."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QMenu, QPushButton
from pytestqt.qtbot import QtBot

from app.present.specs import AxisSpec, CurveSpec, Ink, LimitSpec, PlotSpec
from app.qt.adding import Adding
from app.qt.consequences import Consequences
from app.qt.plot.view import PlotView
from app.qt.session import Session
from app.qt.theme import DARK, LIGHT, Theme
from app.state.chosen import MODES
from app.state.usual import BRIDGES
from models.assets import CASES
from models.case.document import Case, Pair
from models.case.read import load_case
from tests.window.card_hands import follow, mode_button, pick, settle
from tests.window.hands import click, key

SUPPLY = load_case(CASES / "earthed-or-floating.toml")
EMPTY = Case(pair=Pair(a="A", b="B"), candidates=(BRIDGES[0],))


@pytest.fixture
def case() -> Case:
    return SUPPLY


@pytest.mark.parametrize("mode", MODES)
def test_a_click_on_a_mode_shows_it(card: Consequences, session: Session, mode: str) -> None:
    click(mode_button(card, mode))
    settle(session)
    assert session.view.mode == mode
    assert card.modes.switch.choice() == mode
    assert card.plot.sheet().spec.empty == ""
    assert len(card.plot.inks()) >= 1
    assert not card.bars.grab().toImage().isNull()


def test_the_modes_are_walked_by_key(card: Consequences, session: Session) -> None:
    button = mode_button(card, "conducted")
    button.setFocus()
    key(button, Qt.Key.Key_Space)
    settle(session)
    assert session.view.mode == "conducted"
    assert card.accessibleName() == "Conducted noise, each line"


def test_a_narrow_card_folds_the_modes_into_one_word(card: Consequences, session: Session) -> None:
    assert card.modes.switch.isVisible()
    card.resize(278, 460)
    assert not card.modes.switch.isVisible()
    menu = card.modes.button.options()
    assert [action.text() for action in menu.actions()] == list(MODES)
    menu.actions()[3].trigger()
    settle(session)
    assert session.view.mode == "radiated"
    assert card.modes.button.text() == "radiated"
    assert card.modes.button.width() >= card.modes.button.sizeHint().width()


def test_a_title_without_room_beside_the_modes_stands_under_them(card: Consequences, session: Session) -> None:
    card.resize(430, 460)
    assert card.modes.switch.isVisible()
    assert (card.title.isVisible(), card.title.full_text()) == (True, "Common-mode voltage")
    assert card.note.full_text() == "output to primary: switch node"
    card.resize(900, 460)
    assert not card.title.isVisible()


def test_no_mode_moves_the_cards_around(card: Consequences, session: Session) -> None:
    least = set()
    for mode in (*MODES, *MODES):
        session.views.change(mode=mode)
        settle(session)
        least.add(card.minimumSizeHint().height())
    session.views.change(mode="waveform")
    settle(session)
    assert card.minimumSizeHint().height() == max(least)
    session.change("Fewer", lambda case: evolve(case, candidates=case.candidates[:1]))
    settle(session)
    assert card.minimumSizeHint().height() < max(least)


def test_limit_line_detector_and_distance_are_chosen_over_the_plot(card: Consequences, session: Session) -> None:
    click(mode_button(card, "radiated"))
    settle(session)
    pick(card, session, "Distance", "3 m")
    assert card.plot.sheet().spec.title == "Radiated field at 3 m"
    pick(card, session, "Limit line", "CISPR 32 class A, field at 10 m")
    assert session.view.radiated_line == "CISPR 32 class A, field at 10 m"
    assert card.plot.sheet().spec.title == "Radiated field at 10 m"
    pick(card, session, "Detector", "peak")
    assert session.view.detector == "peak"
    pick(card, session, "Limit line", "no limit line")
    assert card.plot.sheet().spec.limits == ()


def test_an_event_is_chosen_over_the_plot_and_what_stays_takes_its_place(card: Consequences, session: Session) -> None:
    click(mode_button(card, "event"))
    settle(session)
    assert "not a certification" in card.caution.full_text()
    pick(card, session, "Event", "surge")
    pick(card, session, "Test level", "2 kV")
    pick(card, session, "Into", "primary")
    assert card.note.full_text() == "IEC 61000-4-5"
    assert card.plot.sheet().spec.subtitle.startswith("Surge, 2 kV into primary")
    pick(card, session, "Shown", "what stays")
    assert card.table.isVisible()
    assert not card.plot.isVisible()
    assert not card.bars.isVisible()
    pick(card, session, "Shown", "ratings")
    assert card.plot.isVisible()
    chosen: list[int] = []
    card.candidate_chosen.connect(chosen.append)
    click(card.bars, card.bars.row_rect(0).center().toPoint())
    assert chosen == []


def test_a_drag_is_followed_by_every_candidate(card: Consequences, session: Session) -> None:
    click(mode_button(card, "event"))
    settle(session)
    before = [ink.curve.y for ink in card.plot.inks()]
    session.drag(("couplings", 1, "parts", 0, "capacitance_f"), 200e-12)
    session.timer.flush()
    assert session.timer.pending()
    settle(session)
    after = [ink.curve.y for ink in card.plot.inks()]
    assert all(not np.array_equal(a, b) for a, b in zip(before, after, strict=True))
    assert not session.timer.pending()


def test_a_click_on_a_bar_chooses_its_candidate(card: Consequences, session: Session) -> None:
    chosen: list[int] = []
    card.candidate_chosen.connect(chosen.append)
    click(mode_button(card, "conducted"))
    settle(session)
    click(card.bars, card.bars.row_rect(2).center().toPoint())
    assert chosen == [2]


def test_what_did_not_change_is_not_drawn_again(card: Consequences, session: Session) -> None:
    click(mode_button(card, "conducted"))
    settle(session)
    spec = card.plot.sheet().spec
    session.views.change(subject=("source", 0))
    settle(session)
    assert card.plot.sheet().spec is spec
    session.views.change(cursor_hz=2e6)
    settle(session)
    assert card.plot.sheet().spec is not spec


def test_an_empty_state_offers_what_lacks_and_the_offer_leads_to_curves(qtbot: QtBot, theme: Theme) -> None:
    session = Session(EMPTY)
    card = Consequences(theme, session)
    qtbot.addWidget(card)
    adding = Adding(session, card)
    card.action.connect(adding.add)
    follow(card, session)
    card.resize(560, 460)
    card.show()
    session.views.change(mode="conducted")
    settle(session)
    for offered in ("Add a switch node", "Add a mains lead"):
        button = next(each for each in card.findChildren(QPushButton) if each.isVisible())
        assert button.text() == offered
        button.setFocus()
        key(button, Qt.Key.Key_Space)
        settle(session)
    assert card.plot.sheet().spec.empty == ""
    assert session.store.undo_name == "Add cable Mains lead into a LISN"
    session.store.undo()
    session.store.undo()
    assert session.case == EMPTY


def test_the_menu_adds_each_thing_as_one_step_and_selects_it(qtbot: QtBot, theme: Theme) -> None:
    session = Session(EMPTY)
    owner = Consequences(theme, session)
    qtbot.addWidget(owner)
    button = Adding(session, owner).button()
    qtbot.addWidget(button)
    menu = button.menu()
    assert menu is not None
    groups = {action.text(): action.menu() for action in menu.actions()}
    assert list(groups) == ["Transformer", "Source", "Coupling", "Cable", "Requirement", "Mains", "Further region"]
    sources = groups["Source"]
    assert isinstance(sources, QMenu)
    next(action for action in sources.actions() if action.text() == "Ripple and load current").trigger()
    assert session.view.subject == ("source", 0)
    next(action for action in menu.actions() if action.text() == "Mains").trigger()
    menu.aboutToShow.emit()
    assert [action.text() for action in menu.actions() if action.isVisible()][-1] == "Further region"
    assert session.store.undo_name == "Add mains"
    session.store.undo()
    session.store.undo()
    assert session.case == EMPTY


def test_the_look_reaches_everything_inside(card: Consequences) -> None:
    card.set_theme(DARK)
    assert card.plot.sheet().theme is DARK
    assert card.grab().toImage().pixelColor(20, 8) == QColor(DARK.panel)


@pytest.fixture
def plot(qtbot: QtBot, theme: Theme) -> PlotView:
    view = PlotView(theme)
    qtbot.addWidget(view)
    view.resize(400, 300)
    return view


def banded(count: int) -> PlotSpec:
    x = np.geomspace(1.0, 100.0, count)
    y = np.full(count, 50.0)
    y[1::2] = 10.0 if count > 1000 else 50.0
    curve = CurveSpec(label="E", ink=Ink(slot=0), x=x, y=y, strong=True, tops=True, low=y - 10.0, high=y + 10.0)
    limit = LimitSpec(label="limit", x=np.array([1.0, 10.0, 10.0, 100.0]), y=np.array([80.0, 80.0, 90.0, 90.0]))
    axis = AxisSpec(unit="Hz", log=True, low=1.0, high=100.0)
    return PlotSpec(title="E", x=axis, y=AxisSpec(unit="dB", low=0.0, high=100.0), curves=(curve,), limits=(limit,))


def colour(view: PlotView, image: QImage, x: float, y: float) -> QColor:
    frame = view.sheet().frame
    return image.pixelColor(QPoint(round(frame.x.pixel(x)), round(frame.y.pixel(y))))


@pytest.mark.parametrize("count", [40, 4001])
def test_a_band_lies_around_the_tops_of_a_curve_however_many_points_it_has(plot: PlotView, count: int) -> None:
    plot.render(banded(count))
    plot.show()
    image = plot.grab().toImage()
    tinted, bare = QColor(LIGHT.inks[0]), QColor(LIGHT.panel)
    for y in (43.0, 57.0):
        seen = colour(plot, image, 33.0, y)
        assert bare.blue() >= seen.blue() > tinted.blue()
        assert seen.red() < bare.red()
    for y in (33.0, 67.0):
        assert colour(plot, image, 33.0, y) == bare


def test_a_limit_line_steps_and_is_drawn_over_the_plot(plot: PlotView) -> None:
    spec = banded(40)
    plot.render(evolve(spec, limits=(evolve(spec.limits[0], strong=True),)))
    plot.show()
    image = plot.grab().toImage()
    for x, y in ((3.3, 80.0), (33.0, 90.0), (10.0, 85.0)):
        assert colour(plot, image, x, y).red() > colour(plot, image, x, y).green() + 60
    assert colour(plot, image, 33.0, 76.0) == QColor(LIGHT.panel)


def test_a_note_of_which_next_to_nothing_would_be_seen_is_left_out(card: Consequences, session: Session) -> None:
    session.views.change(mode="event")
    settle(session)
    pick(card, session, "Shown", "what stays")
    for width, seen in ((900, "IEC 61000-4-2"), (430, "")):
        card.resize(width, 460)
        assert card.note.full_text() == seen
