"""A lesson made from a case and a few questions, without writing files by hand."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from attrs import evolve, frozen

from app.lessons.claim import ABOUT
from app.lessons.document import (
    CASE,
    Asking,
    Choice,
    Choose,
    Design,
    Drag,
    Draw,
    Lesson,
    Number,
    Plot,
    Read,
    Script,
    Step,
)
from app.lessons.quantities import QUANTITIES
from app.lessons.task import check_task
from app.lessons.truth import Truth
from app.state.edits import free_name
from models.case.document import Candidate, Case
from models.errors import QuantityError
from models.network.solver import Solver
from models.quantity import format_quantity, parse_quantity

_ROOM = 300.0
"""How far the ends of a slider lie from the truth, so that its middle does not tell."""
_SWEEP_ENDS = {"ohm": (1e-4, 1e9), "V": (1e-6, 1e5), "A": (1e-9, 1e2), "F": (1e-14, 1e-3)}


@frozen(kw_only=True)
class Question:
    """One question of a lesson: what is asked, and why the answer is what it is.

    Attributes
    ----------
    kind : ``value``, ``draw`` or ``choose``
    ask, why : Markdown; ``{answer}`` in `why` is the computed value
    candidate : whose value or curve it is; the right one of a choice
    quantity : of a value or a choice, such as ``in-circuit`` or ``common-mode-peak``
    at_hz : where it is read, where the quantity has a frequency
    """

    kind: str
    ask: str
    why: str
    candidate: str
    quantity: str = "in-circuit"
    at_hz: float | None = None


def lesson_from_case(
    case: Case,
    *,
    id: str,
    title: str,
    intro: str,
    questions: tuple[Question, ...],
    remember: str,
    solution: Candidate | None = None,
    teacher: str = "",
) -> Lesson:
    """Return a lesson about a case.

    Parameters
    ----------
    case : as it stands; its requirements check the task at the end
    id, title, intro, remember, teacher : the words around the questions
    questions : in their order
    solution : a candidate that meets the requirements; the case's first that does, where left out

    Raises
    ------
    QuantityError
        where no candidate of the case meets its requirements, or a question asks for what cannot be
    """
    numbers = tuple(_number(case, index, each) for index, each in enumerate(questions, start=1))
    found = _Draft(case, numbers).claimed()
    asked = tuple(_step(case, index, each, found[index - 1]) for index, each in enumerate(questions, start=1))
    task, meets = _task(case, solution)
    steps: tuple[Step, ...] = (Read(id="intro", title="What it is about"), *asked, task)
    texts = {"intro": intro, "task": _TASK, "task/why": f"{meets.name} meets every line."}
    for step, question in zip(asked, questions, strict=True):
        texts[step.id] = question.ask
        texts[f"{step.id}/why"] = question.why.replace("{answer}", "{" + f"{step.id}_value" + "}")
        if isinstance(step, Choose):
            texts |= {f"{step.id}/if {each.id}": _OTHER for each in step.options if not each.is_right}
    if teacher:
        texts["teacher"] = teacher
    script = Script(title=title, minutes=3 + 2 * len(questions), remember=remember, numbers=found, steps=steps)
    return Lesson(id=id, script=script, texts=texts, cases={CASE: case})


_TASK = "Now change the bridge until every line below passes."
_OTHER = "Look at the plot: another one does better here."


def folder_name(title: str, taken: Iterable[str] = ()) -> str:
    """Return a name for a lesson's folder: the title in small letters and hyphens, with a number where it is taken."""
    plain = "-".join(re.findall(r"[a-z0-9]+", title.lower()))[:40].strip("-") or "lesson"
    return free_name(plain, tuple(taken)).replace(" ", "-")


def _number(case: Case, index: int, question: Question) -> Number:
    kind = QUANTITIES.get(question.quantity)
    if kind is None or set(kind.needs) - {"at_hz"} or not kind.candidate:
        raise QuantityError(f'the quantity "{question.quantity}"', ", ".join(askable()))
    if question.candidate not in {each.name for each in case.candidates}:
        raise QuantityError(f'the candidate "{question.candidate}"', ", ".join(each.name for each in case.candidates))
    lack = kind.lack(case)
    if lack is not None:
        raise QuantityError(*lack)
    at_hz = question.at_hz if "at_hz" in kind.needs else None
    if "at_hz" in kind.needs and at_hz is None:
        at_hz = case.sweep.start_hz
    return Number(
        name=f"q{index}_value",
        what=question.quantity,
        claim="open",
        candidate=question.candidate,
        at_hz=at_hz,
        digits=2,
    )


def askable(case: Case | None = None) -> tuple[str, ...]:
    """Return the quantities that a question can ask for with a candidate and a frequency alone, of a case or at all."""
    plain = {name: kind for name, kind in QUANTITIES.items() if kind.candidate and not set(kind.needs) - {"at_hz"}}
    return tuple(name for name, kind in plain.items() if case is None or kind.lack(case) is None)


class _Draft:
    """Numbers that have no claim yet."""

    def __init__(self, case: Case, numbers: tuple[Number, ...]) -> None:
        step = Read(id="intro", title="-")
        script = Script(title="-", minutes=1, remember="-", numbers=numbers, steps=(step,))
        self._truth = Truth(Lesson(id="draft", script=script, texts={}, cases={CASE: case}))
        self._numbers = numbers

    def claimed(self) -> tuple[Number, ...]:
        """Return the numbers with what they are now as their claim, so that a later change of the solver is seen."""
        return tuple(evolve(each, claim=self._claim(each.name)) for each in self._numbers)

    def _claim(self, name: str) -> str:
        value = self._truth.value(name)
        if value == float("inf"):
            return "open"
        if math.isnan(value) or value < 0.0:
            raise QuantityError("a quantity that is none here", "another candidate, frequency or quantity")
        return f"{ABOUT}{format_quantity(value, self._truth.unit(name))}"


def _step(case: Case, index: int, question: Question, number: Number) -> Asking:
    name = f"q{index}"
    plot = Plot(kind="impedance", at_hz=number.at_hz or None)
    if question.kind == "draw":
        others = tuple(each.name for each in case.candidates if each.name != question.candidate)
        drawn = Plot(kind="impedance", before=others[:1], after=(*others[:1], question.candidate))
        return Draw(id=name, title="Draw the curve", candidate=question.candidate, truth=(number.name,), plot=drawn)
    if question.kind == "choose":
        options = tuple(
            Choice(id=f"c{k}", text=each.name, right="yes" if each.name == question.candidate else "no")
            for k, each in enumerate(case.candidates)
        )
        return Choose(id=name, title="Which one?", truth=(number.name,), options=options, plot=plot)
    if question.kind != "value":
        raise QuantityError(f'the question "{question.kind}"', "value, draw or choose")
    low, high = _ends(number, QUANTITIES[number.what].unit)
    return Drag(id=name, title="Your guess", number=number.name, low=low, high=high, plot=plot)


def _ends(number: Number, unit: str) -> tuple[str, str]:
    """Return the ends of a slider: far from the truth on both sides, and not the same distance."""
    least, most = _SWEEP_ENDS.get(unit, (1e-6, 1e6))
    if number.claim == "open":
        raise QuantityError("a value without bound", "a value that can be dragged to")
    value = parse_quantity(number.claim.removeprefix(ABOUT), unit)
    if value <= 0.0:
        raise QuantityError(f"a value of {value:g}", "a value of more than 0")
    low, high = (float(f"{each:.0e}") for each in (max(value / _ROOM, least), min(value * 10.0 * _ROOM, most)))
    return format_quantity(low, unit), format_quantity(high, unit)


def _task(case: Case, solution: Candidate | None) -> tuple[Design, Candidate]:
    if not case.requirements:
        raise QuantityError("a case without requirements", "at least one, which checks the task at the end")
    solver = Solver()
    for candidate in (solution,) if solution is not None else case.candidates:
        design = Design(id="task", title="Your turn", solution=candidate)
        draft = Script(title="-", minutes=1, remember="-", steps=(design,))
        lesson = Lesson(id="draft", script=draft, texts={}, cases={CASE: case})
        if check_task(solver, lesson, design, case, candidate).met:
            return design, candidate
    raise QuantityError("no candidate that meets the requirements", "one that does, as the solution of the task")
