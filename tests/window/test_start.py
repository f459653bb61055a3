from __future__ import annotations

import subprocess
import sys

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


def test_a_window_loads_no_tool_before_it_is_opened() -> None:
    late = ("app.lessons", "app.report", "app.sweep", "models.catalogue.entry", "models.estimate", "scipy", "skrf")
    code = (
        "import os, sys; from app.qt.start import application, main_window; app = application(); "
        "window = main_window(None); window.show(); app.processEvents(); "
        f"print([name for name in sys.modules if name.startswith({late})]); sys.stdout.flush(); os._exit(0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
