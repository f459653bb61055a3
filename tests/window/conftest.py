"""A window without a screen, at one scale, with the bundled fonts, and no word from Qt that passes unseen."""

from __future__ import annotations

import gc
import os

os.environ["QT_QPA_PLATFORM"] = "offscreen"
os.environ["QT_SCALE_FACTOR"] = "1"
os.environ["QT_FONT_DPI"] = "96"

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QMessageLogContext, QtMsgType, qInstallMessageHandler
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.qt.consequences import Consequences
from app.qt.dress import apply_theme
from app.qt.session import Session
from app.qt.start import main_window
from app.qt.theme import LIGHT, Theme, load_fonts
from app.qt.window import MainWindow
from app.state.recovery import Keeper
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from tests.window.card_hands import follow
from tests.window.hands import Opener, settle


@pytest.fixture(scope="session")
def fonts(qapp: QApplication) -> tuple[str, ...]:
    return load_fonts()


@pytest.fixture
def theme(qapp: QApplication, fonts: tuple[str, ...]) -> Theme:
    apply_theme(qapp, LIGHT)
    return LIGHT


@pytest.fixture
def case() -> Case:
    """Return the case that `session` holds; a module that needs another has a fixture of this name."""
    return load_case(CASES / "class-ii-supply.toml")


@pytest.fixture
def session(qapp: QApplication, case: Case) -> Iterator[Session]:
    made = Session(case)
    yield made
    made.timer.cancel()


@pytest.fixture
def card(qtbot: QtBot, theme: Theme, session: Session) -> Consequences:
    made = Consequences(theme, session)
    qtbot.addWidget(made)
    made.resize(560, 460)
    made.show()
    follow(made, session)
    return made


@pytest.fixture
def open_window(qapp: QApplication, theme: Theme) -> Iterator[Opener]:
    opened: list[MainWindow] = []

    def opener(case: Path | None = None, keeper: Keeper | None = None) -> MainWindow:
        made = main_window(case, keeper)
        opened.append(made)
        made.show()
        settle(made)
        return made

    yield opener
    for each in opened:
        each.session.store.mark_saved()
        each.close()
        each.deleteLater()


@pytest.fixture
def window(open_window: Opener) -> MainWindow:
    """Return a window with the demo case that has the hand."""
    made = open_window()
    made.activateWindow()
    QApplication.processEvents()
    return made


@pytest.fixture(scope="session", autouse=True)
def nothing_outlives_the_application(qapp: QApplication) -> Iterator[None]:
    """Give up every window while the application still stands: when Python ends, their order is left to chance."""
    yield
    qapp.clipboard().clear()
    for widget in qapp.topLevelWidgets():
        widget.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()


@pytest.fixture(autouse=True)
def nothing_left_alive(qapp: QApplication) -> Iterator[None]:
    """Let what a test gave up go: a style sheet is put on every widget that lives, and tests put one on often."""
    yield
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.fixture(autouse=True)
def no_word_from_qt() -> Iterator[None]:
    """Fail on anything Qt complains about; what a platform without a screen cannot do, it says, and is left."""
    said: list[str] = []

    def listen(kind: QtMsgType, _context: QMessageLogContext, text: str) -> None:
        if kind != QtMsgType.QtDebugMsg and "This plugin does not support" not in text:
            said.append(text)

    before = qInstallMessageHandler(listen)
    yield
    qInstallMessageHandler(before)
    assert not said, said
