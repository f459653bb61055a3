"""Which lines of a long spectrum are told."""

from __future__ import annotations

import numpy as np

from app.present.strongest import MOST_LINES, strongest


def test_a_short_spectrum_is_told_whole() -> None:
    assert strongest(np.ones(MOST_LINES)).tolist() == list(range(MOST_LINES))


def test_a_long_one_keeps_its_peaks_and_its_first_lines() -> None:
    count = 1_000_000
    level = 1.0 / np.arange(1.0, count + 1.0)
    peaks = [4_321, 98_765, 765_432]
    level[peaks] = 10.0
    kept = strongest(level)
    assert kept.size <= MOST_LINES
    assert (np.diff(kept) > 0).all()
    assert set(peaks) <= set(kept.tolist())
    assert set(range(20)) <= set(kept.tolist())


def test_every_line_left_out_has_a_stronger_one_within_a_percent() -> None:
    level = np.random.default_rng(1).random(300_000)
    first = 5_000
    kept = strongest(level, first=first)
    after = np.searchsorted(kept, np.arange(level.size))
    near = np.stack([kept[np.clip(after + step, 0, kept.size - 1)] for step in (-1, 0, 1)])
    close = np.abs(near - np.arange(level.size)) <= 0.01 * (first + np.arange(level.size))
    assert (close & (level[near] >= level)).any(axis=0).all()


def test_infinite_levels_are_told() -> None:
    kept = strongest(np.full(10_000, np.inf))
    assert 0 < kept.size <= MOST_LINES
