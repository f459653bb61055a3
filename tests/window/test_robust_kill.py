"""A process is killed with unsaved edits: its file is whole, and what is recovered lacks the last few seconds at most.

`python -m tests.window.test_robust_kill 200` kills as many as told, some at a time, and prints the most that was lost.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from attrs import evolve, frozen

from app.state.recovery import left_behind
from models.assets import DEMO_CASE
from models.case.document import Case
from models.case.read import load_case, parse_case
from models.case.write import case_text

_AT_ONCE = 6
_MOST_LOST_S = 4.0
"""Edits are kept every two seconds; the rest is for a machine that has other things to do."""

_EDITING = """
import os, random, signal, sys, time
from pathlib import Path
from attrs import evolve
from PySide6.QtCore import QCoreApplication, QTimer
from app.qt.session import Session
from app.state.recovery import Keeper
from models.case.read import load_case

folder, seed = Path(sys.argv[1]), int(sys.argv[2])
chance = random.Random(seed)
app = QCoreApplication([])
file = folder / "case.toml"
session = Session(load_case(file), keeper=Keeper(folder / "unsaved"))
session.open(file)
log = os.open(folder / "log", os.O_CREAT | os.O_WRONLY | os.O_APPEND)
saves = chance.random() < 0.5
count = 0

def edit():
    global count
    count += 1
    session.change("Rename", lambda case: evolve(case, title=f"edit {count}"))
    os.write(log, f"{time.monotonic():.6f}\\n".encode())
    if saves and chance.random() < 0.05:
        session.save(file)

timer = QTimer()
timer.setInterval(15)
timer.timeout.connect(edit)
timer.start()
signal.signal(signal.SIGALRM, signal.SIG_DFL)
signal.setitimer(signal.ITIMER_REAL, chance.uniform(0.3, 5.0))
app.exec()
"""


@frozen(kw_only=True)
class Killed:
    """What a killed process leaves: how many edits it made, the last one that is found again, and the time between."""

    edits: int
    found: int
    lost_s: float
    recovered: bool


def killed(folder: Path) -> Killed:
    """Return what is found in the folder of a process that was killed."""
    times = [float(line) for line in (folder / "log").read_text().split()]
    file = parse_case((folder / "case.toml").read_text(encoding="utf-8"), folder=folder)
    left = left_behind(folder / "unsaved")
    found = max(number(case) for case in (file, *(each.case for each in left)))
    lost_s = times[-1] - times[found] if found < len(times) else 0.0
    return Killed(edits=len(times), found=found, lost_s=lost_s, recovered=bool(left))


def number(case: Case) -> int:
    """Return which edit a case is from, 0 for the one that was opened."""
    return int(case.title.removeprefix("edit ")) if case.title.startswith("edit ") else 0


def kill_some(folder: Path, seeds: range) -> list[Killed]:
    """Let processes edit at the same time, each ended by a signal at a moment of its own."""
    running = []
    for seed in seeds:
        own = folder / str(seed)
        own.mkdir()
        (own / "case.toml").write_text(DEMO_CASE.read_text(encoding="utf-8"), encoding="utf-8")
        running.append((own, subprocess.Popen([sys.executable, "-c", _EDITING, str(own), str(seed)])))
    ended = [process.wait() for _, process in running]
    assert all(status < 0 for status in ended), ended
    return [killed(own) for own, _ in running]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs processes that end by a signal")
def test_a_killed_process_loses_the_last_few_seconds_at_most(tmp_path: Path) -> None:
    ends = kill_some(tmp_path, range(_AT_ONCE))
    assert all(each.edits > 5 for each in ends)
    assert any(each.recovered for each in ends)
    assert max(each.lost_s for each in ends) < _MOST_LOST_S


def test_the_count_of_what_is_lost_begins_with_the_first_edit_that_is_not_found(tmp_path: Path) -> None:
    (tmp_path / "log").write_text("10.0\n11.0\n12.5\n")
    case = evolve(load_case(DEMO_CASE), title="edit 1")

    (tmp_path / "case.toml").write_text(case_text(case), encoding="utf-8")
    assert killed(tmp_path) == Killed(edits=3, found=1, lost_s=1.5, recovered=False)


def _campaign(count: int) -> None:
    ends: list[Killed] = []
    with tempfile.TemporaryDirectory() as folder:
        for start in range(0, count, _AT_ONCE):
            ends += kill_some(Path(folder), range(start, min(start + _AT_ONCE, count)))
    most = max(each.lost_s for each in ends)
    mean = sum(each.lost_s for each in ends) / len(ends)
    print(f"{len(ends)} killed, {sum(each.recovered for each in ends)} with work to recover")
    print(f"lost: {most:.2f} s at most, {mean:.2f} s on average")


if __name__ == "__main__":
    _campaign(int(sys.argv[1]))
