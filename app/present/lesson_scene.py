"""What the plots of a lesson are made from: where the learner stands, the document, and who is to be seen."""

from __future__ import annotations

import numpy as np

from app.lessons.course import Course
from app.lessons.document import Drag, Plot, Step
from app.lessons.truth import Truth
from app.present.specs import CurveSpec, Ink
from models.arrays import Real
from models.case.document import Candidate, Case

GUESS = Ink(slot=5)
POINTS = 400
ALONE = ("bridge", "measured")
"""Plots of the bridge alone: a meter is set to zero with the bridge taken out, and then sees nothing else."""


class Scene:
    """What a plot is made from."""

    def __init__(
        self,
        truth: Truth,
        course: Course,
        present: Case,
        *,
        seen: tuple[tuple[int, Candidate], ...],
        strong: str,
        cursor_hz: float | None,
    ) -> None:
        self.truth = truth
        self.course = course
        self.step: Step = course.step
        self.plot: Plot = course.step.plot
        self.own: Case = truth.lesson.case_of(course.step)
        self.present = present
        self.seen = seen
        self.strong = strong
        self.answered = not course.asks_now
        self.at_hz = (cursor_hz or self.plot.at_hz) if self.answered else None

    def measured(self) -> tuple[CurveSpec, ...]:
        """Return the measurement laid over, where there is one."""
        if self.plot.measurement is None:
            return ()
        found = self.truth.measurement(self.plot.measurement)
        label = "measured"
        return (CurveSpec(label=label, ink=GUESS, x=found.f_hz, y=np.abs(found.z_ohm), strong=self.strong == label),)

    def is_strong(self, index: int, name: str) -> bool:
        """Return whether a curve stands in front: the one pointed at, else the one that is asked for."""
        if self.strong:
            return name == self.strong
        wanted = getattr(self.step, "candidate", None)
        if wanted is None and isinstance(self.step, Drag):
            wanted = self.truth.lesson.number(self.step.number).candidate
        return name == wanted if wanted is not None else index == 0


def seen_candidates(step: Step, present: Case, *, answered: bool) -> tuple[tuple[int, Candidate], ...]:
    """Return the candidates that are shown, with their places in the document."""
    everyone = tuple(each.name for each in present.candidates)
    names = (step.plot.after or everyone) if answered else step.plot.before
    if step.kind == "read":
        names = step.plot.before or step.plot.after or everyone
    if step.kind == "design":
        names = everyone
    return tuple((index, each) for index, each in enumerate(present.candidates) if each.name in names)


def value_at_hz(truth: Truth, step: Step) -> float | None:
    """Return where on an impedance plot a value can be dragged; None where the plot has no place for it."""
    if not isinstance(step, Drag) or step.plot.kind not in ("impedance", *ALONE):
        return None
    number = truth.lesson.number(step.number)
    fits = number.what == ("bridge" if step.plot.kind in ALONE else "in-circuit") and number.case == step.plot.case
    return number.at_hz if fits and number.at_hz else None


def frequencies(case: Case) -> Real:
    """Return the frequencies of a case's curves (F,), in Hz."""
    return np.geomspace(case.sweep.start_hz, case.sweep.stop_hz, POINTS)
