"""What a learner predicts, and how near it comes."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from app.lessons.claim import parse_claim
from app.lessons.document import Asking, Choose, Drag, Draw, Lesson, Step
from app.lessons.truth import Truth, knots_hz
from models.quantity import parse_quantity

RIGHT, CLOSE, OFF = "right", "close", "off"
_RIGHT_FACTOR, _CLOSE_FACTOR = 1.6, 4.0
_RIGHT_SHARE, _CLOSE_SHARE = 0.1, 0.25
_RIGHT_DECADES, _CLOSE_DECADES = 0.3, 0.75
_ENOUGH = 0.6
"""Share of the axis that a drawn curve has to cover."""


@frozen(kw_only=True)
class Drawn:
    """A curve drawn by hand: (frequency in Hz, |Z| in Ω) at some of the knots, in their order."""

    points: tuple[tuple[float, float], ...]

    def at(self, f_hz: float) -> float:
        """Return the curve between its points, the nearest point beyond its ends."""
        f, z = (np.log10(np.array(each)) for each in zip(*self.points, strict=True))
        return float(10.0 ** np.interp(math.log10(f_hz), f, z))


@frozen(kw_only=True)
class Dragged:
    """A value dragged to where it is thought to belong, SI."""

    value: float


@frozen(kw_only=True)
class Picked:
    """An answer picked, with its reason where reasons are offered."""

    option: str
    reason: str = ""


Prediction = Drawn | Dragged | Picked


@frozen(kw_only=True)
class Reply:
    """How near a prediction came, and which sections of the text speak to it.

    Attributes
    ----------
    outcome : ``right``, ``close`` or ``off``
    distance : decades for curves and values on a log scale, share of the scale for linear ones, 0 or 1 for answers
    sections : of the text, for the wrong ideas that show in the prediction
    """

    outcome: str
    distance: float
    sections: tuple[str, ...] = ()

    @property
    def points(self) -> float:
        """1 for right, a half for close."""
        return {RIGHT: 1.0, CLOSE: 0.5}.get(self.outcome, 0.0)


def reply(truth: Truth, step: Asking, prediction: Prediction) -> Reply:
    """Return how near a prediction came."""
    if isinstance(step, Drag) and isinstance(prediction, Dragged):
        return _reply_to_value(truth, step, prediction.value)
    if isinstance(step, Draw) and isinstance(prediction, Drawn):
        return _reply_to_curve(truth, step, prediction)
    assert isinstance(step, Choose)
    assert isinstance(prediction, Picked)
    return _reply_to_answer(step, prediction)


def fits(lesson: Lesson, step: Step, prediction: Prediction) -> bool:
    """Return whether a prediction is one that this step can take, and whole."""
    if isinstance(step, Drag):
        return isinstance(prediction, Dragged) and math.isfinite(prediction.value)
    if isinstance(step, Draw):
        return isinstance(prediction, Drawn) and covers(prediction, knots_hz(lesson.case_of(step)).size)
    if not isinstance(step, Choose) or not isinstance(prediction, Picked):
        return False
    options, reasons = ({each.id for each in group} for group in (step.options, step.reasons))
    return prediction.option in options and (prediction.reason in reasons or not reasons)


def covers(drawn: Drawn, knots: int) -> bool:
    """Return whether a curve was drawn over enough of the axis to be looked at."""
    return len(drawn.points) >= _ENOUGH * knots


def ends_of(truth: Truth, step: Drag) -> tuple[float, float]:
    """Return the ends of a value's slider, SI."""
    unit = truth.unit(step.number)
    return parse_quantity(step.low, unit), parse_quantity(step.high, unit)


def _reply_to_value(truth: Truth, step: Drag, value: float) -> Reply:
    true, (low, high) = truth.value(step.number), ends_of(truth, step)
    if step.scale == "linear":
        distance = abs(value - true) / (high - low)
        limits = (_RIGHT_SHARE, _CLOSE_SHARE)
    else:
        distance = abs(math.log10(max(value, 1e-30) / true))
        limits = (math.log10(_RIGHT_FACTOR), math.log10(_CLOSE_FACTOR))
    unit = truth.unit(step.number)
    outcome = _outcome(distance, limits)
    held = [each.id for each in step.ideas if parse_claim(each.when, unit).holds(value)]
    return Reply(
        outcome=outcome,
        distance=distance,
        sections=tuple(f"{step.id}/if {each}" for each in held if outcome != RIGHT),
    )


def _reply_to_curve(truth: Truth, step: Draw, drawn: Drawn) -> Reply:
    f_hz, true = truth.knots(step)
    at = dict(zip(f_hz.tolist(), true.tolist(), strict=True))
    decades = [abs(math.log10(z / at[f])) for f, z in drawn.points if f in at]
    distance = sum(decades) / len(decades) if decades else math.inf
    held = [each.id for each in step.ideas if parse_claim(each.when, "ohm").holds(drawn.at(each.at_hz or f_hz[0]))]
    outcome = _outcome(distance, (_RIGHT_DECADES, _CLOSE_DECADES))
    if held and outcome == RIGHT:
        # near on average, and past the one point that the lesson is about
        outcome = CLOSE
    return Reply(outcome=outcome, distance=distance, sections=tuple(f"{step.id}/if {each}" for each in held))


def _reply_to_answer(step: Choose, picked: Picked) -> Reply:
    option = next(each for each in step.options if each.id == picked.option)
    reason = next((each for each in step.reasons if each.id == picked.reason), None)
    sections = () if option.is_right else (f"{step.id}/if {option.id}",)
    if reason is not None and not reason.is_right:
        sections = (*sections, f"{step.id}/because {reason.id}")
    right = (option.is_right, reason is None or reason.is_right)
    outcome = RIGHT if all(right) else CLOSE if option.is_right else OFF
    return Reply(outcome=outcome, distance=0.0 if option.is_right else 1.0, sections=sections)


def _outcome(distance: float, limits: tuple[float, float]) -> str:
    return RIGHT if distance <= limits[0] else CLOSE if distance <= limits[1] else OFF
