"""What matters most: how the impedance changes with every value of a case, exactly."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.decide.adjoint import adjoint
from models.decide.parameters import Parameter, network_parameters
from models.decide.verdict import shown
from models.network.grid import Grid
from models.network.solver import Solver

_DB = 20.0 / math.log(10.0)
_STEPS = {"H": 1e-9, "m": 1e-3}
_STEPS_AT_MOST = 200.0
_SHARE = 0.1
_STEEP_DB = 3.0
"""Beyond this a step is no longer small: near a sharp resonance a tenth of it is spoken of."""
_LEAST_SAID_DB = 0.001


@frozen(kw_only=True)
class Effect:
    """What one value does to one outcome.

    Attributes
    ----------
    parameter : which value
    log_slope : d ln(outcome)/d ln(value): 1 % more of the value makes log_slope % more of the outcome
    step : the change that `change_db` and `text` speak of, SI, below 0 for less
    change_db : change of the outcome with that step, taken as linear, dB
    text : in words
    """

    parameter: Parameter
    log_slope: float
    step: float
    change_db: float
    text: str


def impedance_slopes(
    solver: Solver, case: Case, candidate: Candidate, grid: Grid
) -> tuple[Complex, Mapping[Parameter, Complex]]:
    """Return the impedance in circuit and how it changes with every value of the network.

    ∂Z/∂p = i_e²·∂z_e/∂p, with i_e the current through the edge of p for 1 A at the pair.

    Parameters
    ----------
    solver, case, candidate, grid : what is solved; the pair must not be open

    Returns
    -------
    (Z (F,) in Ω, parameter → ∂Z/∂p (F,) in Ω per SI unit)

    Notes
    -----
    Exact for the network; the parts' own slopes are exact or good to 1e-9, see `slopes`. Source: `adjoint`.
    """
    solved = adjoint(solver, case, candidate, grid)
    return solved.impedance, {
        parameter: solved.impedance_slope(parameter) for parameter in network_parameters(case, candidate)
    }


def effects(value: float, slopes: Mapping[Parameter, float], *, where: str = "") -> tuple[Effect, ...]:
    """Return what every value does to an outcome, that which matters most first.

    The order is by what 10 % of each value does. A text speaks of 1 nH for an inductance and 1 mm for a length where
    the value is larger than that and not above 200 times as large, else of 10 %.

    Parameters
    ----------
    value : the outcome, SI, above 0
    slopes : parameter → ∂outcome/∂p
    where : the end of the sentence, such as ``at 60 MHz``
    """
    ranked = sorted(slopes.items(), key=lambda item: -abs(item[0].value * item[1]))
    return tuple(_effect(parameter, parameter.value * slope / value, where) for parameter, slope in ranked if slope)


def effects_at(z: Complex, slopes: Mapping[Parameter, Complex], f_hz: Real, cursor_hz: float) -> tuple[Effect, ...]:
    """Return what every value does to |Z| at the frequency nearest to the cursor.

    Parameters
    ----------
    z, slopes : what `impedance_slopes` gave
    f_hz : (F,) Hz
    cursor_hz : where to read
    """
    index = int(np.argmin(np.abs(np.log(f_hz / cursor_hz))))
    return effects(*_magnitude(z, slopes, index), where=f" at {shown(float(f_hz[index]), 'Hz')}")


def _magnitude(z: Complex, slopes: Mapping[Parameter, Complex], index: int) -> tuple[float, Mapping[Parameter, float]]:
    """Return |Z| and its slopes at one point: ∂|Z|/∂p = Re(conj(Z)·∂Z/∂p)/|Z|."""
    there = z[index]
    size = float(abs(there))
    return size, {key: float((np.conj(there) * slope[index]).real) / size for key, slope in slopes.items()}


def _effect(parameter: Parameter, log_slope: float, where: str) -> Effect:
    step = _step(parameter, log_slope)
    change = _DB * log_slope * step / parameter.value
    amount = shown(-step, parameter.unit) if _natural_step(parameter) else f"{-100.0 * step / parameter.value:.0f} %"
    text = f"{amount} less {parameter.label} ({parameter.owner}): {change_text(change)}{where}"
    return Effect(parameter=parameter, log_slope=log_slope, step=step, change_db=change, text=text)


def change_text(change_db: float) -> str:
    """Return a change of level with its sign and two digits, ``−0.45 dB``; what nobody could measure is called so.

    Parameters
    ----------
    change_db : dB
    """
    if abs(change_db) < _LEAST_SAID_DB:
        return f"less than {_LEAST_SAID_DB:g} dB"
    number = f"{change_db:+.0f}" if abs(change_db) >= 10.0 else f"{change_db:+.2g}"
    return f"{number} dB".replace("-", "−")


def _natural_step(parameter: Parameter) -> float | None:
    """Return 1 nH or 1 mm where that is something of the value, neither nearly all of it nor next to nothing."""
    step = _STEPS.get(parameter.unit, math.inf)
    return step if step < parameter.value <= _STEPS_AT_MOST * step else None


def _step(parameter: Parameter, log_slope: float) -> float:
    step = _natural_step(parameter) or _SHARE * parameter.value
    return -0.1 * step if abs(_DB * log_slope * step / parameter.value) > _STEEP_DB else -step
