"""Reports without a screen, with the bundled fonts."""

from __future__ import annotations

import os

os.environ["QT_QPA_PLATFORM"] = "offscreen"
os.environ["QT_SCALE_FACTOR"] = "1"
os.environ["QT_FONT_DPI"] = "96"

import pytest
from PySide6.QtWidgets import QApplication

from app.qt.theme import load_fonts


@pytest.fixture(scope="session", autouse=True)
def fonts(qapp: QApplication) -> tuple[str, ...]:
    return load_fonts()
