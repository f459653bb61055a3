"""Method of moments: the capacitance of a box, alone or over an endless plane, from the charges on its faces."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from models.formulas.constants import EPS0

Array = NDArray[np.float64]
Sides = tuple[float, float, float]


@frozen(eq=False)
class Face:
    """The cells of one face: which axis stands on it, their middles (N, 3) and half their sides (N, 2)."""

    normal: int
    middles: Array
    halves: Array


def box_capacitance(sides_m: Sides, height_m: float | None = None, cells: int = 10) -> float:
    """Return the capacitance in F of a box whose lower face stands at a height over a plane, None for no plane.

    Each face carries cells of even charge; the potential at the middle of each is that of the box, the plane is an
    image of the opposite charge. A side of 0 makes it a plate.
    """
    faces = tuple(_faces(sides_m, cells))
    places = np.concatenate([each.middles for each in faces])
    matrix = np.concatenate([_potentials(places, each) for each in faces], axis=1)
    if height_m is not None:
        seen = places * (1.0, 1.0, -1.0) - (0.0, 0.0, 2.0 * height_m)
        matrix -= np.concatenate([_potentials(seen, each) for each in faces], axis=1)
    charges = np.linalg.solve(matrix, np.ones(len(places)))
    return float(4.0 * math.pi * EPS0 * charges.sum())


def _potentials(places: Array, face: Face) -> Array:
    """Return 4πε0 times the potential at places (P, 3) of a unit charge spread evenly over each cell (N), (P, N)."""
    apart = places[:, None, :] - face.middles[None, :, :]
    x, y = (apart[..., k] for k in _across(face.normal))
    z = np.abs(apart[..., face.normal])
    a, b = face.halves[:, 0], face.halves[:, 1]
    corners = sum(s * t * _corner(x + s * a, y + t * b, z) for s in (1.0, -1.0) for t in (1.0, -1.0))
    return np.asarray(corners / (4.0 * a * b), np.float64)


def _corner(x: Array, y: Array, z: Array) -> Array:
    """Return the integral of 1/r over a rectangle, as far as one of its corners has part in it."""
    r = np.sqrt(x * x + y * y + z * z)
    tiny = 1e-300
    lines = x * np.arcsinh(y / np.maximum(np.hypot(x, z), tiny)) + y * np.arcsinh(x / np.maximum(np.hypot(y, z), tiny))
    return np.asarray(lines - z * np.arctan2(x * y, np.maximum(z * r, tiny)), np.float64)


def _faces(sides: Sides, cells: int) -> Iterator[Face]:
    """Yield the faces that have an area, the lower one at height 0."""
    for normal in range(3):
        first, second = (sides[k] for k in _across(normal))
        if first and second:
            for level in sorted({0.0, sides[normal]}):
                yield _face(sides, normal, level, cells)


def _face(sides: Sides, normal: int, level: float, cells: int) -> Face:
    one, other = (_cut(sides[k], max(round(cells * sides[k] / max(sides)), 4)) for k in _across(normal))
    middles = np.full((len(one) * len(other), 3), level, np.float64)
    for axis, column in zip(_across(normal), np.meshgrid(one[:, 0], other[:, 0]), strict=True):
        middles[:, axis] = column.ravel()
    halves = np.stack([each.ravel() for each in np.meshgrid(one[:, 1], other[:, 1])], axis=1)
    return Face(normal, middles, halves)


def _cut(side: float, count: int) -> Array:
    """Return the middles and half lengths of the cells along a side, shorter towards its ends, where charge gathers."""
    marks = 0.5 * side * (1.0 - np.cos(np.linspace(0.0, math.pi, count + 1)))
    return np.stack([0.5 * (marks[1:] + marks[:-1]), 0.5 * (marks[1:] - marks[:-1])], axis=1)


def _across(normal: int) -> tuple[int, int]:
    first, second = (k for k in range(3) if k != normal)
    return first, second
