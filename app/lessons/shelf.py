"""The shelf: every lesson that can be opened, one's own beside the shipped ones, and how far the learner is in each."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

from app.lessons.course import Course
from app.lessons.document import Design, Lesson
from app.lessons.progress import keep_progress, load_progress
from app.lessons.read import load_own
from app.lessons.task import Check, check_task
from app.lessons.truth import Truth
from models.case.document import Case

_OWN = "lessons"


class Shelf:
    """The lessons, one of them open; what changes in where a learner stands is kept at once.

    Parameters
    ----------
    folder : where progress is kept, and lessons of one's own in a folder `lessons`
    shipped : the course
    truth_of : what computes a lesson's truth; each lesson's is kept
    """

    def __init__(self, folder: Path, shipped: tuple[Lesson, ...], truth_of: Callable[[Lesson], Truth]) -> None:
        self._folder = folder
        self._shipped = shipped
        self._truth_of = cache(truth_of)
        self.lessons = shipped
        self.courses: list[Course] = []
        self.at = 0
        self.own_folder = folder / _OWN
        self._circuits: dict[tuple[str, str], Case] = {}
        self._task: tuple[str, str] | None = None

    def load(self) -> tuple[str, ...]:
        """Take the shipped lessons and one's own; return what is wrong with those that cannot be used."""
        own, wrong = load_own(self.own_folder)
        self.lessons = (*self._shipped, *own)
        self.courses = [load_progress(self._folder, each) for each in self.lessons]
        return wrong

    @property
    def course(self) -> Course:
        """Where the learner stands in the open lesson."""
        return self.courses[self.at]

    @property
    def truth(self) -> Truth:
        """The truth of the open lesson."""
        return self._truth_of(self.lessons[self.at])

    @property
    def at_last(self) -> bool:
        """Whether the open lesson is the last."""
        return self.at == len(self.lessons) - 1

    def keep(self, course: Course) -> None:
        """Take another state of the open lesson, and keep it where it differs."""
        if course is not self.course:
            self.courses[self.at] = course
            keep_progress(self._folder, course)

    def enter(self) -> Case:
        """Begin the present step; return its circuit: a task's as it was left, else the lesson's own."""
        place = self.course.lesson.id, self.course.step.id
        self._task = place if isinstance(self.course.step, Design) else None
        return self._circuits.get(place, self.course.lesson.case_of(self.course.step))

    def leave(self, circuit: Case) -> None:
        """Remember what was made of the task that was begun last, for when the learner comes back to it."""
        if self._task is not None:
            self._circuits[self._task] = circuit

    def check(self, present: Case, selected: int) -> Check | None:
        """Judge a candidate by the present task, and keep that it is solved; None without a task or a candidate."""
        course = self.course
        if not isinstance(course.step, Design) or not present.candidates:
            return None
        candidate = present.candidates[min(selected, len(present.candidates) - 1)]
        found = check_task(self.truth.bench.solver, course.lesson, course.step, present, candidate)
        if found.met:
            self.keep(course.solve())
        return found

    def begin_again(self) -> None:
        """Begin the open lesson anew, its tasks as well."""
        own = self.course.lesson.id
        self._circuits = {place: each for place, each in self._circuits.items() if place[0] != own}
        self.keep(self.course.again())

    def answered(self) -> list[tuple[Course, Truth]]:
        """Return the lessons in which an answer was shown, with what is true of each."""
        return [(course, self._truth_of(course.lesson)) for course in self.courses if course.shown]
