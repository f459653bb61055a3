"""The frequencies at which something is solved, with an identity that results can be remembered by."""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterable

import numpy as np
from attrs import field, frozen

from models.arrays import Real
from models.case.document import Sweep


@frozen(kw_only=True, cache_hash=True)
class Grid:
    """Angular frequencies (F,) in rad/s; two grids are equal when their keys are. ω = 0 stands only in `DC`."""

    key: Hashable
    omega: Real = field(eq=False, repr=False)

    @property
    def f_hz(self) -> Real:
        """Return the frequencies (F,) in Hz."""
        return self.omega / math.tau


DC = Grid(key="dc", omega=np.zeros(1))
"""The one grid that is solved with resistances at DC: capacitors open, inductors their winding."""


def sweep_grid(sweep: Sweep) -> Grid:
    """Return the grid of a sweep."""
    return Grid(key=sweep, omega=math.tau * sweep.f_hz())


def harmonic_grid(frequency_hz: float, count: int) -> Grid:
    """Return the harmonics 1 to count of a frequency."""
    omega = math.tau * frequency_hz * np.arange(1, count + 1, dtype=np.float64)
    return Grid(key=("harmonics", frequency_hz, count), omega=omega)


def single(f_hz: float) -> Grid:
    """Return the grid of one frequency; 0 Hz is DC."""
    return DC if f_hz == 0.0 else point_grid((f_hz,))


def point_grid(f_hz: Iterable[float]) -> Grid:
    """Return a grid of single frequencies above 0."""
    points = tuple(f_hz)
    return Grid(key=("points", points), omega=math.tau * np.array(points, dtype=np.float64))
