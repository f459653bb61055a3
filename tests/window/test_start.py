from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication

from app.qt import start
from app.qt.theme import WINDOW_PX


def test_this_binding_keeps_its_references() -> None:
    assert abs(start.references_lost(300)) < 30
    start.refuse_broken_binding()


def test_a_binding_that_loses_references_is_refused_in_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(start, "references_lost", lambda: 300)
    with pytest.raises(start.BrokenBindingError, match=r"install PySide6-Essentials>=6\.10,<6\.12") as caught:
        start.refuse_broken_binding()
    assert "\n" not in str(caught.value)


def test_the_first_window_lies_whole_on_the_screen(qapp: QApplication) -> None:
    room = qapp.primaryScreen().availableSize()
    assert room.width() < WINDOW_PX[0]
    place = start._placeholder("A case")
    assert place.width() <= room.width()
    assert place.height() < room.height()
    place.close()
