"""Where a bead fit starts: cells that the data itself asks for, found by linear steps over a grid of resonances."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.arrays import Complex, Real
from models.fitting.elements import foster
from models.fitting.refine import Target

_QUALITIES = (0.6, 1.5, 4.0, 12.0, 40.0)


def cell_grid(omega: Real) -> Real:
    """Return unit cells (K, 3) of R = 1 Ω, L, C: an inductance, relaxations, resonances, a decade beyond the range.

    A relaxation is R ∥ L, one Debye term of the permeability; its C only acts far above the range.
    """
    low, high = omega[0], omega[-1]
    count = max(12, int(6 * np.log10(high / low * 100)))
    corners = np.geomspace(low / 10, high * 10, count)
    relaxations = np.stack([np.ones(count), 1 / corners, 1 / (30 * np.maximum(high, corners))], axis=1)
    resonances = [np.stack([np.ones(count), 1 / (corners * q), q / corners], axis=1) for q in _QUALITIES]
    inductance = np.array([[1.0, 1e-3 / high, 1e-3 / high]])
    return np.concatenate([inductance, relaxations, *resonances])


def with_new_cell(values: Real, grid: Real, target: Target, count: int) -> list[Real]:
    """Return copies of the fit with one more cell each, those that shrink the relative error most.

    Two scores are asked, for they find different cells: the cell added to the fit as it stands, and with the present
    cells free to be rescaled.

    Parameters
    ----------
    values : (1 + 3·cells,) present fit
    grid : (K, 3) unit cells
    target : data
    count : how many by each score

    Returns
    -------
    list of (4 + 3·cells,)
    """
    z = impedance_of(target)
    relative = _stacked((z - foster(values, target.omega)[0]) / z, target)
    columns = _stacked(_cells(grid, target.omega) / z[:, None], target)
    present = _cells(values[1:].reshape(-1, 3), target.omega)
    series = np.full((z.size, 1), values[0] or 1e-30)
    basis, _ = np.linalg.qr(_stacked(np.concatenate([series, present], axis=1) / z[:, None], target))
    plain = _score(columns, relative, columns)
    rescaled = _score(columns - basis @ (basis.T @ columns), relative - basis @ (basis.T @ relative), columns)
    chosen = [(place, size) for gain, sizes in (rescaled, plain) for place, size in _best(gain, sizes, grid, count)]
    return [np.concatenate([values, grid[place] * (size, size, 1 / size)]) for place, size in chosen]


def impedance_of(target: Target) -> Complex:
    """Return the data's impedance; without a phase, with the least phase that goes with the slope of the magnitude.

    arg Z ≈ 90° · d ln|Z| / d ln ω. Source: H. W. Bode, Network Analysis and Feedback Amplifier Design (1945), ch. 14.
    """
    if target.has_phase or target.omega.size < 3:
        return np.asarray(np.exp(target.log_z), np.complex128)
    slope = np.gradient(target.log_z.real, np.log(target.omega))
    return np.asarray(np.exp(target.log_z.real + 0.5j * np.pi * np.clip(slope, -0.98, 0.98)), np.complex128)


def _cells(cells: Real, omega: Real) -> Complex:
    resistance, inductance, capacitance = cells.T
    jw = 1j * omega[:, None]
    return np.asarray(1 / (1 / resistance + 1 / (jw * inductance) + jw * capacitance), np.complex128)


def _stacked(relative: Complex, target: Target) -> Real:
    weight = target.root_weight if relative.ndim == 1 else target.root_weight[:, None]
    return np.concatenate([relative.real * weight, relative.imag * weight])


def _score(columns: Real, error: Real, plain: Real) -> tuple[Real, Real]:
    """Gain of each column alone, at its best size above 0, and that size."""
    along = columns.T @ error
    size = np.maximum(along, 0) / ((columns**2).sum(axis=0) + 1e-12 * (plain**2).sum(axis=0))
    return size * along, size


def _best(gain: Real, sizes: Real, grid: Real, count: int) -> list[tuple[int, float]]:
    picked: list[int] = []
    for place in np.argsort(-gain, kind="stable"):
        if gain[place] <= 0 or len(picked) == count:
            break
        if all(_apart(grid[place], grid[other]) for other in picked):
            picked.append(int(place))
    return [(place, float(sizes[place])) for place in picked]


def _apart(cell: NDArray[np.float64], other: NDArray[np.float64]) -> bool:
    return bool(np.abs(np.log(cell[1:] / other[1:])).max() > 0.8)
