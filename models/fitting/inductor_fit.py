"""An inductor from measured impedance: L, Rdc, winding capacitance and loss as far as the data shows them."""

from __future__ import annotations

import numpy as np

from models.arrays import Real
from models.fitting.checks import after_fit, before_fit, require_points
from models.fitting.data import Measurement
from models.fitting.elements import coil
from models.fitting.refine import FINE, Target, make_target, polish, simplest
from models.fitting.result import FitResult, make_result
from models.fitting.starts import impedance_of

_SCALE = 0.1


def fit_inductor(measurement: Measurement, *, rdc_ohm: float | None = None) -> FitResult:
    """Fit an inductor: inductance, DC resistance, winding capacitance, parallel loss resistance.

    Z = (Rdc + jωL) ∥ 1/(jωC) ∥ Rp

    Parameters
    ----------
    measurement : data
    rdc_ohm : DC resistance where it is known otherwise, Ω; by default that of the data's point at 0 Hz, if any

    Returns
    -------
    FitResult

    Raises
    ------
    DataError
        For fewer than four points.

    Notes
    -----
    Usual error 0.5 dB up to three times the first resonance of an air or powder core; a ferrite whose permeability
    falls inside the range is better fitted as a bead. Source: any text on inductors.
    """
    require_points(measurement)
    rdc = measurement.dc_ohm if rdc_ohm is None else rdc_ohm
    known = () if rdc is None else (1,)
    target = make_target(measurement)
    absent = {2: 0.0, 3: np.inf} | ({1: 0.0} if rdc is None else {})
    trials = [
        polish(coil, values, target, scale=_SCALE, evaluations=100, known=known) for values in _starts(target, rdc)
    ]
    best = simplest(coil, min(trials, key=lambda fit: fit.cost(_SCALE)), target, absent, known=known)
    best = polish(coil, best.values, make_target(measurement, FINE), scale=3 * best.spread(), known=known)
    warnings = [*before_fit(measurement), *after_fit("inductor", best.values, measurement)]
    return make_result("inductor", best, measurement, warnings, known=known)


def _starts(target: Target, rdc: float | None) -> list[Real]:
    """Read L below the peak, C at the peak, Rp from its height, Rdc at the low end."""
    omega, z = target.omega, impedance_of(target)
    peak = int(np.argmax(np.abs(z)))
    below = slice(0, max(2, peak // 2))
    rising = z.imag[below] / omega[below]
    inductance = float(np.median(rising[rising > 0])) if (rising > 0).any() else float(np.abs(z[0]) / omega[0])
    resonance = omega[peak] * (3.0 if peak == omega.size - 1 else 1.0)
    capacitance = 1 / (resonance**2 * inductance)
    series = max(float(z.real[0]), 1e-3 * float(np.abs(z[0]))) if rdc is None else rdc
    high = float(np.abs(z[peak]))
    return [np.array([inductance, series, capacitance, loss]) for loss in (high, 10 * high)]
