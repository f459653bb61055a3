from __future__ import annotations

import os

import pytest

from app.qt import start


def test_this_binding_keeps_its_references() -> None:
    assert abs(start.references_lost(300)) < 30
    start.refuse_broken_binding()


def test_a_binding_that_loses_references_is_refused_in_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(start, "references_lost", lambda: 300)
    with pytest.raises(start.BrokenBindingError, match=r"install PySide6-Essentials>=6\.10,<6\.12") as caught:
        start.refuse_broken_binding()
    assert "\n" not in str(caught.value)


def test_what_a_person_set_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYQTGRAPH_QT_LIB", "PySide6x")
    start.prepare_environment()
    assert os.environ["PYQTGRAPH_QT_LIB"] == "PySide6x"


def test_no_mouse_move_is_dropped() -> None:
    import pyqtgraph

    start.prepare_plots()
    assert pyqtgraph.getConfigOption("mouseRateLimit") == -1
