from __future__ import annotations

import attrs
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QToolButton
from pytestqt.qtbot import QtBot

from app.present.specs import FieldSpec, FormSpec
from app.qt.field import ValueField
from app.qt.inspector import Inspector
from app.qt.theme import DARK, Theme
from tests.window import made_up
from tests.window.hands import click, key, type_text


@pytest.fixture
def inspector(qtbot: QtBot, theme: Theme) -> Inspector:
    made = Inspector(theme)
    qtbot.addWidget(made)
    made.resize(300, 720)
    made.render(made_up.form())
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def found(inspector: Inspector, spec: FieldSpec) -> ValueField:
    field = inspector.field(spec.path)
    assert field is not None
    return field


def with_capacitance(spec: FieldSpec) -> FormSpec:
    form = made_up.form()
    capacitor = form.sections[1]
    changed = attrs.evolve(capacitor, fields=(spec, *capacitor.fields[1:]))
    return attrs.evolve(form, sections=(form.sections[0], changed, form.sections[2]))


def button(inspector: Inspector, name: str) -> QToolButton:
    return next(b for b in inspector.findChildren(QToolButton) if b.accessibleName() == name)


def test_the_same_fields_are_updated_in_place(inspector: Inspector) -> None:
    before = found(inspector, made_up.capacitance())
    inspector.render(with_capacitance(made_up.capacitance(1e-9, "1 nF")))
    after = found(inspector, made_up.capacitance())
    assert after is before
    editor = after.editor()
    assert isinstance(editor, QLineEdit)
    assert editor.text() == "1 nF"


def test_other_fields_build_another_page_and_the_focus_stays_with_its_value(inspector: Inspector) -> None:
    found(inspector, made_up.resistance()).setFocus()
    form = made_up.form()
    inspector.render(attrs.evolve(form, sections=form.sections[1:]))
    assert found(inspector, made_up.resistance()).editor().hasFocus()


def test_a_half_typed_text_is_not_told_when_the_page_goes(inspector: Inspector) -> None:
    told: list[str] = []
    inspector.typed.connect(lambda _path, text: told.append(text))
    field = found(inspector, made_up.capacitance())
    field.setFocus()
    type_text(field.editor(), "7")
    inspector.render(FormSpec(title="Nothing selected"))
    assert told == []
    assert inspector.field(made_up.capacitance().path) is None


def test_typing_and_dragging_are_told_with_the_path(inspector: Inspector) -> None:
    typed: list[tuple[object, str]] = []
    dragged: list[tuple[object, float]] = []
    ends: list[int] = []
    inspector.typed.connect(lambda path, text: typed.append((path, text)))
    inspector.dragged.connect(lambda path, value: dragged.append((path, value)))
    inspector.drag_ended.connect(lambda: ends.append(1))
    field = found(inspector, made_up.capacitance())
    field.setFocus()
    editor = field.editor()
    assert isinstance(editor, QLineEdit)
    editor.selectAll()
    type_text(editor, "1n")
    key(editor, Qt.Key.Key_Return)
    slider = field.slider()
    assert slider is not None
    key(slider, Qt.Key.Key_Right)
    assert typed == [(made_up.capacitance().path, "1n")]
    assert [path for path, _ in dragged] == [made_up.capacitance().path]
    assert [value for _, value in dragged] == pytest.approx([3.3e-9])
    assert ends == [1]


def test_actions(inspector: Inspector) -> None:
    told: list[str] = []
    inspector.action.connect(told.append)
    click(button(inspector, "Duplicate: Candidate"))
    click(button(inspector, "Remove: Copper to the plane"))
    menu = button(inspector, "Change Capacitor").menu()
    assert [action.text() for action in menu.actions()] == ["Move up", "Move down", "Remove"]
    menu.actions()[1].trigger()
    assert told == ["duplicate", "remove-part:0:1", "down"]


def test_a_mistake_finds_its_field(inspector: Inspector) -> None:
    inspector.show_error(made_up.resistance().path, "found -1; accepted: 0 or more")
    assert found(inspector, made_up.resistance()).error() == "found -1; accepted: 0 or more"
    assert found(inspector, made_up.capacitance()).error() == ""
    inspector.show_error(("nowhere",), "lost")


def test_a_long_mistake_gets_the_height_it_needs(inspector: Inspector, qtbot: QtBot) -> None:
    inspector.resize(300, 300)
    field = found(inspector, made_up.capacitance())
    before = field.height()
    field.show_error('found "2x2"; accepted: a capacitance such as 2.2 nF, 2n2 or 2.2e-9, and a few words more')
    qtbot.waitUntil(lambda: field.height() > before)


def test_tab_goes_from_field_to_field(inspector: Inspector) -> None:
    found(inspector, made_up.capacitance()).setFocus()
    names = []
    for _ in range(4):
        focused = inspector.focusWidget()
        assert focused is not None
        names.append(focused.accessibleName())
        key(focused, Qt.Key.Key_Tab)
    assert names == ["Capacitance", "Capacitance, slider", "ESR", "ESR, slider"]


def test_the_caution_stays_in_sight(inspector: Inspector) -> None:
    inspector.resize(300, 360)
    from app.qt.panel import Words

    words = [w for w in inspector.findChildren(Words) if w.text().startswith("An estimate for design")]
    assert len(words) == 1
    assert inspector.rect().contains(words[0].geometry())
    assert words[0].isVisible()


def test_it_can_be_dressed_anew(inspector: Inspector) -> None:
    before = inspector.grab().toImage()
    inspector.set_theme(DARK)
    assert inspector.grab().toImage() != before
