"""Windows painted without a screen, with the bundled fonts and nothing of the machine's own.

`python -m tests.images.shoot FOLDER SCALE` paints the scenes of one scale: Qt takes the scale once, when it starts.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QWidget

from app.qt.lesson_view import LessonWindow
from app.qt.start import application, main_window
from app.qt.theme import ThemeName, theme_named
from app.qt.window import MainWindow
from models.assets import CASES
from tests.images.scenes import LESSON_NUMBER, SCENES, Scene

_FONTS = Path(__file__).parent / "fonts.conf"


def shoot(folder: Path) -> None:
    """Paint every scene into a folder, one process a scale."""
    for scale in sorted({each.scale for each in SCENES}):
        there = {
            **os.environ,
            "QT_QPA_PLATFORM": "offscreen",
            "QT_SCALE_FACTOR": str(scale),
            "QT_FONT_DPI": "96",
            "FONTCONFIG_FILE": str(_FONTS),
        }
        command = [sys.executable, "-m", "tests.images.shoot", str(folder), str(scale)]
        subprocess.run(command, env=there, check=True, cwd=Path(__file__).parents[2])


def _shoot_scale(folder: Path, scale: int) -> None:
    application()
    for scene in SCENES:
        if scene.scale == scale:
            shown, window = _opened(scene)
            shown.resize(*scene.size)
            shown.show()
            _settle(window)
            picture = shown.grab().toImage()
            size = (scene.size[0], scene.size[1])
            picture.setDevicePixelRatio(1.0)
            smooth = Qt.TransformationMode.SmoothTransformation
            logical = picture.scaled(*size, Qt.AspectRatioMode.IgnoreAspectRatio, smooth)
            logical.convertToFormat(QImage.Format.Format_RGB32).save(str(folder / f"{scene.name}.png"))
            _give_up(window)


def _give_up(window: MainWindow) -> None:
    """Let a window go, so that the next one is not dressed together with it."""
    window.session.store.mark_saved()
    window.close()
    window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def _opened(scene: Scene) -> tuple[QWidget, MainWindow]:
    """Return what is painted, and the window that it belongs to."""
    file = CASES / f"{scene.shown}.toml"
    window = main_window(file if file.exists() else None)
    # bands come when work beside the window is done: at any time, or not at all
    window.session.views.change(theme=scene.look, tolerances=False)
    if scene.shown == "new":
        window.documents.new()
    if scene.shown != "lesson":
        return window, window
    folder = Path(tempfile.mkdtemp())
    lessons = LessonWindow(theme=theme_named(ThemeName(scene.look)), folder=folder, parent=window)
    _settle(window)
    lessons.open(LESSON_NUMBER - 1)
    return lessons, window


def _settle(window: MainWindow) -> None:
    """Let all that waits for its turn come, and what waits for rest."""
    for _ in range(6):
        QApplication.processEvents()
        window.session.timer.flush()
        for lessons in window.findChildren(LessonWindow):
            lessons.session.timer.flush()
    window.matters.settle()
    QApplication.processEvents()


if __name__ == "__main__":
    _shoot_scale(Path(sys.argv[1]), int(sys.argv[2]))
