from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest
from attrs import frozen
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QContextMenuEvent, QHelpEvent, QImage, QPainter
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from app.present.section import Drafter
from app.present.section_specs import DrawingSpec, ItemKey, ItemSpec
from app.qt.section import SectionView, text_width
from app.qt.section_draw import draw_section, rounded
from app.qt.section_layers import Layers
from app.qt.theme import CONTRAST, DARK, LIGHT, Theme
from app.state.results import Desk
from app.state.view import View
from models.case.document import Branch, Candidate, Case, Pair
from models.case.read import parse_case
from models.parts.registry import PARTS
from tests.window.hands import click, key

GATEWAY = Path(__file__).parents[2] / "assets" / "cases" / "gateway.toml"
CASE = parse_case(GATEWAY.read_text(encoding="utf-8"), GATEWAY.name)
CTRL = Qt.KeyboardModifier.ControlModifier


@frozen(kw_only=True, eq=False)
class Told:
    """What a view said."""

    chosen: list[tuple[str, int]]
    parts: list[tuple[int, int]]
    menus: list[tuple[str, int, int]]
    edits: list[tuple[str, int, int]]


def show(view: SectionView, case: Case = CASE, *, state: View | None = None) -> None:
    state = state or View(cursor_hz=1.2e6)
    drafter = Drafter(text_width)
    readings = Desk().readings(case, state.cursor_hz)

    def draw(size: tuple[float, float], chosen: ItemKey | None) -> DrawingSpec:
        return drafter.draw(case, readings, state, size, chosen=chosen)

    view.render(draw, drafter.height(case, state, 1000.0))


@pytest.fixture
def section(qtbot: QtBot, theme: Theme) -> SectionView:
    view = SectionView(theme)
    qtbot.addWidget(view)
    view.resize(1056, 190)
    view.show()
    show(view)
    return view


def told(view: SectionView) -> Told:
    said = Told(chosen=[], parts=[], menus=[], edits=[])
    view.chosen.connect(lambda kind, index: said.chosen.append((kind, index)))
    view.part_chosen.connect(lambda branch, part: said.parts.append((branch, part)))
    view.menu_requested.connect(lambda kind, index, part, _at: said.menus.append((kind, index, part)))
    view.edit_requested.connect(lambda name, branch, part: said.edits.append((name, branch, part)))
    return said


def item(view: SectionView, kind: str, index: int = 0, part: int = -1) -> ItemSpec:
    wanted = ItemKey(kind=kind, index=index, part=part)
    return next(each for each in view.spec().items if each.key == wanted)


def test_a_click_chooses_what_is_there(section: SectionView) -> None:
    said = told(section)
    for wanted in (
        item(section, "transformer"),
        item(section, "coupling", 1),
        item(section, "coupling", 3),
        item(section, "source"),
        item(section, "case", 0, 1),
    ):
        click(section, section.place_of(wanted))
    assert said.chosen == [("transformer", 0), ("coupling", 1), ("coupling", 3), ("source", 0), ("case", 0)]


def test_a_click_on_a_part_tells_branch_and_place_and_frames_it(section: SectionView) -> None:
    said = told(section)
    click(section, section.place_of(item(section, "branch", 0, 1)))
    assert said.parts == [(0, 1)]
    assert [each.key for each in section.spec().items if each.selected] == [ItemKey(kind="branch", index=0, part=1)]


def test_a_click_into_the_gap_asks_what_to_add(section: SectionView) -> None:
    said = told(section)
    click(section, section.place_of(item(section, "gap")))
    assert said.menus == [("gap", 0, -1)]


def test_a_click_beside_everything_chooses_nothing(section: SectionView) -> None:
    said = told(section)
    click(section, QPoint(2, 2))
    assert (said.chosen, said.parts, said.menus) == ([], [], [])


def test_the_arrows_reach_everything(section: SectionView) -> None:
    section.setFocus()
    met = []
    for _ in section.spec().items:
        at = section.current()
        assert at is not None
        met.append(at.key)
        assert section.accessibleDescription() == at.name
        key(section, Qt.Key.Key_Right)
    assert sorted(met, key=repr) == sorted((each.key for each in section.spec().items), key=repr)
    first = section.current()
    assert first is not None
    assert first.key == met[0]


def test_up_and_down_go_to_what_is_nearest_there(section: SectionView) -> None:
    section.setFocus()
    key(section, Qt.Key.Key_Home)
    ways = []
    for _ in range(4):
        at = section.current()
        assert at is not None
        ways.append(at.key.kind)
        key(section, Qt.Key.Key_Down)
    assert ways[0] == "transformer"
    assert ways[1] == "branch"
    assert "coupling" in ways


def test_enter_chooses_and_edits_have_keys(section: SectionView) -> None:
    said = told(section)
    section.setFocus()
    key(section, Qt.Key.Key_Home)
    key(section, Qt.Key.Key_Return)
    key(section, Qt.Key.Key_Right)
    key(section, Qt.Key.Key_Right)
    key(section, Qt.Key.Key_Space)
    for pressed, held in (
        (Qt.Key.Key_D, CTRL),
        (Qt.Key.Key_Right, CTRL),
        (Qt.Key.Key_Left, CTRL),
        (Qt.Key.Key_Delete, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_Insert, Qt.KeyboardModifier.NoModifier),
    ):
        key(section, pressed, held)
    assert said.chosen == [("transformer", 0)]
    assert said.parts == [(0, 0)]
    assert said.edits == [(name, 0, 0) for name in ("duplicate", "later", "earlier", "remove", "add")]


def test_nothing_is_removed_where_no_part_is(section: SectionView) -> None:
    said = told(section)
    section.setFocus()
    key(section, Qt.Key.Key_Home)
    key(section, Qt.Key.Key_Delete)
    assert said.edits == []


def test_the_menu_comes_by_mouse_and_by_key(section: SectionView) -> None:
    said = told(section)
    place = section.place_of(item(section, "branch", 0, 0))
    reasons = QContextMenuEvent.Reason
    QApplication.sendEvent(section, QContextMenuEvent(reasons.Mouse, place, section.mapToGlobal(place)))
    QApplication.sendEvent(section, QContextMenuEvent(reasons.Keyboard, QPoint(0, 0), QPoint(0, 0)))
    assert said.menus == [("branch", 0, 0), ("branch", 0, 0)]


def test_the_card_tells_the_numbers(section: SectionView, monkeypatch: pytest.MonkeyPatch) -> None:
    cards: list[str] = []
    # a tip raises its window, which a platform without a screen complains about
    monkeypatch.setattr(
        "app.qt.section.QToolTip", SimpleNamespace(showText=lambda _at, text, _owner: cards.append(text))
    )
    place = section.place_of(item(section, "branch", 0, 0))
    QApplication.sendEvent(section, QHelpEvent(QHelpEvent.Type.ToolTip, place, section.mapToGlobal(place)))
    assert cards[0].split("\n")[:2] == ["Capacitor 2.2 nF Y1, branch 1", "97 % of the return current"]


def test_tab_passes_through(qtbot: QtBot, theme: Theme) -> None:
    sheet, before, after, view = QWidget(), QPushButton("before"), QPushButton("after"), SectionView(theme)
    qtbot.addWidget(sheet)
    column = QVBoxLayout(sheet)
    for widget in (before, view, after):
        column.addWidget(widget)
    sheet.resize(900, 320)
    sheet.show()
    show(view)
    sheet.activateWindow()
    qtbot.waitUntil(sheet.isActiveWindow)
    before.setFocus()
    key(before, Qt.Key.Key_Tab)
    assert view.hasFocus()
    assert view.current() is not None
    key(view, Qt.Key.Key_Tab)
    assert after.hasFocus()


def test_assistive_tools_hear_where_the_current_goes(section: SectionView) -> None:
    section.clearFocus()
    show(section)
    assert section.accessibleName() == "Section of the board"
    assert section.accessibleDescription().startswith("branch 1 2.2 nF, 6 nH, 97 % of the current; T1 60 pF, 2.6 %")


def test_what_is_too_high_scrolls_and_the_keys_bring_it_into_sight(section: SectionView) -> None:
    many = Candidate(name="many", branches=tuple(Branch(parts=CASE.candidates[0].branches[0].parts) for _ in range(12)))
    case = Case(pair=Pair(a="a", b="b"), candidates=(many,))
    section.resize(640, 150)
    show(section, case)
    assert section.spec().height > section.height()
    section.setFocus()
    for pressed in (Qt.Key.Key_End, Qt.Key.Key_Home):
        key(section, pressed)
        at = section.current()
        assert at is not None
        assert section.rect().contains(section.place_of(at))


def test_another_size_lays_it_out_anew(section: SectionView) -> None:
    notes = {text.text for text in section.spec().texts}
    assert "310 V, 100 kHz" in notes
    section.resize(500, 150)
    assert section.spec().width == 500
    assert "310 V, 100 kHz" not in {text.text for text in section.spec().texts}
    assert section.minimumSizeHint().height() == 150


@pytest.mark.parametrize("look", [LIGHT, DARK, CONTRAST], ids=lambda look: look.name)
def test_the_layers_show_what_one_painting_shows(section: SectionView, look: Theme) -> None:
    spec = section.spec()
    pictures = []
    for paint in (draw_section, Layers().paint):
        image = QImage(1056, 190, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(look.color("panel"))
        painter = QPainter(image)
        paint(painter, look, spec)
        painter.end()
        pictures.append(image)
    one, other = pictures
    apart = [
        abs(one.pixelColor(x, y).lightness() - other.pixelColor(x, y).lightness())
        for x in range(0, 1056, 3)
        for y in range(0, 190, 2)
    ]
    # edges of letters blend a little differently on a transparent ground
    assert max(apart) < 60
    assert sum(apart) / len(apart) < 1.0


def test_the_ink_of_the_candidate_is_on_the_wire(section: SectionView) -> None:
    ribbon = next(each for each in section.spec().ribbons if each.key.kind == "branch")
    x = round(ribbon.points[0][0] + ribbon.width * 0.36)
    y = round((ribbon.points[0][1] + ribbon.points[1][1]) / 2)
    seen = section.grab().toImage().pixelColor(x, y)
    assert seen.blue() > seen.red() + 20


def test_every_kind_of_part_has_a_sign_of_its_own(theme: Theme) -> None:
    from app.present.section_specs import SymbolSpec
    from app.qt.section_symbols import draw_symbol

    kinds = [*PARTS, "transformer", "series", "a kind that is not there"]
    pictures = []
    for kind in kinds:
        image = QImage(44, 28, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(theme.color("panel"))
        painter = QPainter(image)
        draw_symbol(painter, theme, SymbolSpec(kind=kind, at=(22.0, 14.0), length=36.0, height=18.0))
        painter.end()
        pictures.append(bytes(image.constBits()))
    named = {kind: picture for kind, picture in zip(kinds, pictures, strict=True) if picture != pictures[-1]}
    assert len(set(named.values())) == len(named)
    assert {"capacitor", "resistor", "inductor", "bead", "copper", "via", "common-mode-choke"} <= set(named)


def test_corners_are_rounded_and_ends_kept() -> None:
    path = rounded(((0.0, 0.0), (0.0, 100.0), (100.0, 100.0)), 20.0)
    assert path.elementAt(0).x == 0.0
    assert path.currentPosition() == QPointF(100.0, 100.0)
    assert not path.contains(QPointF(0.5, 99.5))
