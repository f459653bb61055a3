"""`python -m tests.bench.frame`: the work of a frame of a drag on the largest demo, in parts, on the window's thread.

The time counted is that of the thread alone, so that other programs of a busy machine do not count.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
from attrs import frozen

from app.state import edits
from models.codec import KeyPath

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from app.qt.window import MainWindow

FRAME_S = 16e-3
"""Work that a frame may take on the thread of the window."""
PARTS = ("_show_header", "_show_inspector", "_show_section", "_show_answers")
_FRAMES = 120
CANDIDATE: KeyPath = ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f")
COUPLING: KeyPath = ("couplings", 0, "parts", 0, "capacitance_f")
_MODES = ("spectrum", "conducted", "radiated", "event")


@frozen(kw_only=True)
class Drag:
    """What one drag took: its frames, and each part in the frames in which its turn came, s."""

    frames_s: tuple[float, ...]
    parts_s: dict[str, list[float]]

    def within(self, limit_s: float = FRAME_S) -> float:
        """Return the share of frames that took no longer than a limit."""
        return float(np.mean(np.array(self.frames_s) <= limit_s))


def drag(path: KeyPath, mode: str = "waveform", frames: int = _FRAMES) -> Drag:
    """Drag a value of the demo in a window of its own, frame by frame, and return what that took."""
    with _opened(mode) as (window, app):
        session, parts, times = window.session, dict[str, list[float]](), list[float]()
        for name in PARTS:
            _watch(window, name, parts)
        for card in (window.impedance, window.consequences):
            _watch(card, "refresh", parts)
        _watch(session, "catch_up", parts)
        for number in range(frames):
            began = time.thread_time()
            session.drag(path, _value(path, number))
            session.timer.flush()
            # what still waits is left to the next frame
            session.timer.cancel()
            _timed(parts, "paint", app.processEvents)
            times.append(time.thread_time() - began)
        session.end_drag()
    return Drag(frames_s=tuple(times), parts_s=parts)


def whole_s(path: KeyPath, times: int = 20) -> float:
    """Return the median work of an edit that is no drag, after which the whole window is shown at once, s."""
    with _opened("waveform") as (window, app):
        session, taken = window.session, list[float]()
        for number in range(times):
            began = time.thread_time()
            session.change("Change capacitance", partial(edits.set_value, path=path, value=_value(path, number)))
            session.timer.flush()
            app.processEvents()
            taken.append(time.thread_time() - began)
    return float(np.median(taken))


def _value(path: KeyPath, number: int) -> float:
    return (1e-9 if path is CANDIDATE else 1e-12) * (1.0 + 0.02 * number)


@contextmanager
def _opened(mode: str) -> Iterator[tuple[MainWindow, QApplication]]:
    """Open a window on the demo in one of its modes, and close it in the end."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from app.qt.start import application, main_window

    app = application()
    window = main_window(None)
    window.resize(1440, 900)
    window.show()
    window.session.views.change(mode=mode)
    while window.session.timer.pending():
        window.session.timer.flush()
    app.processEvents()
    yield window, app
    window.session.store.mark_saved()
    window.session.timer.cancel()
    window.close()
    window.deleteLater()


def report() -> str:
    """Return the share of frames within their time for both drags, what the parts take, and the other modes."""
    lines = []
    for path in (CANDIDATE, COUPLING):
        told = drag(path)
        lines.append(_line(f"{path[0]}: {path[-1]}", told.frames_s) + f", {_share(told)}")
        lines += [_line(f"  {name}", times) for name, times in sorted(told.parts_s.items())]
        lines.append(f"  the whole window at once: median {1e3 * whole_s(path):.2f} ms")
    for mode in _MODES:
        for path in (CANDIDATE, COUPLING):
            told = drag(path, mode)
            lines.append(_line(f"{path[0]}, {mode}", told.frames_s) + f", {_share(told)}")
    return "\n".join(lines)


def _share(told: Drag) -> str:
    return f"{100.0 * told.within():.0f} % of frames within {1e3 * FRAME_S:.0f} ms"


def _watch(owner: Any, name: str, parts: dict[str, list[float]]) -> None:
    work: Callable[..., object] = getattr(owner, name)
    setattr(owner, name, partial(_timed, parts, f"{type(owner).__name__}.{name}", work))


def _timed(parts: dict[str, list[float]], name: str, work: Callable[..., object], *given: object) -> object:
    began = time.thread_time()
    result = work(*given)
    parts.setdefault(name, []).append(time.thread_time() - began)
    return result


def _line(name: str, times: tuple[float, ...] | list[float]) -> str:
    middle, most = (1e3 * float(np.percentile(times, share)) for share in (50, 95))
    return f"{name:36} median {middle:6.2f} ms, 95 % under {most:6.2f} ms, {len(times):3} times"


if __name__ == "__main__":
    print(report())
