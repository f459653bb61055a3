"""A frame of a drag against showing the whole window at once; on a busy machine only the ratio is judged."""

from __future__ import annotations

import statistics

import pytest

from tests.bench.frame import COUPLING, drag, whole_s
from tests.window.conftest import fonts, theme

__all__ = ["fonts", "theme"]


@pytest.mark.usefixtures("theme")
def test_a_frame_of_a_drag_costs_a_part_of_what_the_whole_window_does() -> None:
    told = drag(COUPLING, frames=40)
    assert statistics.median(told.frames_s) < 0.7 * whole_s(COUPLING, times=5)
    assert {"paint", "Impedance.refresh", "Consequences.refresh"} <= told.parts_s.keys()
