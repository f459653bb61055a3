"""What matters most: how impedance, common-mode voltage and margins change with every value of a case, exactly."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import partial

import numpy as np
from attrs import frozen

from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.decide.adjoint import adjoint
from models.decide.direct import dropping
from models.decide.instant import peak_instant, phases
from models.decide.noise import band_points
from models.decide.parameters import Parameter, mains_parameters, network_parameters, source_parameters
from models.decide.person import touch_slopes
from models.decide.ruling import shown
from models.decide.waves import amplitude_slope, shape_slope
from models.formulas.impedance import Complex, Real
from models.network.grid import DC, Grid, point_grid
from models.network.solver import Solver
from models.outcomes.common_mode import CommonMode, common_mode
from models.outcomes.lines import SourceLines, source_lines
from models.sources.registry import Source

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


@frozen(kw_only=True, eq=False)
class CommonModeSlope:
    """How the common mode of one source changes with one value.

    Attributes
    ----------
    coefficients : (N + 1,) ∂V_n/∂p of the two-sided Fourier coefficients, order 0 set to 0
    dc_v : ∂(mean)/∂p, V per SI unit
    peak_v : ∂(peak)/∂p, V per SI unit, at the instant of the peak
    """

    parameter: Parameter
    coefficients: Complex
    dc_v: float
    peak_v: float


@frozen(kw_only=True, eq=False)
class _Driven:
    """One source at work: its lines, the common mode, and e^(jω_n t*) at its peak with the sign of the peak."""

    solver: Solver
    case: Case
    candidate: Candidate
    source: Source
    lines: SourceLines
    mode: CommonMode
    turns: Complex

    def of_network(self) -> Iterator[CommonModeSlope]:
        lines = self.lines
        solve = partial(adjoint, self.solver, self.case, self.candidate)
        at_lines, at_dc = None if lines.grid is None else solve(lines.grid), solve(DC)
        for parameter in network_parameters(self.case, self.candidate):
            change = np.zeros_like(lines.coefficients)
            if at_lines is not None:
                change[1:] = lines.coefficients[1:] * at_lines.transfer_slope(self.source, parameter)
            mean = lines.mean * float(at_dc.transfer_slope(self.source, parameter)[0].real) if lines.mean else 0.0
            yield self._slope(parameter, change, mean)

    def of_source(self) -> Iterator[CommonModeSlope]:
        lines = self.lines
        gain = partial(self.solver.transfer, self.case, self.candidate, self.source)
        dc_gain = float(gain(DC)[0].real) if lines.mean else 0.0
        for parameter in source_parameters(self.case, self.source):
            change = _wave_slope(self.source, parameter, len(lines.coefficients) - 1)
            if change is not None:
                mean = float(change[0].real) * dc_gain
                if lines.grid is not None:
                    change[1:] *= gain(lines.grid)
                yield self._slope(parameter, change, mean)

    def _slope(self, parameter: Parameter, change: Complex, dc_v: float) -> CommonModeSlope:
        change[0] = 0.0
        sign = float(self.turns[0].real)
        peak = sign * dc_v + 2.0 * float(np.sum(change * self.turns).real)
        return CommonModeSlope(parameter=parameter, coefficients=change, dc_v=dc_v, peak_v=peak)


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


def common_mode_slopes(
    solver: Solver, case: Case, candidate: Candidate, source: Source
) -> tuple[CommonMode, tuple[CommonModeSlope, ...]]:
    """Return the common mode of a source and how it changes with every value of the network and of the source.

    V_n = c_n·A·H(f_n): ∂V_n/∂p = c_n·A·∂H/∂p for the network, ∂(c_n·A)/∂p·H for the source. The peak follows the
    instant at which it stands: ∂peak/∂p = ±∂v(t*)/∂p, exact while the same instant stays the highest.

    Parameters
    ----------
    solver, case, candidate, source : what is solved; its current must have a way back

    Returns
    -------
    (the common mode, one slope a parameter)

    Raises
    ------
    ValueError
        a direct current has no way back, so that there is no peak
    """
    mode = common_mode(solver, case, candidate, source)
    if not math.isfinite(mode.peak_v):
        raise ValueError(f"the current of {source.name} has no way back")
    place, height = peak_instant(mode)
    driven = _Driven(
        solver=solver,
        case=case,
        candidate=candidate,
        source=source,
        lines=source_lines(solver, case, source),
        mode=mode,
        turns=math.copysign(1.0, height) * phases(len(mode.coefficients) - 1, place),
    )
    return mode, (*driven.of_network(), *driven.of_source())


def margin_slopes(
    solver: Solver, case: Case, candidate: Candidate, requirement: Requirement
) -> tuple[float, Mapping[Parameter, float]]:
    """Return the value that a requirement judges, at nominal values, and how it changes with every parameter.

    The margin 20·log10(limit/value) changes by −8.686 dB·(∂value/∂p)/value.

    Parameters
    ----------
    solver, case, candidate : what is judged
    requirement : ``return-impedance``, ``common-mode-voltage``, ``dc-drop`` or ``touch-current``

    Returns
    -------
    (value, parameter → ∂value/∂p); nothing for other kinds

    Raises
    ------
    ValueError
        the requirement's value is unbounded, so that it has no slope
    """
    if requirement.kind == "touch-current" and case.mains is not None:
        return touch_slopes(solver, case, candidate, (*network_parameters(case, candidate), *mains_parameters(case)))
    if requirement.kind == "return-impedance":
        return _worst_impedance(solver, case, candidate, requirement)
    if requirement.kind == "dc-drop":
        return _dropped(solver, case, candidate)
    if requirement.kind == "common-mode-voltage" and case.sources:
        return _worst_source(solver, case, candidate)
    return 0.0, {}


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


def effects_in_band(
    z: Complex, slopes: Mapping[Parameter, Complex], f_hz: Real, band_hz: tuple[float, float]
) -> tuple[Effect, ...]:
    """Return what every value does to the highest |Z| within a band.

    Parameters
    ----------
    z, slopes : what `impedance_slopes` gave
    f_hz : (F,) Hz, with at least one inside the band
    band_hz : lower and upper end
    """
    inside = np.flatnonzero((f_hz >= band_hz[0]) & (f_hz <= band_hz[1]))
    index = int(inside[np.argmax(np.abs(z[inside]))])
    where = f" at {shown(float(f_hz[index]), 'Hz')}, the highest of the band"
    return effects(*_magnitude(z, slopes, index), where=where)


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


def _wave_slope(source: Source, parameter: Parameter, count: int) -> Complex | None:
    """Return ∂(c_n·A)/∂p (N + 1,) of a source; None for a value that shapes a wave in a way not differentiated here."""
    if parameter.path[2] == "wave":
        return shape_slope(source, parameter.key, count)
    return amplitude_slope(source, parameter.key, count)


def _worst_impedance(
    solver: Solver, case: Case, candidate: Candidate, requirement: Requirement
) -> tuple[float, Mapping[Parameter, float]]:
    band = requirement.band_hz
    assert band is not None
    grid = point_grid(tuple(band_points(case.sweep, band).tolist()))
    magnitude = np.abs(solver.in_circuit(case, candidate, grid))
    worst = int(np.argmax(magnitude))
    if not np.isfinite(magnitude[worst]):
        raise ValueError("nothing joins the regions")
    z, slopes = impedance_slopes(solver, case, candidate, point_grid((float(grid.f_hz[worst]),)))
    return _magnitude(z, slopes, 0)


def _worst_source(solver: Solver, case: Case, candidate: Candidate) -> tuple[float, Mapping[Parameter, float]]:
    modes = [common_mode(solver, case, candidate, source) for source in case.sources]
    worst = int(np.argmax([mode.peak_v for mode in modes]))
    if not math.isfinite(modes[worst].peak_v):
        raise ValueError(f"the current of {modes[worst].source} has no way back")
    mode, slopes = common_mode_slopes(solver, case, candidate, case.sources[worst])
    return mode.peak_v, {each.parameter: each.peak_v for each in slopes}


def _dropped(solver: Solver, case: Case, candidate: Candidate) -> tuple[float, Mapping[Parameter, float]]:
    """Return what the sources that drop most together drop, V, and its slopes: the sum of theirs."""
    means = [common_mode(solver, case, candidate, source).dc_v for source in case.sources]
    value = 0.0
    found: dict[Parameter, float] = {}
    for place in dropping(means):
        if not math.isfinite(means[place]):
            raise ValueError(f"the current of {case.sources[place].name} has no way back")
        value += abs(means[place])
        for each in common_mode_slopes(solver, case, candidate, case.sources[place])[1]:
            slope = math.copysign(1.0, means[place]) * each.dc_v
            found[each.parameter] = found.get(each.parameter, 0.0) + slope
    return value, found
