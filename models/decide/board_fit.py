"""Values of a case read back from a measurement of the built pair."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.decide.parameters import Parameter, network_parameters
from models.errors import DataError
from models.fitting.data import Measurement, log_resampled
from models.network.grid import point_grid
from models.network.solver import Solver

_POINTS = 200
_REACH = 1e3
"""How far from its present value an unknown is looked for, as a factor either way."""
_UNSEEN, _LEAST_VARIANCE = 1e-9, 1e-8
"""No measurement is better than 0.01 %, and none tells a value that moves it by a billionth."""
_REACTIVE = ("F", "H")


@frozen(kw_only=True)
class FittedValue:
    """An unknown value: what it was, what the measurement says, and the 95 % interval of that."""

    parameter: Parameter
    value: float
    low: float
    high: float

    @property
    def known(self) -> bool:
        """Whether the measurement tells the value at all: within a factor of three either way."""
        return self.high < 9.0 * self.low


@frozen(kw_only=True, eq=False)
class BoardFit:
    """A candidate of the case brought to agree with a measurement.

    Attributes
    ----------
    values : the unknowns, in the order they were given
    before_db, after_db : rms of |ln(Z/Z_measured)| before and after, told as dB
    f_hz, z_ohm : (F,) the fitted impedance in circuit over the points that were used
    """

    case: Case
    values: tuple[FittedValue, ...]
    before_db: float
    after_db: float
    f_hz: Real
    z_ohm: Complex


def unknowns(case: Case, candidate: Candidate) -> tuple[Parameter, ...]:
    """Return the capacitances and inductances above 0 that shape the impedance of a candidate in circuit."""
    return tuple(
        each for each in network_parameters(case, candidate) if each.unit in _REACTIVE and 0.0 < each.value < math.inf
    )


def _unheard(_rms_db: float) -> None:
    """Tell nobody."""


def fit_board(
    case: Case,
    candidate: int,
    measured: Measurement,
    free: tuple[Parameter, ...],
    tried: Callable[[float], None] = _unheard,
) -> BoardFit:
    """Return the unknowns that make the impedance between the regions agree with its measurement.

    min Σ |ln(Z(p)/Z_measured)|² over ln p: relative error of |Z| and error of the phase count alike

    Parameters
    ----------
    case, candidate : what was built, and the index of the bridge in place
    measured : impedance between the regions; without phase only |Z| counts
    free : the unknowns, of `unknowns`
    tried : hears of every try, what it leaves, rms in dB; raises to give the fit up

    Returns
    -------
    BoardFit; intervals are 95 % of Student's t about the linearised fit, ``0`` to ``inf`` where the measurement does
    not tell a value

    Raises
    ------
    DataError
        where nothing is unknown, where the points are fewer than two an unknown, or where the pair is open

    Notes
    -----
    Good where the case has every path that counts; a path left out shows in what the rms keeps. Source: Seber & Wild,
    Nonlinear Regression, chapter 5.
    """
    from scipy.optimize import least_squares
    from scipy.stats import t as student

    f_hz, z_measured = log_resampled(measured, _POINTS)
    _refuse(measured, f_hz, free)
    start = np.log([each.value for each in free])

    def impedance(logs: Real) -> Complex:
        return _in_circuit(*_with(case, case.candidates[candidate], free, np.exp(logs)), f_hz)

    def residual(logs: Real) -> Real:
        ratio = np.log(impedance(logs) / z_measured)
        left = np.concatenate((ratio.real, ratio.imag)) if measured.has_phase else np.asarray(ratio.real)
        tried(_rms_db(left, f_hz.size))
        return left

    if not np.isfinite(impedance(start)).all():
        raise DataError("found an open pair; accepted: a bridge or a coupling between the regions")
    reach = math.log(_REACH)
    found = least_squares(residual, start, bounds=(start - reach, start + reach), x_scale="jac")
    freedom = max(found.fun.size - len(free), 1)
    widths = float(student.ppf(0.975, freedom)) * _deviations(
        np.asarray(found.jac), float(np.sum(found.fun**2)) / freedom
    )
    new_case, bridge = _with(case, case.candidates[candidate], free, np.exp(found.x))
    rest = case.candidates[candidate + 1 :]
    return BoardFit(
        case=evolve(new_case, candidates=(*case.candidates[:candidate], bridge, *rest)),
        values=tuple(_fitted(each, at, width) for each, at, width in zip(free, found.x, widths, strict=True)),
        before_db=_rms_db(residual(start), f_hz.size),
        after_db=_rms_db(found.fun, f_hz.size),
        f_hz=f_hz,
        z_ohm=impedance(found.x),
    )


def _refuse(measured: Measurement, f_hz: Real, free: tuple[Parameter, ...]) -> None:
    if not free:
        raise DataError("found nothing unknown; accepted: at least one value to be fitted")
    if f_hz.size < 2 * len(free):
        raise DataError(f"{measured.source}: found {f_hz.size} points; accepted: two or more for each unknown")


def _with(case: Case, bridge: Candidate, free: tuple[Parameter, ...], values: Real) -> tuple[Case, Candidate]:
    for parameter, value in zip(free, values.tolist(), strict=True):
        case, bridge = parameter.changed(case, bridge, value)
    return case, bridge


def _in_circuit(case: Case, bridge: Candidate, f_hz: Real) -> Complex:
    return Solver().in_circuit(case, bridge, point_grid(f_hz.tolist()))


def _deviations(jacobian: Real, variance: float) -> Real:
    """Return the standard deviations of ln p; very large for a direction that the measurement does not see."""
    _, size, turned = np.linalg.svd(jacobian, full_matrices=False)
    spread = 1.0 / np.maximum(size, _UNSEEN * max(float(size.max()), 1.0))
    return np.asarray(math.sqrt(max(variance, _LEAST_VARIANCE)) * np.linalg.norm(turned * spread[:, None], axis=0))


def _fitted(parameter: Parameter, log_value: float, width: float) -> FittedValue:
    value = math.exp(log_value)
    if width > math.log(_REACH):
        return FittedValue(parameter=parameter, value=value, low=0.0, high=math.inf)
    return FittedValue(parameter=parameter, value=value, low=value * math.exp(-width), high=value * math.exp(width))


def _rms_db(residual: Real, points: int) -> float:
    return 20.0 / math.log(10.0) * math.sqrt(float(np.sum(residual**2)) / points)
