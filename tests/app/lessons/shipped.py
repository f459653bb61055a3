"""The shipped lessons, read once for all tests."""

from __future__ import annotations

from app.lessons.claim import parse_claim
from app.lessons.document import Choose, Drag, Draw, Lesson
from app.lessons.predict import Dragged, Drawn, Picked, Prediction, ends_of
from app.lessons.read import load_course
from app.lessons.truth import Truth

LESSONS: tuple[Lesson, ...] = load_course()
TRUTHS: dict[str, Truth] = {lesson.id: Truth(lesson) for lesson in LESSONS}


def right(truth: Truth, step: Choose | Drag | Draw) -> Prediction:
    """Return the prediction of somebody who knows."""
    if isinstance(step, Choose):
        reason = next((each.id for each in step.reasons if each.is_right), "")
        return Picked(option=next(each.id for each in step.options if each.is_right), reason=reason)
    if isinstance(step, Drag):
        return Dragged(value=truth.value(step.number))
    f_hz, z = truth.knots(step)
    return Drawn(points=tuple(zip(f_hz.tolist(), z.tolist(), strict=True)))


def wrong(truth: Truth, step: Choose | Drag | Draw) -> Prediction:
    """Return a prediction that is far off."""
    if isinstance(step, Choose):
        reason = next((each.id for each in step.reasons if not each.is_right), "")
        return Picked(option=next(each.id for each in step.options if not each.is_right), reason=reason)
    if isinstance(step, Drag):
        low, high = ends_of(truth, step)
        true = truth.value(step.number)
        middle = (low * high) ** 0.5 if step.scale == "log" else 0.5 * (low + high)
        return Dragged(value=high if true < middle else low)
    f_hz, z = truth.knots(step)
    return Drawn(points=tuple((f, 1e4 * each) for f, each in zip(f_hz.tolist(), z.tolist(), strict=True)))


def broken_claims(lesson: Lesson) -> tuple[str, ...]:
    """Return every claim of a lesson that its numbers no longer bear out, one sentence each."""
    truth = Truth(lesson)
    return tuple(
        f"{lesson.id}: {number.name} is {truth.shown(number.name)}; the words say {number.claim}"
        for number in lesson.script.numbers
        if not parse_claim(number.claim, truth.unit(number.name)).holds(truth.value(number.name))
    )
