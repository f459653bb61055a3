"""How the command starts: what it loads; how long it takes is printed, not judged."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable

from models.assets import DEMO_CASE


def test_time_to_the_answers_is_printed(record_property: Callable[[str, object], None]) -> None:
    command = [sys.executable, "-c", "from app.cli.main import run; run()", "evaluate", str(DEMO_CASE), "--at", "1MHz"]
    start = time.perf_counter()
    done = subprocess.run(command, capture_output=True, text=True, check=True, env={**os.environ, "COLUMNS": "200"})
    taken_s = time.perf_counter() - start
    assert "Copper" in done.stdout
    record_property("seconds", taken_s)
    print(f"\nisthmus evaluate: {taken_s:.2f} s")
