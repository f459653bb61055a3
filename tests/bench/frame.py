"""`python -m tests.bench.frame`: the work of one frame of a drag on the demo, in parts, on the thread of the window."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np

_FRAMES = 80
_PATHS = (
    ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f"),
    ("couplings", 0, "parts", 0, "capacitance_f"),
)
_PARTS = ("_show_header", "_show_section", "_show_impedance")


def report() -> str:
    """Return median and 95th percentile of a frame, and what its parts take, as a few lines."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from app.qt.start import application, main_window

    app = application()
    window = main_window(None)
    window.resize(1440, 900)
    window.show()
    app.processEvents()
    session, parts = window.session, dict[str, list[float]]()
    _watch(window, _PARTS, parts)
    _watch(window.consequences, ("refresh",), parts)
    _watch(window.answers, ("render",), parts)
    _watch(window.inspector, ("render",), parts)
    lines = []
    for path in _PATHS:
        start = 1e-9 if path[0] == "candidates" else 1e-12
        parts.clear()
        frames = []
        for number in range(_FRAMES):
            began = time.thread_time()
            session.drag(path, start * (1.0 + 0.02 * number))
            _timed(parts, "results", lambda: session.results)
            _timed(parts, "readings", lambda: session.readings)
            session.timer.flush()
            _timed(parts, "paint", app.processEvents)
            frames.append(time.thread_time() - began)
        session.end_drag()
        lines.append(_line(f"{path[0]}: {path[-1]}", frames))
        lines += [_line(f"  {name}", times) for name, times in sorted(parts.items())]
    session.store.mark_saved()
    session.timer.cancel()
    window.close()
    return "\n".join(lines)


def _watch(owner: Any, names: tuple[str, ...], parts: dict[str, list[float]]) -> None:
    for name in names:
        work: Callable[..., object] = getattr(owner, name)
        label = f"{type(owner).__name__}.{name}"
        setattr(owner, name, partial(_timed, parts, label, work))


def _timed(parts: dict[str, list[float]], name: str, work: Callable[..., object], *given: object) -> None:
    began = time.thread_time()
    work(*given)
    parts.setdefault(name, []).append(time.thread_time() - began)


def _line(name: str, times: list[float]) -> str:
    middle, most = (1e3 * float(np.percentile(times, share)) for share in (50, 95))
    return f"{name:42} median {middle:6.2f} ms, 95 % under {most:6.2f} ms, {len(times)} times"


if __name__ == "__main__":
    print(report())
