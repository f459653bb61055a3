"""Plots that Qt deletes while Python still holds them."""

import gc
import random
import subprocess
import sys

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from app.qt.plot.view import PlotView
from app.qt.theme import Theme


def come_and_go(qapp: QApplication, theme: Theme, times: int) -> None:
    chance = random.Random(7)
    for _ in range(times):
        plots = [PlotView(theme) for _ in range(chance.randint(1, 4))]
        for plot in plots:
            plot.resize(300, 200)
            plot.show()
        qapp.processEvents()
        for plot in plots:
            if chance.random() < 0.5:
                plot.deleteLater()
            else:
                plot.close()
        if chance.random() < 0.5:
            plots.clear()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        if chance.random() < 0.3:
            gc.collect()


def test_a_plot_may_go_before_those_who_hold_it() -> None:
    """In a process of its own: where this goes wrong, the process ends."""
    code = (
        "from PySide6.QtWidgets import QApplication\n"
        "from app.qt.theme import LIGHT, load_fonts\n"
        "from tests.window.plot.test_canvas import come_and_go\n"
        "app = QApplication([])\n"
        "load_fonts()\n"
        "come_and_go(app, LIGHT, 300)\n"
        "print('stands')\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, timeout=120)
    assert done.stdout.strip() == "stands", done.stderr[-500:]
