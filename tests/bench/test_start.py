"""What starts stays small beside the one import that none of it can do without; slack for a busy machine."""

from __future__ import annotations

import pytest

pytest.importorskip("resource")

from tests.bench.start import measured


def test_commands_and_window_start_soon() -> None:
    times = measured(rounds=3)
    for name, most in (
        ("version", 2.0),
        ("evaluate", 6.0),
        ("check", 6.0),
        ("window, its place", 7.0),
        ("window, painted", 13.0),
    ):
        assert times[name] < most * times["numpy"], name
