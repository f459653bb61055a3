"""How the command starts: what it loads; how long it takes is printed, not judged."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from models.assets import DEMO_CASE


def test_time_to_the_answers_is_printed(record_property: Callable[[str, object], None]) -> None:
    command = [sys.executable, "-c", "from app.cli.main import run; run()", "evaluate", str(DEMO_CASE), "--at", "1MHz"]
    start = time.perf_counter()
    done = subprocess.run(command, capture_output=True, text=True, check=True, env={**os.environ, "COLUMNS": "200"})
    taken_s = time.perf_counter() - start
    assert "Copper" in done.stdout
    record_property("seconds", taken_s)
    print(f"\nisthmus evaluate: {taken_s:.2f} s")


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="needs a system that can be without a display")
def test_a_picture_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "isthmus.png").mkdir()
    gone = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    environment = {name: value for name, value in os.environ.items() if name not in gone}
    command = [sys.executable, "-c", "from app.cli.main import run; run()", str(DEMO_CASE)]
    done = subprocess.run(command, capture_output=True, text=True, cwd=tmp_path, env=environment, check=False)
    assert done.returncode == 2
    assert "No display" in done.stdout
    assert "Picture of the window" not in done.stdout
    (line,) = done.stderr.splitlines()
    assert line == f"isthmus: {tmp_path / 'isthmus.png'}: found a file that cannot be written; accepted: one that can"


_INTERRUPTED = """
import os, signal, sys
from pathlib import Path
from PySide6.QtCore import QTimer
from app.qt.start import application, open_window
from models.case.read import read_case_file

app = application()
timer = QTimer()
timer.timeout.connect(lambda: os.kill(os.getpid(), signal.SIGINT))
timer.start(500)
open_window(read_case_file(Path(sys.argv[1])), as_example=True)
"""


@pytest.mark.skipif(os.name != "posix", reason="needs signals")
def test_ctrl_c_in_the_terminal_ends_the_window(tmp_path: Path) -> None:
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_STATE_HOME": str(tmp_path)}
    command = [sys.executable, "-c", _INTERRUPTED, str(DEMO_CASE)]
    done = subprocess.run(command, capture_output=True, check=False, env=environment, timeout=120)
    assert done.returncode == -signal.SIGINT
