"""The design task at the end of a lesson, checked by its requirements."""

from __future__ import annotations

from attrs import evolve, frozen

from app.lessons.document import Design, Lesson
from models.case.check import contradictions
from models.case.document import Candidate, Case
from models.decide.judges import judge_one
from models.decide.subject import Subject
from models.decide.verdict import Verdict
from models.network.solver import Solver


@frozen(kw_only=True)
class Check:
    """A candidate judged by the requirements of a task.

    Attributes
    ----------
    case : the task's own case with what the learner may change taken over, and the candidate
    candidate : its name
    verdicts : one a requirement
    kept : whether something was changed that the task keeps, and so does not count
    """

    case: Case
    candidate: str
    verdicts: tuple[Verdict, ...]
    kept: bool

    @property
    def met(self) -> bool:
        """Whether every requirement that applies passes, and at least one does apply."""
        outcomes = [each.outcome for each in self.verdicts]
        return "pass" in outcomes and "fail" not in outcomes


def check_task(solver: Solver, lesson: Lesson, step: Design, present: Case, candidate: Candidate) -> Check:
    """Judge a candidate of the present document in the task's own surroundings.

    Parameters
    ----------
    solver : remembers the network between calls
    lesson, step : the task
    present : the document as the learner has it
    candidate : of that document
    """
    own = lesson.case_of(step)
    taken = {name: getattr(present, name) for name in step.free if name != "candidates"}
    case = evolve(own, candidates=(candidate,), **taken)
    if contradictions(case):
        case = evolve(own, candidates=(candidate,))
    subject = Subject(solver=solver, case=case, candidate=candidate)
    return Check(
        case=case,
        candidate=candidate.name,
        verdicts=tuple(judge_one(subject, each) for each in case.requirements),
        kept=evolve(present, candidates=()) != evolve(case, candidates=()),
    )
