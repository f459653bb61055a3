"""Least squares on log impedance: polishing a start, how many values the data supports, and how sure they are."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.fitting.data import Measurement, log_resampled, log_share
from models.fitting.elements import Shape

FLOOR_NEPER = 2e-4
"""0.002 dB: no data supports more than this."""

_HOLD = 1e-3
"""Pull of each ln value towards its start, far below what data says: what the data is silent on stays where it was."""

_RANGE_LN = 60.0


@frozen(kw_only=True, eq=False)
class Target:
    """What a fit is held against: thinned data, each decade counting alike."""

    omega: Real
    log_z: Complex
    root_weight: Real
    has_phase: bool

    @property
    def size(self) -> int:
        """Number of real residuals."""
        return self.omega.size * (2 if self.has_phase else 1)


@frozen(kw_only=True, eq=False)
class Polished:
    """Values at a minimum, with the residuals (unweighted, real) and their slopes there."""

    values: Real
    residual: Real
    """(M,) neper and radian."""
    slopes: Real
    """(M, P) of the residual in ln value."""
    weight: Real
    """(M,) share of each residual, mean 1."""

    def cost(self, scale: float) -> float:
        """Mean soft-L1 square of the residuals, outliers counted by their size and not its square."""
        return float(np.mean(self.weight * _soft_square(self.residual, scale)))

    def spread(self) -> float:
        """Robust rms of the residuals, neper."""
        return max(1.4826 * float(np.median(np.abs(self.residual))), FLOOR_NEPER)


FINE = 1000
"""Most points for the last polish: thin enough to be quick, dense enough to leave narrow resonances their shape."""


def make_target(measurement: Measurement, limit: int = 300) -> Target:
    """Thin a measurement and take its logarithm."""
    f_hz, z_ohm = log_resampled(measurement, limit)
    return Target(
        omega=math.tau * f_hz,
        log_z=np.log(z_ohm),
        root_weight=np.sqrt(log_share(f_hz)),
        has_phase=measurement.has_phase,
    )


def polish(
    shape: Shape,
    start: Real,
    target: Target,
    *,
    scale: float,
    evaluations: int = 60,
    known: Sequence[int] = (),
    tolerance: float = 1e-9,
) -> Polished:
    """Bring a start to the nearest minimum of the soft-L1 cost over ln values.

    Values of 0 or infinity are absent and stay so, and so do the known ones.

    Parameters
    ----------
    shape : the impedance with its log slopes
    start : (P,) SI units
    target : data
    scale : residual in neper beyond which a point counts as an outlier
    evaluations : most evaluations of the shape
    known : places of values that are not to be moved
    tolerance : relative gain in cost, and step, at which to stop

    Returns
    -------
    Polished
    """
    from scipy.optimize import leastsq

    free = np.setdiff1d(np.flatnonzero((start > 0) & np.isfinite(start)), np.array(known, int))
    origin = np.log(start[free])
    weight = np.tile(target.root_weight, 2 if target.has_phase else 1)

    def values_at(theta: Real) -> Real:
        values = start.copy()
        values[free] = np.exp(np.clip(theta, -_RANGE_LN, _RANGE_LN))
        return values

    latest: list[tuple[Real, tuple[Real, Real]]] = []

    def both(theta: Real) -> tuple[Real, Real]:
        # the solver asks for residuals and slopes at the same place, one after the other
        if not latest or not np.array_equal(latest[0][0], theta):
            latest[:] = [(theta.copy(), residuals(shape, values_at(theta), target))]
        return latest[0][1]

    def fun(theta: Real) -> Real:
        raw, _ = both(theta)
        return np.concatenate([weight * _soft(raw, scale), _HOLD * (theta - origin)])

    def jac(theta: Real) -> Real:
        raw, slopes = both(theta)
        bend = weight * _soft_slope(raw, scale)
        return np.concatenate([bend[:, None] * slopes[:, free], _HOLD * np.eye(free.size)])

    theta = leastsq(fun, origin, Dfun=jac, ftol=tolerance, xtol=tolerance, maxfev=evaluations, full_output=True)[0]
    values = values_at(theta)
    raw, slopes = residuals(shape, values, target)
    return Polished(values=values, residual=raw, slopes=slopes, weight=weight**2)


def residuals(shape: Shape, values: Real, target: Target) -> tuple[Real, Real]:
    """Log ratio fit/data and its slopes in ln values: magnitudes in neper, then phases in radian."""
    z, slopes = shape(values, target.omega)
    ratio = np.log(z) - target.log_z
    relative = slopes / z[:, None]
    if not target.has_phase:
        return ratio.real, relative.real
    phase = (ratio.imag + np.pi) % math.tau - np.pi
    return np.concatenate([ratio.real, phase]), np.concatenate([relative.real, relative.imag])


def simplest(
    shape: Shape, fit: Polished, target: Target, absent: Mapping[int, float], *, known: Sequence[int] = ()
) -> Polished:
    """Leave out, one after the other, the values that the data does not support (less is better by `information`).

    Parameters
    ----------
    shape : the impedance with its log slopes
    fit : all values present
    target : data
    absent : place of each value that may go, and what it is when absent (0 or infinity)
    known : places of values that are not to be moved

    Returns
    -------
    Polished
    """
    scale = 3 * fit.spread()
    best = polish(shape, fit.values, target, scale=scale, known=known)
    while True:
        trials = []
        for place, gone in absent.items():
            if best.values[place] != gone:
                without = best.values.copy()
                without[place] = gone
                trials.append(polish(shape, without, target, scale=scale, known=known))
        if not trials:
            return best
        rival = min(trials, key=lambda trial: information(trial, scale))
        if information(rival, scale) > information(best, scale):
            return best
        best = rival


def information(fit: Polished, scale: float) -> float:
    """Bayesian information criterion, nats; less is better. It stops counting gains below FLOOR_NEPER."""
    size, count = fit.residual.size, int(np.isfinite(fit.values).sum() - (fit.values == 0).sum())
    return size * math.log(fit.cost(scale) + FLOOR_NEPER**2) + count * math.log(size)


def log_deviation(fit: Polished, known: Sequence[int] = ()) -> Real:
    """Standard deviation (P,) of each ln value from the slopes there; ``inf`` where the data is silent, 0 if known.

    Neighbouring residuals that move together tell less than independent ones: their variance is raised by
    (1 + ρ)/(1 − ρ), ρ the correlation of neighbours.
    """
    deviation = np.full(fit.values.size, np.inf)
    deviation[list(known)] = 0.0
    present = np.setdiff1d(np.flatnonzero(np.any(fit.slopes != 0, axis=0)), np.array(known, int))
    free = max(fit.residual.size - present.size, 1)
    variance = max(float(np.sum(fit.weight * _soft_square(fit.residual, 3 * fit.spread()))) / free, 1e-16)
    weighted = fit.slopes[:, present] * np.sqrt(fit.weight)[:, None]
    _, singular, v = np.linalg.svd(weighted, full_matrices=False)
    told = singular > 1e-9 * singular[0]
    spread = np.sqrt(variance * _correlation(fit.residual) * ((v[told].T / singular[told]) ** 2).sum(axis=1))
    # a direction that changes nothing leaves open the values that it is made of, and no others
    spread[(np.abs(v[~told]) > 1e-3).any(axis=0)] = np.inf
    deviation[present] = spread
    return deviation


def _correlation(residual: Real) -> float:
    energy = float(residual @ residual)
    rho = float(residual[1:] @ residual[:-1]) / energy if energy > 0 else 0.0
    rho = min(max(rho, 0.0), 0.95)
    return (1 + rho) / (1 - rho)


def _soft_square(residual: Real, scale: float) -> Real:
    return np.asarray(2 * scale**2 * (np.sqrt(1 + (residual / scale) ** 2) - 1), np.float64)


def _soft(residual: Real, scale: float) -> Real:
    """Residual whose plain square is the soft-L1 square."""
    return np.asarray(residual * np.sqrt(2 / (np.sqrt(1 + (residual / scale) ** 2) + 1)), np.float64)


def _soft_slope(residual: Real, scale: float) -> Real:
    root = np.sqrt(1 + (residual / scale) ** 2)
    return np.asarray(np.sqrt((root + 1) / 2) / root, np.float64)
