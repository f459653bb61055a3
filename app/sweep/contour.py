"""Contour lines of a result over two values, and the round levels that they are drawn at."""

from __future__ import annotations

import numpy as np

from models.arrays import Real

LEVELS = 12
"""Most contour lines that are told apart."""
Line = tuple[Real, Real]
Edge = tuple[int, int, int]
"""Row and column of the corner where an edge of the grid starts, and 0 for along x, 1 for along y."""


def levels(z: Real, count: int = LEVELS) -> tuple[float, ...]:
    """Return round levels within a result: 1, 2, 5 of each decade where it spans some, else evenly."""
    seen = z[np.isfinite(z)]
    if not seen.size or seen.min() == seen.max():
        return ()
    low, high = float(seen.min()), float(seen.max())
    if low > 0.0 and high / low > 10.0:
        decades = range(int(np.floor(np.log10(low))), int(np.ceil(np.log10(high))) + 1)
        found = [float(f"{digit}e{decade}") for decade in decades for digit in (1, 2, 5)]
    else:
        step = _round_step((high - low) / count)
        found = [step * each for each in range(int(np.ceil(low / step)), int(np.floor(high / step)) + 1)]
    inside = [level for level in found if low < level < high]
    return tuple(inside[:: -(-len(inside) // count)] if len(inside) > count else inside)


def _round_step(least: float) -> float:
    decade = 10.0 ** np.floor(np.log10(least))
    return float(next(digit * decade for digit in (1.0, 2.0, 5.0, 10.0) if digit * decade >= least))


def contour(x: Real, y: Real, z: Real, level: float) -> tuple[Line, ...]:
    """Return the lines on which a result has a level: marching squares, straight within a cell.

    Parameters
    ----------
    x, y : (N,) and (M,), rising; logarithms of them where the axes of the map are logarithmic
    z : (M, N); a cell with a corner that is not finite has no line

    Returns
    -------
    lines, each as (K,) of x and (K,) of y
    """
    ends: dict[Edge, list[Edge]] = {}
    for one, other in _segments(z - level):
        ends.setdefault(one, []).append(other)
        ends.setdefault(other, []).append(one)
    return tuple(_placed(x, y, z - level, chain) for chain in _chains(ends))


def _segments(over: Real) -> list[tuple[Edge, Edge]]:
    """Return pairs of grid edges that a line joins, cell by cell."""
    found: list[tuple[Edge, Edge]] = []
    above = over > 0.0
    finite = np.isfinite(over)
    good = finite[:-1, :-1] & finite[1:, :-1] & finite[:-1, 1:] & finite[1:, 1:]
    mixed = above[:-1, :-1].astype(int) + above[1:, :-1] + above[:-1, 1:] + above[1:, 1:]
    for row, column in np.argwhere(good & (mixed % 4 > 0)).tolist():
        corners = ((row, column), (row, column + 1), (row + 1, column + 1), (row + 1, column))
        edges: tuple[Edge, ...] = ((row, column, 0), (row, column + 1, 1), (row + 1, column, 0), (row, column, 1))
        crossed = [
            edge for edge, a, b in zip(edges, corners, (*corners[1:], corners[0]), strict=True) if above[a] != above[b]
        ]
        middle_above = float(over[row : row + 2, column : column + 2].mean()) > 0.0
        if len(crossed) == 4 and middle_above != bool(above[row, column]):
            # a saddle: the middle says which corners belong together
            crossed = [*crossed[1:], crossed[0]]
        found += list(zip(crossed[::2], crossed[1::2], strict=True))
    return found


def _chains(ends: dict[Edge, list[Edge]]) -> list[list[Edge]]:
    """Return the edges in the order in which lines run through them: open lines from their ends, then rings."""
    left = {edge: list(others) for edge, others in ends.items()}
    chains: list[list[Edge]] = []
    for start in sorted(left, key=lambda edge: (len(ends[edge]), edge)):
        if not left[start]:
            continue
        chain = [start]
        while left[chain[-1]]:
            following = left[chain[-1]].pop()
            left[following].remove(chain[-1])
            chain.append(following)
        chains.append(chain)
    return chains


def _placed(x: Real, y: Real, over: Real, chain: list[Edge]) -> Line:
    points = np.array([_crossing(x, y, over, edge) for edge in chain], np.float64)
    return points[:, 0], points[:, 1]


def _crossing(x: Real, y: Real, over: Real, edge: Edge) -> tuple[float, float]:
    row, column, upright = edge
    here, there = float(over[row, column]), float(over[row + upright, column + 1 - upright])
    share = here / (here - there)
    along = x if not upright else y
    place = column if not upright else row
    at = float(along[place] + share * (along[place + 1] - along[place]))
    return (float(x[column]), at) if upright else (at, float(y[row]))
