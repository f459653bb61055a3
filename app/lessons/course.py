"""Where a learner stands in a lesson: a frozen state, and what each act makes of it."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from attrs import evolve, field, frozen

from app.lessons.document import Design, Lesson, Step
from app.lessons.predict import Prediction
from app.lessons.truth import asks
from models.case.document import Case

SAME, CHANGED, LOST = "same", "changed", "lost"


@frozen(kw_only=True)
class Course:
    """The state of one lesson.

    Attributes
    ----------
    at : index of the present step
    predictions : step → what was predicted
    shown : steps whose answer was shown
    solved : design tasks that were met
    """

    lesson: Lesson = field(repr=False)
    at: int = 0
    predictions: Mapping[str, Prediction] = MappingProxyType({})
    shown: frozenset[str] = frozenset()
    solved: frozenset[str] = frozenset()

    @property
    def step(self) -> Step:
        """The present step."""
        return self.lesson.steps[self.at]

    @property
    def prediction(self) -> Prediction | None:
        """What was predicted at the present step, None where nothing was yet."""
        return self.predictions.get(self.step.id)

    @property
    def asks_now(self) -> bool:
        """Whether the present step still waits for its answer to be shown."""
        return asks(self.step) and self.step.id not in self.shown

    @property
    def at_end(self) -> bool:
        """Whether this is the last step."""
        return self.at == len(self.lesson.steps) - 1

    @property
    def finished(self) -> bool:
        """Whether every question was answered and every task met."""
        return all(self.done(step) for step in self.lesson.steps)

    @property
    def begun(self) -> bool:
        """Whether anything was done yet."""
        return bool(self.at or self.predictions or self.shown or self.solved)

    def done(self, step: Step) -> bool:
        """Return whether a step is behind the learner; a page to read is as soon as the next one is open."""
        if asks(step):
            return step.id in self.shown
        if isinstance(step, Design):
            return step.id in self.solved
        return self.lesson.steps.index(step) < self.at

    def predict(self, prediction: Prediction | None) -> Course:
        """Return the state with a prediction for the present step; what was shown can no longer be predicted."""
        if not self.asks_now:
            return self
        kept = {key: value for key, value in self.predictions.items() if key != self.step.id}
        added: dict[str, Any] = {} if prediction is None else {self.step.id: prediction}
        return evolve(self, predictions=MappingProxyType({**kept, **added}))

    def show(self) -> Course:
        """Return the state with the present answer shown, whether it was predicted or not."""
        return evolve(self, shown=self.shown | {self.step.id}) if asks(self.step) else self

    def solve(self) -> Course:
        """Return the state with the present task met; one that is met already is the same."""
        if not isinstance(self.step, Design) or self.step.id in self.solved:
            return self
        return evolve(self, solved=self.solved | {self.step.id})

    def forward(self) -> Course:
        """Return the state one step on; a question that still stands keeps its learner."""
        return self if self.asks_now or self.at_end else evolve(self, at=self.at + 1)

    def back(self) -> Course:
        """Return the state one step back."""
        return evolve(self, at=max(self.at - 1, 0))

    def jump(self, index: int) -> Course:
        """Return the state at a step that was reached before; further ones stay shut."""
        return evolve(self, at=index) if 0 <= index <= self.reach else self

    @property
    def reach(self) -> int:
        """Index of the furthest step that is open: the first question that still stands, or the last step."""
        shut = (k for k, step in enumerate(self.lesson.steps) if asks(step) and not self.done(step))
        return next(shut, len(self.lesson.steps) - 1)

    def again(self) -> Course:
        """Return the state of the lesson begun anew."""
        return Course(lesson=self.lesson)


def stance(course: Course, present: Case) -> str:
    """Return how the present document stands to the case of the step.

    ``same``; ``changed``, in which case the lesson follows; or ``lost``, where what the step speaks of is no longer
    there, and the lesson has to ask for its own case back.
    """
    own = course.lesson.case_of(course.step)
    if present == own:
        return SAME
    if present.regions != own.regions or present.surroundings != own.surroundings:
        return LOST
    wanted = set(wanted_candidates(course.step))
    return CHANGED if wanted <= {each.name for each in present.candidates} else LOST


def wanted_candidates(step: Step) -> tuple[str, ...]:
    """Return the candidates that a step speaks of."""
    named = getattr(step, "candidate", None)
    return (*step.plot.before, *step.plot.after, *(() if named is None else (named,)))
