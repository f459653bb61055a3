"""A bead from measured impedance: a resistance and as many Foster cells as the data supports."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from models.arrays import Complex, Real
from models.fitting.checks import after_fit, before_fit, require_points
from models.fitting.data import Measurement
from models.fitting.elements import foster
from models.fitting.refine import FINE, FLOOR_NEPER, Polished, Target, information, log_deviation, make_target, polish
from models.fitting.result import FitResult, make_result
from models.fitting.starts import cell_grid, impedance_of, with_new_cell

_FIRST_SCALE = 0.1
"""Neper (0.9 dB): what counts as an outlier while the shape is still being found."""
_WIDTH = 2
"""Different fits of each size that are carried on to the next."""


def fit_bead(measurement: Measurement, *, max_cells: int = 4, rdc_ohm: float | None = None) -> FitResult:
    """Fit a bead: Rdc and Foster cells of positive R, L, C.

    Z = Rdc + Σ 1/(1/R + 1/(jωL) + jωC), least squares on ln|Z| and phase, each decade counting alike.

    Parameters
    ----------
    measurement : data
    max_cells : most cells; fewer are taken where the data does not support them
    rdc_ohm : DC resistance where it is known otherwise, Ω; by default that of the data's point at 0 Hz, if any

    Returns
    -------
    FitResult
        Passive and causal. The same data gives the same result.

    Raises
    ------
    DataError
        For fewer than four points.

    Notes
    -----
    Usual error on ferrite from 1 MHz to 100 MHz: under 0.3 dB and 3° with three cells, half of it with four. Holds
    inside ``range_hz``; outside it, each cell goes on as the lumped circuit that it is.
    Source: R. M. Foster, A Reactance Theorem (1924); relaxations as cells: `cell_grid`.
    """
    require_points(measurement)
    rdc = measurement.dc_ohm if rdc_ohm is None else rdc_ohm
    known = () if rdc is None else (0,)
    target = make_target(measurement)
    growth = _grow(measurement, target, max_cells, rdc)
    scale = 3 * growth[-1].spread()
    best = _thinned(min(growth, key=lambda fit: information(fit, scale)), target, scale, known)
    fine = make_target(measurement, FINE)
    best = polish(foster, best.values, fine, scale=3 * best.spread(), evaluations=100, known=known)
    best = _tidied(best, fine, known)
    warnings = [*before_fit(measurement), *after_fit("bead", best.values, measurement)]
    if rdc is None and not _sees_rdc(best, fine):
        warnings.append("the data does not show the DC resistance; give it from a data sheet or a DC measurement")
    return make_result("bead", best, measurement, warnings, known=known)


def _grow(measurement: Measurement, target: Target, max_cells: int, rdc: float | None) -> list[Polished]:
    """Return the best fit of one cell, two cells and so on, as far as the number of points allows."""
    rough = make_target(measurement, 64)
    grid = cell_grid(rough.omega)
    known = () if rdc is None else (0,)
    beam = [np.array([_first_rdc(impedance_of(rough)) if rdc is None else rdc])]
    growth: list[Polished] = []
    for count in range(1, max(1, min(max_cells, (7 * target.size // 10 - 1) // 3)) + 1):
        trials = [_rough(start, rough, known) for fit in beam for start in with_new_cell(fit, grid, rough, 3)]
        if not trials:
            trials = [_rough(np.concatenate([beam[0], _least_cell(rough)]), rough, known)]
        if count > 1:
            trials += _swapped(min(trials, key=_rough_cost).values, grid, rough, known)
        kept = _distinct(trials)
        beam = [fit.values for fit in kept]
        growth.append(polish(foster, beam[0], target, scale=_FIRST_SCALE, evaluations=100, known=known))
        if growth[-1].cost(_FIRST_SCALE) < FLOOR_NEPER**2:
            break
    return growth


def _thinned(fit: Polished, target: Target, scale: float, known: Sequence[int]) -> Polished:
    """Take cells out that the others can stand in for."""
    while fit.values.size > 4:
        rests = [np.delete(fit.values, slice(place, place + 3)) for place in range(1, fit.values.size, 3)]
        trials = [polish(foster, rest, target, scale=scale, evaluations=100, known=known) for rest in rests]
        rival = min(trials, key=lambda trial: information(trial, scale))
        if information(rival, scale) > information(fit, scale):
            break
        fit = rival
    return fit


def _first_rdc(z: Complex) -> float:
    least = float(np.abs(z).min())
    return max(0.5 * min(float(z.real.min()), least), 1e-3 * least)


def _least_cell(target: Target) -> Real:
    """Return a cell too small to matter: for data that asks for none, such as a plain resistance."""
    least = float(np.exp(target.log_z.real.min()))
    high = target.omega[-1]
    return 1e-3 * least * np.array([1.0, 1 / high, 1e6 / (30 * high * least**2)])


def _rough(start: Real, target: Target, known: Sequence[int], evaluations: int = 40) -> Polished:
    return polish(foster, start, target, scale=_FIRST_SCALE, evaluations=evaluations, known=known, tolerance=1e-4)


def _rough_cost(fit: Polished) -> float:
    return fit.cost(_FIRST_SCALE)


def _swapped(values: Real, grid: Real, target: Target, known: Sequence[int]) -> list[Polished]:
    """Take each cell but the newest out, and put in what the data then asks for."""
    trials = []
    for cell in range((values.size - 1) // 3 - 1):
        rest = np.delete(values, slice(1 + 3 * cell, 4 + 3 * cell))
        rest = _rough(rest, target, known, evaluations=15).values
        trials += [_rough(start, target, known) for start in with_new_cell(rest, grid, target, 1)[:1]]
    return trials


def _distinct(trials: Sequence[Polished]) -> list[Polished]:
    """Return the best few fits that are not the same minimum found twice."""
    kept: list[Polished] = []
    for fit in sorted(trials, key=_rough_cost):
        if not kept or _rough_cost(fit) > 1.02 * _rough_cost(kept[-1]):
            kept.append(fit)
        if len(kept) == _WIDTH:
            break
    return kept


def _tidied(fit: Polished, target: Target, known: Sequence[int]) -> Polished:
    """Drop what changes the impedance by less than the floor anywhere in range, and order the cells by their corner."""
    values = fit.values.copy()
    droppable = [place for place in range(values.size) if place % 3 == 0 and place not in known]
    for place in droppable:
        without = values.copy()
        without[place] = 0.0
        change = np.log(foster(without, target.omega)[0] / foster(values, target.omega)[0])
        if np.abs(change).max() < FLOOR_NEPER:
            values = without
    cells = values[1:].reshape(-1, 3)
    order = np.argsort(cells[:, 0] / cells[:, 1], kind="stable")
    values = np.concatenate([values[:1], cells[order].ravel()])
    return polish(foster, values, target, scale=3 * fit.spread(), evaluations=2, known=known)


def _sees_rdc(fit: Polished, target: Target) -> bool:
    """Return whether the resistance at the low end is Rdc in the main, and sure."""
    least = float(foster(fit.values, target.omega[:1])[0].real[0])
    return bool(fit.values[0] > 0.5 * least and log_deviation(fit)[0] < 0.7)
