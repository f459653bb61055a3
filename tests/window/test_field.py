from __future__ import annotations

from pathlib import Path

import attrs
import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QComboBox, QFileDialog, QLineEdit, QToolButton
from pytestqt.qtbot import QtBot

from app.present.specs import FieldSpec
from app.qt.field import ChoiceBox, ValueField
from app.qt.theme import Theme
from models.codec import KeyPath
from tests.window import made_up
from tests.window.hands import click, key, send, type_text


@pytest.fixture
def field(qtbot: QtBot, theme: Theme) -> ValueField:
    return shown(qtbot, theme, made_up.capacitance())


def shown(qtbot: QtBot, theme: Theme, spec: FieldSpec) -> ValueField:
    made = ValueField(theme, spec)
    qtbot.addWidget(made)
    made.resize(300, 90)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def line(field: ValueField) -> QLineEdit:
    editor = field.editor()
    assert isinstance(editor, QLineEdit)
    return editor


def told(field: ValueField) -> list[tuple[KeyPath, str]]:
    texts: list[tuple[KeyPath, str]] = []
    field.typed.connect(lambda path, text: texts.append((path, text)))
    return texts


def retype(field: ValueField, text: str) -> None:
    field.setFocus()
    line(field).selectAll()
    type_text(line(field), text)


def test_nothing_is_told_while_a_person_types(field: ValueField) -> None:
    texts = told(field)
    retype(field, "4n7")
    assert texts == []
    key(line(field), Qt.Key.Key_Return)
    assert texts == [(made_up.capacitance().path, "4n7")]


def test_leaving_the_line_tells_what_was_typed_once(field: ValueField) -> None:
    texts = told(field)
    retype(field, "4n7")
    key(line(field), Qt.Key.Key_Return)
    line(field).clearFocus()
    assert len(texts) == 1


def test_leaving_it_as_it_was_tells_nothing(field: ValueField) -> None:
    texts = told(field)
    field.setFocus()
    line(field).clearFocus()
    retype(field, "2.2 nF")
    key(line(field), Qt.Key.Key_Return)
    assert texts == []


def test_an_accepted_text_is_shown_as_the_document_has_it(field: ValueField) -> None:
    field.typed.connect(lambda _path, _text: field.render(made_up.capacitance(4.7e-9, "4.7 nF")))
    retype(field, "4n7")
    key(line(field), Qt.Key.Key_Return)
    assert line(field).text() == "4.7 nF"


def test_a_mistake_stands_beside_the_field_and_stays_to_be_mended(field: ValueField) -> None:
    texts = told(field)
    field.typed.connect(lambda _path, _text: field.show_error("found 2x2; accepted: 2.2 nF"))
    retype(field, "2x2")
    key(line(field), Qt.Key.Key_Return)
    assert field.error() == "found 2x2; accepted: 2.2 nF"
    assert line(field).property("wrong") is True
    field.render(made_up.capacitance())
    line(field).clearFocus()
    assert line(field).text() == "2x2"
    assert field.error()
    assert len(texts) == 1
    retype(field, "2n2")
    assert field.error() == ""


def test_escape_restores(field: ValueField) -> None:
    texts = told(field)
    retype(field, "9 n")
    key(line(field), Qt.Key.Key_Escape)
    assert line(field).text() == "2.2 nF"
    field.show_error("wrong")
    key(line(field), Qt.Key.Key_Escape)
    assert field.error() == ""
    line(field).clearFocus()
    assert texts == []


def test_results_that_come_in_leave_a_half_typed_text_alone(field: ValueField) -> None:
    retype(field, "4")
    field.render(made_up.capacitance())
    assert line(field).text() == "4"


def test_another_value_replaces_text_and_mistake(field: ValueField) -> None:
    field.show_error("wrong")
    field.render(made_up.capacitance(1e-9, "1 nF"))
    assert line(field).text() == "1 nF"
    assert field.error() == ""


def test_a_drag_is_told_while_it_goes_and_rendering_does_not_fight_it(field: ValueField) -> None:
    values: list[float] = []
    ends: list[int] = []
    field.drag_ended.connect(lambda: ends.append(1))

    def accept(path: KeyPath, value: float) -> None:
        values.append(value)
        field.render(made_up.capacitance(value, f"{value:.3g} F"))

    field.dragged.connect(accept)
    slider = field.slider()
    assert slider is not None
    send(slider, QEvent.Type.MouseButtonPress, QPoint(150, 10))
    for x in range(150, 250, 5):
        send(slider, QEvent.Type.MouseMove, QPoint(x, 10))
        assert slider.knob_x() == pytest.approx(x, abs=1.0)
        assert line(field).text() == f"{values[-1]:.3g} F"
    assert ends == []
    send(slider, QEvent.Type.MouseButtonRelease, QPoint(250, 10))
    assert ends == [1]
    assert field.slider() is slider


def test_up_and_down_in_the_line_step_through_standard_values(field: ValueField) -> None:
    values: list[float] = []
    field.dragged.connect(lambda _path, value: values.append(value))
    field.setFocus()
    key(line(field), Qt.Key.Key_Up)
    key(line(field), Qt.Key.Key_Down)
    key(line(field), Qt.Key.Key_Down)
    assert values == pytest.approx([3.3e-9, 2.2e-9, 1.5e-9])


def test_undo_goes_to_the_case_unless_something_is_half_typed(field: ValueField) -> None:
    def taken() -> bool:
        event = QKeyEvent(QEvent.Type.ShortcutOverride, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        event.ignore()
        QApplication.sendEvent(line(field), event)
        return event.isAccepted()

    field.setFocus()
    assert not taken()
    retype(field, "3")
    assert taken()


def test_a_choice(qtbot: QtBot, theme: Theme) -> None:
    field = shown(qtbot, theme, made_up.safety_class())
    texts = told(field)
    box = field.editor()
    assert isinstance(box, QComboBox)
    assert box.currentText() == "Y1"
    field.setFocus()
    key(box, Qt.Key.Key_Down)
    assert [text for _, text in texts] == ["Y2"]
    field.render(attrs.evolve(made_up.safety_class(), text="none"))
    assert box.currentText() == "none"
    assert len(texts) == 1


def test_a_value_that_is_not_set_can_be_emptied_again(qtbot: QtBot, theme: Theme) -> None:
    spec = attrs.evolve(made_up.capacitance(), optional=True)
    field = shown(qtbot, theme, spec)
    texts = told(field)
    field.setFocus()
    line(field).selectAll()
    key(line(field), Qt.Key.Key_Delete)
    key(line(field), Qt.Key.Key_Return)
    assert [text for _, text in texts] == [""]
    assert line(field).placeholderText() == "not set"


def test_assistive_tools_hear_label_note_and_mistake(field: ValueField) -> None:
    assert line(field).accessibleName() == "Capacitance"
    assert "window" in line(field).accessibleDescription()
    slider = field.slider()
    assert slider is not None
    assert slider.accessibleDescription() == "2.2 nF"
    field.show_error("found 2x2")
    assert line(field).accessibleDescription() == "found 2x2"


@pytest.mark.parametrize(("where", "name"), [("near", "data/wave.csv"), ("far", None)])
def test_a_file_is_browsed_for_and_named_from_its_folder(
    qtbot: QtBot, theme: Theme, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, where: str, name: str | None
) -> None:
    chosen = tmp_path / where / "data" / "wave.csv"
    asked: list[tuple[str, str]] = []

    def ask(_owner: object, title: str, start: str, _files: str) -> tuple[str, str]:
        asked.append((title, start))
        return str(chosen), ""

    monkeypatch.setattr(QFileDialog, "getOpenFileName", ask)
    folder = tmp_path / "near"
    spec = FieldSpec(
        path=("sources", 0, "table"), label="File", text="old.csv", help="a table", files="*.csv", folder=str(folder)
    )
    field = shown(qtbot, theme, spec)
    texts = told(field)
    (button,) = field.findChildren(QToolButton)
    assert button.accessibleName() == "Browse for file"
    click(button)
    assert asked == [("A table", str(folder))]
    assert texts == [(spec.path, name or str(chosen.resolve()))]
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: ("", ""))
    click(button)
    assert len(texts) == 1


def test_only_a_file_has_a_button(field: ValueField) -> None:
    assert field.findChildren(QToolButton) == []


@pytest.mark.parametrize("count", [2, 4, 9])
def test_a_list_shows_every_option_whole(qtbot: QtBot, theme: Theme, count: int) -> None:
    box = ChoiceBox(theme)
    qtbot.addWidget(box)
    box.addItems([f"option {number} that is longer than its box is wide" for number in range(count)])
    box.resize(120, 28)
    box.show()
    box.showPopup()
    view = box.view()
    seen = view.viewport().rect()
    for row in range(count):
        assert seen.contains(view.visualRect(view.model().index(row, 0)))
    assert seen.width() >= view.sizeHintForColumn(0)
    assert view.mapToGlobal(QPoint(0, 0)).y() >= box.mapToGlobal(QPoint(0, box.height())).y() - 1
    box.hidePopup()
