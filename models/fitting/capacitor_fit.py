"""A capacitor from measured impedance: C, ESR, ESL and loss; slow branches where one loss tangent does not do."""

from __future__ import annotations

import numpy as np

from models.arrays import Real
from models.fitting.checks import after_fit, before_fit, require_points
from models.fitting.data import Measurement
from models.fitting.elements import condenser
from models.fitting.refine import FINE, Polished, Target, information, make_target, polish, simplest
from models.fitting.result import FitResult, errors, make_result
from models.fitting.starts import impedance_of

_PLAIN_DB, _PLAIN_DEG = 0.15, 1.5
"""Errors below which the plain capacitor is good enough, whatever branches might gain."""
_SCALE = 0.1


def fit_capacitor(measurement: Measurement, *, max_branches: int = 4) -> FitResult:
    """Fit a capacitor: capacitance, ESR, ESL, dissipation factor, insulation resistance as far as the data shows them.

    Z = ESR + jωESL + 1/(ωC(tanδ + j) + 1/Rins + Σ 1/(Rb + 1/(jωCb)))

    Branches Rb, Cb replace tanδ where the plain capacitor comes near 0.2 dB or 2° and they better it clearly: a
    capacitance that falls over many decades, as in class II ceramics. With them the fit is causal by construction.

    Parameters
    ----------
    measurement : data
    max_branches : most slow branches, 0 for none

    Returns
    -------
    FitResult

    Raises
    ------
    DataError
        For fewer than four points.

    Notes
    -----
    Usual error 0.2 dB and 2° up to three times the self-resonance.
    Source: ESR and tanδ as in IEC 60384-1; RC branches: any text on dielectric relaxation.
    """
    require_points(measurement)
    target = make_target(measurement)
    best = _with_branches(_plain(target), measurement, target, max_branches)
    best = polish(condenser, best.values, make_target(measurement, FINE), scale=3 * best.spread())
    warnings = [*before_fit(measurement), *after_fit("capacitor", best.values, measurement)]
    return make_result("capacitor", best, measurement, warnings)


def _plain(target: Target) -> Polished:
    """Fit without branches. A leak is believed only where it halves the squared error: loss looks like one."""
    tight, leaky = (_from_starts(target, leak) for leak in (np.inf, 100.0))
    scale = 3 * tight.spread()
    return leaky if leaky.cost(scale) < 0.5 * tight.cost(scale) else tight


def _from_starts(target: Target, leak: float) -> Polished:
    start = _start(target, leak)
    starts = (start, start * (1, 0.1, 0.3, 0.1, 1), start * (1, 0.3, 1, 1, 1))
    trials = [polish(condenser, values, target, scale=_SCALE, evaluations=100) for values in starts]
    return simplest(condenser, min(trials, key=lambda fit: fit.cost(_SCALE)), target, {1: 0.0, 2: 0.0, 3: 0.0})


def _start(target: Target, leak: float) -> Real:
    """Read C at the low end, ESL at the high end or the resonance, ESR at the least |Z|, tanδ from R at the low end."""
    omega, z = target.omega, impedance_of(target)
    low = slice(0, max(2, omega.size // 6))
    capacitance = 1 / float(np.median(np.abs(z[low]) * omega[low]))
    dip = int(np.argmin(np.abs(z)))
    inductance = 1 / (omega[dip] ** 2 * capacitance)
    if dip == omega.size - 1:
        inductance *= 0.1
    esr = max(0.5 * float(np.abs(z[dip])) if dip == omega.size - 1 else float(np.abs(z[dip])), 1e-6)
    loss = float(np.clip(np.median(z.real[low] / np.abs(z[low])), 1e-4, 0.5))
    return np.array([capacitance, esr, inductance, loss, leak * float(np.abs(z[0]))])


def _with_branches(plain: Polished, measurement: Measurement, target: Target, most: int) -> Polished:
    """Return the capacitor with as many branches as the data supports, or the plain one where that is good enough."""
    error_db, error_deg = errors("capacitor", plain.values, measurement)
    size = max(error_db / _PLAIN_DB, error_deg / _PLAIN_DEG)
    if size <= 1:
        return plain
    scale = 3 * plain.spread()
    trials = [_branched(plain, target, count) for count in range(1, most + 1)]
    if not trials:
        return plain
    best = min(trials, key=lambda fit: information(fit, scale))
    gained = errors("capacitor", best.values, measurement)
    return best if max(gained[0] / _PLAIN_DB, gained[1] / _PLAIN_DEG) < 0.7 * size else plain


def _branched(plain: Polished, target: Target, count: int) -> Polished:
    """Spread branches over the range: each takes 2·tanδ/π of C for each neper of frequency that it stands for."""
    capacitance, esr, esl, loss = plain.values[:4]
    resonance = 1 / np.sqrt(max(esl, 1e-18) * capacitance)
    edges = np.geomspace(target.omega[0] / 2, min(target.omega[-1], max(resonance, target.omega[0])), count + 1)
    corners = np.sqrt(edges[:-1] * edges[1:])
    share = 2 / np.pi * max(loss, 1e-3) * np.log(edges[1] / edges[0])
    slow = np.full(count, capacitance * share)
    start = np.concatenate(
        [[capacitance, esr, esl, 0.0, plain.values[4]], np.stack([1 / (corners * slow), slow], axis=1).ravel()]
    )
    fit = polish(condenser, start, target, scale=_SCALE, evaluations=200)
    return polish(condenser, fit.values, target, scale=3 * fit.spread(), evaluations=100)
