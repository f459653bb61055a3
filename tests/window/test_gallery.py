from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from app.qt.dress import apply_theme
from app.qt.slider import ValueSlider
from app.qt.theme import CONTRAST, DARK, LIGHT, Theme
from tests.window.gallery import Gallery
from tests.window.hands import key

UNDO = "Undo drag capacitance"


@pytest.mark.parametrize("look", [LIGHT, DARK, CONTRAST], ids=lambda t: t.name)
@pytest.mark.parametrize("size", [(1440, 900), (1024, 700)])
def test_the_kit_stands_together(
    qtbot: QtBot, qapp: QApplication, fonts: tuple[str, ...], look: Theme, size: tuple[int, int]
) -> None:
    apply_theme(qapp, look)
    gallery = Gallery(look)
    qtbot.addWidget(gallery)
    gallery.resize(*size)
    gallery.show()
    assert (gallery.width(), gallery.height()) == size
    gallery.render_all()
    assert not gallery.grab().isNull()


def test_everything_that_takes_keys_has_a_name(qtbot: QtBot, theme: Theme) -> None:
    gallery = Gallery(theme)
    qtbot.addWidget(gallery)
    gallery.show()
    kinds = (QAbstractButton, QComboBox, QLineEdit, ValueSlider)
    named = [w for kind in kinds for w in gallery.findChildren(kind) if w.isVisible() and w.focusPolicy()]
    assert len(named) > 15
    nameless = [w for w in named if not (w.accessibleName() or _text(w))]
    assert nameless == []


def test_tab_goes_from_the_header_to_the_plots_and_answers_to_the_inspector(qtbot: QtBot, theme: Theme) -> None:
    gallery = Gallery(theme)
    qtbot.addWidget(gallery)
    gallery.show()
    gallery.activateWindow()
    qtbot.waitUntil(gallery.isActiveWindow)
    gallery.header.pill_row.pills()[0].setFocus()
    names = []
    for _ in range(14):
        focused = gallery.focusWidget()
        assert focused is not None
        names.append(focused.accessibleName())
        key(focused, Qt.Key.Key_Tab)
    assert names[:7] == [
        "Y-capacitor 2.2 nF",
        "Bead 600 Ω",
        "Copper",
        "Nothing",
        "Add a candidate",
        UNDO,
        "Choose the theme",
    ]
    assert names[7] == "Impedance between the regions"
    assert names.index("What the separation is for") < names.index("Duplicate: Candidate")


def _text(widget: QWidget) -> str:
    return widget.text() if isinstance(widget, QAbstractButton) else ""
