"""Words of the check against the built board: what can be unknown, and what a measurement says of it."""

from __future__ import annotations

from collections.abc import Sequence

from models.case.document import Case
from models.decide.board_fit import BoardFit, FittedValue
from models.decide.parameters import Parameter
from models.fitting.data import Measurement
from models.quantity import format_quantity

_ALIKE = "Values that act alike cannot be told apart: untick those that you know."
_LIKELY = ("interwinding_capacitance_f", "esl_h")


def unknown_label(parameter: Parameter) -> str:
    """Return what a value that may be unknown is called, with what it is at present."""
    return f"{parameter.owner}: {parameter.label}, {format_quantity(parameter.value, parameter.unit, digits=4)}"


def likely_unknown(offered: Sequence[Parameter]) -> tuple[bool, ...]:
    """Return which values are unknown to begin with: those of windings and leads, where there are none those of strays.

    All of them together are seldom told: what stands in parallel, or in series, acts alike.
    """
    likely = tuple(each.key in _LIKELY for each in offered)
    return likely if any(likely) else tuple(map(_is_stray, offered))


def _is_stray(parameter: Parameter) -> bool:
    return parameter.edge is not None and parameter.edge[0] == "coupling" and parameter.key == "capacitance_f"


def about_text(case: Case, candidate: int, measured: Measurement | None) -> str:
    """Return what to measure, or what was measured, and which bridge counts as being in place."""
    if not case.candidates:
        return "There is no candidate yet: add the bridge that is in place, “Nothing” where there is none."
    place = f"“{case.candidates[candidate].name}”"
    if measured is None:
        return f"Measure between “{case.pair.a}” and “{case.pair.b}”, with {place} and everything else in place."
    return f"{_measurement_text(measured)} In place: {place}, as it is selected in the window."


def _measurement_text(measured: Measurement) -> str:
    low, high = (format_quantity(float(each), "Hz", digits=3) for each in (measured.f_hz[0], measured.f_hz[-1]))
    phase = "with phase" if measured.has_phase else "without phase"
    return f"{measured.f_hz.size} points from {low} to {high}, {phase}."


def fit_text(fit: BoardFit) -> str:
    """Return how well the case agrees with the measurement, before and after, and every value with its interval."""
    agreement = f"The case differed from the measurement by {fit.before_db:.2g} dB rms; now by {fit.after_db:.2g} dB."
    alike = () if all(each.known for each in fit.values) else (_ALIKE,)
    return "\n".join((agreement, *map(_value_text, fit.values), *alike, "Intervals are 95 %."))


def _value_text(each: FittedValue) -> str:
    unit = each.parameter.unit
    name = f"{each.parameter.owner}: {each.parameter.label}"
    if not each.known:
        return f"{name}: this measurement does not tell it; it stays."
    value, low, high = (format_quantity(v, unit, digits=3) for v in (each.value, each.low, each.high))
    return f"{name}: {value}, between {low} and {high}."
