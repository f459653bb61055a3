"""Words of the check against the built board: what can be unknown, and what a measurement says of it."""

from __future__ import annotations

import math

from models.decide.board_fit import BoardFit, FittedValue
from models.decide.parameters import Parameter
from models.fitting.data import Measurement
from models.quantity import format_quantity

_LIKELY = ("interwinding_capacitance_f", "esl_h")


def unknown_label(parameter: Parameter) -> str:
    """Return what a value that may be unknown is called, with what it is at present."""
    return f"{parameter.owner}: {parameter.label}, {format_quantity(parameter.value, parameter.unit)}"


def likely_unknown(parameter: Parameter) -> bool:
    """Return whether a value is one that is seldom known before the board is built: of windings, leads, strays."""
    stray = parameter.edge is not None and parameter.edge[0] == "coupling"
    return parameter.key in _LIKELY or (stray and parameter.key == "capacitance_f")


def measurement_text(measured: Measurement) -> str:
    """Return what a measurement holds in one line."""
    low, high = (format_quantity(float(each), "Hz", digits=3) for each in (measured.f_hz[0], measured.f_hz[-1]))
    phase = "with phase" if measured.has_phase else "without phase"
    return f"{measured.f_hz.size} points from {low} to {high}, {phase}."


def fit_text(fit: BoardFit) -> str:
    """Return how well the case agrees with the measurement, before and after, and every value with its interval."""
    agreement = f"The case differed from the measurement by {fit.before_db:.2g} dB rms; now by {fit.after_db:.2g} dB."
    return "\n".join((agreement, *map(_value_text, fit.values), "Intervals are 95 %."))


def _value_text(each: FittedValue) -> str:
    unit = each.parameter.unit
    name = f"{each.parameter.owner}: {each.parameter.label}"
    if not each.known or not math.isfinite(each.high):
        return f"{name}: this measurement does not tell it."
    value, low, high = (format_quantity(v, unit, digits=3) for v in (each.value, each.low, each.high))
    return f"{name}: {value}, between {low} and {high}."
