"""A lesson as the window shows it: one page a step, with what was predicted and what is true."""

from __future__ import annotations

from collections.abc import Iterable

from app.lessons.check import TEACHER
from app.lessons.course import CHANGED, LOST, SAME, Course, stance
from app.lessons.document import Choice, Choose, Design, Drag, Draw, Step
from app.lessons.predict import CLOSE, OFF, RIGHT, Dragged, Drawn, Picked, ends_of, fits, reply
from app.lessons.task import Check
from app.lessons.text import as_html, held_together, plain
from app.lessons.truth import Truth, asks, plain_number
from app.present.answers import question
from app.present.lesson_plots import step_plot
from app.present.lesson_scene import value_at_hz
from app.present.lesson_specs import (
    AskSpec,
    CheckSpec,
    ChoiceSpec,
    CourseSpec,
    DotSpec,
    LessonItemSpec,
    LessonSpec,
    ReplySpec,
)
from app.present.specs import CellSpec, FieldSpec, Ink, TableSpec
from models.case.document import Case
from models.decide.verdict import SAFETY_CAUTION

_PLAIN_CAUTION = "Estimates for design, computed from generic parts."
_CHANGED = "You have changed the circuit: the plot shows yours, the words speak of the lesson’s own."
_LOST = "What this page speaks of is no longer in the circuit. Put the lesson’s circuit back to go on."
_HINTS = {
    "choose": "Pick with the mouse, or with ↑ ↓ and Space. Enter shows the answer.",
    "value": "Drag the slider, or press ← and → on it. Enter shows the answer.",
    "value-plot": "Drag the ring on the plot up or down, or press ← and → on the slider. Enter shows the answer.",
    "draw": (
        "Draw over the plot with the mouse. By keys: ← → choose a frequency, ↑ ↓ move the curve (with Shift in large "
        "steps), Del clears. Enter shows the answer."
    ),
}


def lesson_page(
    truth: Truth,
    course: Course,
    present: Case,
    *,
    number: int = 1,
    count: int = 1,
    check: Check | None = None,
    strong: str = "",
    cursor_hz: float | None = None,
    presenting: bool = False,
) -> LessonSpec:
    """Return the page of the present step.

    Parameters
    ----------
    truth, course : the lesson, and where the learner stands
    present : the document as the learner has it
    number, count : which lesson of the course this is
    check : of the design task, on such a page
    strong, cursor_hz : the curve that the words point at, and where the cursor was put
    presenting : before a group, where the answer can be shown without a prediction
    """
    lesson, step = course.lesson, course.step
    shown = asks(step) and step.id in course.shown
    plot = step_plot(truth, course, present, strong=strong, cursor_hz=cursor_hz)
    return LessonSpec(
        title=lesson.script.title,
        place=f"Lesson {number} of {count} · about {lesson.script.minutes} minutes",
        place_short=f"{number} of {count}",
        heading=step.title,
        dots=tuple(_dots(course)),
        words_html=as_html(truth.text(step.id), links=plot is None or not plot.empty),
        ask=_ask(truth, course) if asks(step) else None,
        reply=_reply(truth, course) if shown else None,
        why_html=as_html(truth.text(f"{step.id}/why")) if shown or step.id in course.solved else "",
        checks=() if check is None else _checks(check),
        check_headline="" if check is None else _check_headline(course, check),
        remember_html=as_html(truth.fill(lesson.script.remember)) if course.at_end and course.finished else "",
        caution=SAFETY_CAUTION if lesson.touches_safety else _PLAIN_CAUTION,
        notes_html=as_html(truth.text(TEACHER), links=False),
        changed=_changed(course, present),
        put_back=stance(course, present) != SAME,
        plot=plot,
        board=step.plot.kind == "board",
        back=course.at > 0,
        forward=_forward(course, number, count),
        forward_ready=presenting or not course.asks_now or _ready(course),
        skip=course.asks_now and not presenting and not _ready(course),
        explore=not course.asks_now,
        designs=isinstance(step, Design),
    )


def _changed(course: Course, present: Case) -> str:
    """Return what to say of a changed circuit; a task is there to be changed."""
    stood = stance(course, present)
    if stood == LOST:
        return _LOST
    return _CHANGED if stood == CHANGED and not isinstance(course.step, Design) else ""


def _ready(course: Course) -> bool:
    prediction = course.prediction
    return prediction is not None and fits(course.lesson, course.step, prediction)


def _forward(course: Course, number: int, count: int) -> str:
    if course.asks_now:
        return "Show me"
    if not course.at_end:
        return "Next"
    return "Next lesson" if number < count else "All lessons"


def _dots(course: Course) -> Iterable[DotSpec]:
    for index, step in enumerate(course.lesson.steps):
        state = "open" if index <= course.reach else "shut"
        if course.done(step):
            state = "done"
        yield DotSpec(title=step.title, state="here" if index == course.at else state)


def _ask(truth: Truth, course: Course) -> AskSpec:
    step, guess, open_ = course.step, course.prediction, course.asks_now
    if isinstance(step, Choose):
        picked = guess if isinstance(guess, Picked) else Picked(option="")
        return AskSpec(
            kind="choose",
            hint=_HINTS["choose"],
            options=_choices(step.options, picked.option, open_=open_),
            reasons=_choices(step.reasons, picked.reason, open_=open_),
            open=open_,
        )
    if isinstance(step, Drag):
        at_hz = value_at_hz(truth, step)
        value = guess.value if isinstance(guess, Dragged) else None
        hint = _HINTS["value" if at_hz is None else "value-plot"]
        return AskSpec(kind="value", hint=hint, value=_slider(truth, step, value), at_hz=at_hz, open=open_)
    assert isinstance(step, Draw)
    return AskSpec(
        kind="draw",
        hint=_HINTS["draw"],
        knots_hz=tuple(truth.knots(step)[0].tolist()),
        drawn=guess.points if isinstance(guess, Drawn) else (),
        open=open_,
    )


def _choices(choices: tuple[Choice, ...], picked: str, *, open_: bool) -> tuple[ChoiceSpec, ...]:
    def mark(each: Choice) -> str:
        if open_:
            return ""
        return "right" if each.is_right else "wrong" if each.id == picked else ""

    return tuple(
        ChoiceSpec(id=each.id, text=held_together(each.text), picked=each.id == picked, mark=mark(each))
        for each in choices
    )


def _slider(truth: Truth, step: Drag, value: float | None) -> FieldSpec:
    low, high = ends_of(truth, step)
    unit = truth.unit(step.number)
    return FieldSpec(
        path=("guess",),
        label="Your guess",
        text="not yet" if value is None else truth.said(step.number, value),
        unit=unit,
        value=value,
        low=low,
        high=high,
        log=step.scale == "log",
        note=f"{truth.said(step.number, low)} to {truth.said(step.number, high)}",
    )


def _reply(truth: Truth, course: Course) -> ReplySpec:
    step, guess = course.step, course.prediction
    assert isinstance(step, Choose | Drag | Draw)
    if guess is None or not fits(course.lesson, step, guess):
        return ReplySpec(outcome="none", headline=held_together(_answer(truth, step)))
    found = reply(truth, step, guess)
    words = "\n\n".join(truth.text(section) for section in found.sections)
    headline = held_together(_headline(truth, step, guess, found.outcome, found.distance))
    return ReplySpec(outcome=found.outcome, headline=headline, words_html=as_html(words) if words else "")


def _answer(truth: Truth, step: Choose | Drag | Draw) -> str:
    """Return the answer, for one who made no prediction."""
    if isinstance(step, Drag):
        return f"It is {truth.shown(step.number)}."
    if isinstance(step, Draw):
        return "This is how it is."
    return f"The answer: {_right(step)}"


def _right(step: Choose) -> str:
    return next(each.text for each in step.options if each.is_right)


def _headline(truth: Truth, step: Step, guess: object, outcome: str, distance: float) -> str:
    if isinstance(step, Drag) and isinstance(guess, Dragged):
        said = truth.said(step.number, guess.value)
        opening = {RIGHT: "Well seen", CLOSE: "Close", OFF: "A surprise, perhaps"}[outcome]
        return f"{opening}: you said {said}, it is {truth.shown(step.number)}."
    if isinstance(step, Draw):
        factor = f"a factor of {plain_number(10.0**distance, 2)}"
        return {
            RIGHT: f"Well drawn: within {factor} on average.",
            CLOSE: f"The shape is coming: {factor} off on average.",
            OFF: f"A surprise, perhaps: {factor} off on average.",
        }[outcome]
    assert isinstance(step, Choose)
    return {
        RIGHT: "Yes.",
        CLOSE: "Yes, though for another reason.",
        OFF: f"Not this one. The answer: {_right(step)}",
    }[outcome]


def _checks(check: Check) -> tuple[CheckSpec, ...]:
    return tuple(
        CheckSpec(outcome=verdict.outcome, text=held_together(question(requirement)), why=held_together(verdict.why))
        for requirement, verdict in zip(check.case.requirements, check.verdicts, strict=True)
    )


def _check_headline(course: Course, check: Check) -> str:
    kept = " What the task keeps, it judges as it was." if check.kept else ""
    if check.met:
        return f"{check.candidate} meets them all.{kept}"
    if course.step.id in course.solved:
        return f"You have met them all before. {check.candidate} does not.{kept}"
    return f"{check.candidate} does not meet them yet.{kept}"


def course_list(courses: Iterable[Course]) -> CourseSpec:
    """Return the list of lessons, and how far each is."""
    found = tuple(courses)
    finished = sum(each.finished for each in found)
    return CourseSpec(
        title="Lessons",
        note=f"{finished} of {len(found)} finished",
        items=tuple(_item(number, course) for number, course in enumerate(found, start=1)),
    )


def _item(number: int, course: Course) -> LessonItemSpec:
    state = "finished" if course.finished else "begun" if course.begun else "new"
    note = {
        "finished": "finished",
        "begun": f"step {course.at + 1} of {len(course.lesson.steps)}",
        "new": f"about {course.lesson.script.minutes} minutes",
    }[state]
    return LessonItemSpec(id=course.lesson.id, title=f"{number}. {course.lesson.script.title}", note=note, state=state)


def overview(found: Iterable[tuple[Course, Truth]]) -> TableSpec:
    """Return what a learner predicted, question by question, beside what is true."""
    rows = [
        (f"{course.lesson.script.title}: {step.title}", _overview_cells(course, truth, step))
        for course, truth in found
        for step in course.lesson.steps
        if isinstance(step, Choose | Drag | Draw) and step.id in course.shown
    ]
    return TableSpec(
        title="What you predicted",
        columns=(("predicted", Ink(slot=5)), ("computed", Ink(slot=0))),
        rows=tuple(rows),
        empty="" if rows else "Nothing predicted yet. The first lesson takes eight minutes.",
    )


def _overview_cells(course: Course, truth: Truth, step: Choose | Drag | Draw) -> tuple[CellSpec, CellSpec]:
    guess = course.predictions.get(step.id)
    why = held_together(plain(truth.text(f"{step.id}/why")))
    true = CellSpec(text=_true_text(truth, step), why=why)
    if guess is None or not fits(course.lesson, step, guess):
        return CellSpec(text="no guess", why=why), true
    found = reply(truth, step, guess)
    outcome = {RIGHT: "pass", CLOSE: "note"}.get(found.outcome, "fail")
    return CellSpec(outcome=outcome, text=_guess_text(truth, step, guess, found.distance), why=why), true


def _true_text(truth: Truth, step: Choose | Drag | Draw) -> str:
    if isinstance(step, Drag):
        return truth.shown(step.number)
    if isinstance(step, Choose):
        return _right(step)
    return "the curve of " + step.candidate


def _guess_text(truth: Truth, step: Choose | Drag | Draw, guess: object, distance: float) -> str:
    if isinstance(guess, Dragged) and isinstance(step, Drag):
        return truth.said(step.number, guess.value)
    if isinstance(guess, Picked) and isinstance(step, Choose):
        return next(each.text for each in step.options if each.id == guess.option)
    return f"a curve, {plain_number(10.0**distance, 2)} times off"
