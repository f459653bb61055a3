"""Before the first window: refuse a Qt binding that would crash, prepare what Qt and the plots read at start."""

from __future__ import annotations

import os
import sys

from models.errors import IsthmusError

_CALLS = 300
_REFERENCES_LOST_AT_MOST = 30
"""A sound binding loses none; a broken one loses one a call."""


class BrokenBindingError(IsthmusError):
    """A PySide6 build that cannot be used with this Python."""


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


def prepare_environment() -> None:
    """Set what must stand in the environment before Qt and pyqtgraph are imported; what a person set stays."""
    os.environ.setdefault("PYQTGRAPH_QT_LIB", "PySide6")


def prepare_plots() -> None:
    """Tell pyqtgraph to pass on every mouse move: by default it drops the quick ones, and drags with them."""
    import pyqtgraph

    pyqtgraph.setConfigOptions(mouseRateLimit=-1, antialias=True)
