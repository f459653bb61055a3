"""`python -m tests.bench.start`: what the commands and the window cost from nothing, beside the import of numpy alone.

Processor time of whole processes, which other programs that run disturb least. Compiled code is kept between the runs,
as it is where the program is installed.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from models.assets import DEMO_CASE

_ROUNDS = 5
_ROOT = Path(__file__).resolve().parents[2]
_RUN = "import sys; from app.cli.main import run; sys.argv[0] = 'isthmus'; run()"
_PAINTED_ONCE = """
import sys
from PySide6.QtWidgets import QApplication
from app.cli.main import run
QApplication.exec = lambda *_: QApplication.processEvents() or 0
sys.argv[0] = 'isthmus'
run()
"""
_PLACE_SHOWN = """
import os, sys
from app.cli.main import run
import app.qt.start as start
start.window_on = lambda *_, **__: os._exit(0)
sys.argv[0] = 'isthmus'
run()
"""
JOBS = {
    "numpy": ("import numpy",),
    "version": (_RUN, "--version"),
    "evaluate": (_RUN, "evaluate", str(DEMO_CASE)),
    "evaluate --json": (_RUN, "evaluate", str(DEMO_CASE), "--json"),
    "check": (_RUN, "check", str(DEMO_CASE)),
    "window, its place": (_PLACE_SHOWN,),
    "window, painted": (_PAINTED_ONCE,),
}
"""What is started: code, and its arguments. The window's place is shown first, then it is painted in full."""


def measured(rounds: int = _ROUNDS) -> dict[str, float]:
    """Return the least processor time of every job, s; they take turns, so that all of them meet the same machine."""
    with TemporaryDirectory() as folder:
        turns = [{name: _cpu_s(job, folder) for name, job in JOBS.items()} for _ in range(1 + rounds)]
    return {name: min(turn[name] for turn in turns) for name in JOBS}


def _cpu_s(job: Sequence[str], folder: str) -> float:
    """Run a process to its end and return its processor time, s."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    own = {
        "PYTHONPYCACHEPREFIX": folder,
        "XDG_STATE_HOME": folder,
        "QT_QPA_PLATFORM": "offscreen",
        "OPENBLAS_NUM_THREADS": "1",
    }
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run([sys.executable, "-c", *job], env=kept | own, cwd=_ROOT, capture_output=True, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    # a check whose requirements are not met ends with 1
    assert done.returncode in (0, 1), done.stderr.decode()
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def report() -> str:
    """Return the times and their ratio to the import of numpy as a few lines."""
    times = measured()
    return "\n".join(
        f"{name:18}{1e3 * cpu_s:7.0f} ms, {cpu_s / times['numpy']:.1f} imports of numpy"
        for name, cpu_s in times.items()
    )


if __name__ == "__main__":
    print(report())
