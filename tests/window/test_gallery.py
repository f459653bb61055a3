from __future__ import annotations

import pytest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from app.qt.dress import apply_theme
from app.qt.slider import ValueSlider
from app.qt.theme import CONTRAST, DARK, LIGHT, Theme
from tests.window.gallery import Gallery


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


def _text(widget: QWidget) -> str:
    return widget.text() if isinstance(widget, QAbstractButton) else ""
