"""The start of the window: refuse a Qt binding that would crash, dress the application, open the case."""

from __future__ import annotations

import gc
import logging
import os
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from app.state.places import state_folder
from app.state.recovery import Keeper, left_behind
from models.assets import DEMO_CASE
from models.case.read import CaseFile, read_case_file
from models.errors import IsthmusError

if TYPE_CHECKING:
    from types import TracebackType

    from PySide6.QtWidgets import QApplication, QLabel

    from app.qt.window import MainWindow

_CALLS = 300
_REFERENCES_LOST_AT_MOST = 30
"""A sound binding loses none; a broken one loses one a call."""

_TITLE_BAR_PX = 32
"""What a system puts over a window, about."""


class BrokenBindingError(IsthmusError):
    """A PySide6 build that cannot be used with this Python."""


class PictureError(IsthmusError):
    """A picture that cannot be written."""


def references_lost(calls: int = _CALLS) -> int:
    """Return how many references to None get lost over some calls that return nothing."""
    from PySide6.QtGui import QPen

    pen = QPen()
    before = sys.getrefcount(None)
    for _ in range(calls):
        pen.setWidth(1)
    return before - sys.getrefcount(None)


def refuse_broken_binding() -> None:
    """Raise BrokenBindingError, in one sentence, where PySide6 would end the process after a few thousand calls.

    PySide6 6.12.0 drops a reference to None in each call that returns nothing; Python before 3.12 counts them.
    """
    if references_lost() > _REFERENCES_LOST_AT_MOST:
        import PySide6

        python = f"{sys.version_info.major}.{sys.version_info.minor}"
        raise BrokenBindingError(
            f"PySide6 {PySide6.__version__} cannot be used with Python {python}: it loses references until the "
            "program ends; install PySide6-Essentials>=6.10,<6.12"
        )


def has_display() -> bool:
    """Return whether there is a screen to open a window on, or a platform that a person chose."""
    if os.environ.get("QT_QPA_PLATFORM") or sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def application() -> QApplication:
    """Return the application, made and dressed where there is none yet."""
    # read when Qt is loaded; without it the order of glyphs, and so the bytes of a PDF, are others in every process
    os.environ.setdefault("QT_HASH_SEED", "0")
    from PySide6.QtGui import QIcon
    from PySide6.QtWidgets import QApplication

    from app.qt.dress import apply_theme
    from app.qt.theme import load_fonts, system_theme
    from models.assets import ICON

    present = QApplication.instance()
    if isinstance(present, QApplication):
        return present
    refuse_broken_binding()
    app = QApplication(["isthmus"])
    app.setApplicationName("Isthmus")
    app.setWindowIcon(QIcon(str(ICON)))
    load_fonts()
    apply_theme(app, system_theme())
    return app


def main_window(path: Path | None, keeper: Keeper | None = None) -> MainWindow:
    """Return the window on a case file, or on the demo case; the keeper keeps its unsaved work.

    Raises
    ------
    CaseError
        when the file cannot be used
    """
    return window_on(read_case_file(path or DEMO_CASE), as_example=path is None, keeper=keeper)


def window_on(file: CaseFile, *, as_example: bool = False, keeper: Keeper | None = None) -> MainWindow:
    """Return the window on a file that was read; an example has no file of its own."""
    from app.qt.session import Session
    from app.qt.window import MainWindow

    session = Session(file.case, keeper=keeper)
    session.take_file(file, as_example=as_example)
    return MainWindow(session)


def open_window(file: CaseFile, *, as_example: bool = False) -> int:
    """Open the window and return the exit status when it is closed."""
    # what is made until the window stands stays: no look for garbage meanwhile, and none through it later
    gc.disable()
    app = application()
    place = _placeholder(file.case.title)
    app.processEvents()
    folder = state_folder() / "unsaved"
    window = window_on(file, as_example=as_example, keeper=Keeper(folder))
    window.documents.recent_folder = state_folder()
    if not as_example:
        window.documents.remember(file.path.resolve())
    window.setGeometry(place.geometry())
    window.show()
    place.close()
    window.recovery.offer(left_behind(folder))
    tell_faults(window)
    gc.freeze()
    gc.enable()
    # Qt's loop hears no Ctrl-C: it ends the program as a kill does, and what was unsaved comes back at the next start
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    status = app.exec()
    _give_up(window)
    return status


def tell_faults(window: MainWindow) -> None:
    """Let a fault of the program itself, anywhere in its loop, be told in the window and logged, and end nothing."""

    def tell(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
            return
        logging.getLogger(__name__).error("a fault of the program", exc_info=(kind, error, trace))
        window.message.tell(f"Something went wrong in the program ({kind.__name__}: {error}). The document is whole.")

    sys.excepthook = tell


def _placeholder(title: str) -> QLabel:
    """Show at once, whole on the screen, what a person sees for the second in which the window is made."""
    from PySide6.QtCore import QSize, Qt
    from PySide6.QtWidgets import QLabel

    from app.qt.theme import WINDOW_PX

    place = QLabel(f"Opening {title} …", alignment=Qt.AlignmentFlag.AlignCenter)
    place.setTextFormat(Qt.TextFormat.PlainText)
    place.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    place.setWindowTitle("Isthmus")
    room = place.screen().availableSize() - QSize(0, _TITLE_BAR_PX)
    place.resize(QSize(*WINDOW_PX).boundedTo(room))
    place.show()
    return place


def save_picture(file: CaseFile, picture: Path, *, as_example: bool = False) -> None:
    """Paint the window without a screen and save it as a PNG.

    Raises
    ------
    PictureError
        where the file cannot be written
    """
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    app = application()
    window = window_on(file, as_example=as_example)
    window.show()
    app.processEvents()
    saved = window.grab().save(str(picture))
    window.session.leave()
    window.close()
    _give_up(window)
    if not saved:
        raise PictureError(f"{picture.resolve()}: found a file that cannot be written; accepted: one that can")


def _give_up(window: MainWindow) -> None:
    """Let a window go while the application still stands: when Python ends, their order is left to chance."""
    from PySide6.QtCore import QEvent
    from PySide6.QtWidgets import QApplication

    window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
