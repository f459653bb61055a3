from __future__ import annotations

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
