"""A person's own catalogue in a folder of the test's own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

Put = Callable[[str, str], Path]


@pytest.fixture(autouse=True)
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Put an empty folder in the place of whatever the person who tests has of their own."""
    monkeypatch.setenv("ISTHMUS_CATALOGUE", str(tmp_path))
    return tmp_path


@pytest.fixture
def put(own: Path) -> Put:
    """Write files into the own catalogue."""

    def write(name: str, text: str) -> Path:
        path = own / name
        path.write_text(text, encoding="utf-8")
        return path

    return write
