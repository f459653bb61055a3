"""The lines of a long spectrum that are worth telling one by one: the strongest of every narrow band."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.arrays import Real

MOST_LINES = 2000
"""Lines of one spectrum that are told; all of them where it has no more."""


def strongest(level: Real, *, first: int = 1, most: int = MOST_LINES) -> NDArray[np.intp]:
    """Return the places of the lines to tell, ascending: all, or the highest in each of many bands of equal ratio.

    Parameters
    ----------
    level : (K,) what decides, of the orders first, first + 1, …
    first : order of the first line, 1 or more
    most : how many may be told
    """
    if level.size <= most:
        return np.arange(level.size)
    place = np.log(np.arange(first, first + level.size) / first)
    band = np.minimum((place / place[-1] * most).astype(np.intp), most - 1)
    by_band = np.lexsort((-level, band))
    return np.sort(by_band[np.flatnonzero(np.diff(band[by_band], prepend=-1))])
