"""Help is one key away, and every control has a name and can be reached."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QDialog, QLabel, QLineEdit, QWidget

from app.present.help import SHORTCUTS
from app.qt.window import MainWindow
from tests.window.hands import key

CAPACITANCE = ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f")


def help_of(window: MainWindow) -> str:
    QApplication.processEvents()
    (dialog,) = [each for each in window.findChildren(QDialog) if each.isVisible()]
    return dialog.windowTitle() + "\n" + "\n".join(each.text() for each in dialog.findChildren(QLabel))


def test_f1_on_a_field_tells_what_it_means_with_the_equation(window: MainWindow) -> None:
    field = window.inspector.field(CAPACITANCE)
    assert field is not None
    field.editor().setFocus()
    key(field.editor(), Qt.Key.Key_F1)
    text = help_of(window)
    assert "Capacitance" in text
    assert "jωESL" in text


def test_f1_elsewhere_shows_every_key(window: MainWindow) -> None:
    window.impedance.plot.setFocus()
    key(window.impedance.plot, Qt.Key.Key_F1)
    text = help_of(window)
    assert all(word in text for group in SHORTCUTS for pair in group.keys for word in pair)


def test_every_control_has_a_name_and_can_be_reached(window: MainWindow) -> None:
    controls = [
        each
        for kind in (QAbstractButton, QLineEdit, QComboBox)
        for each in window.findChildren(kind)
        if each.isVisible() and each.isEnabled()
    ]
    assert len(controls) > 20
    reached: set[QWidget] = set()
    at: QWidget | None = window.impedance.plot
    while at is not None and at not in reached:
        reached.add(at)
        at = at.nextInFocusChain()
    for each in controls:
        name = each.accessibleName() or (each.text() if isinstance(each, QAbstractButton) else "")
        assert name, each
        assert each in reached


def test_the_look_follows_the_system_while_that_is_chosen(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    put_on: list[str] = []
    monkeypatch.setattr(window, "_put_on", put_on.append)
    hints = QGuiApplication.styleHints()
    hints.colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert put_on == ["system"]
    window.session.views.change(theme="light")
    window.session.timer.flush()
    put_on.clear()
    hints.colorSchemeChanged.emit(Qt.ColorScheme.Light)
    assert put_on == []
