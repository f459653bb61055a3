"""Every shipped lesson: its words borne out by the solver, every prediction right and wrong, its task solvable."""

from __future__ import annotations

import re

import numpy as np
import pytest

from app.lessons.course import Course
from app.lessons.document import Choose, Design, Drag, Draw, Lesson, Step
from app.lessons.predict import OFF, RIGHT, Dragged, Drawn, Picked, fits, reply
from app.lessons.task import check_task
from app.lessons.text import names_in
from app.lessons.truth import candidate_of
from app.present.lesson_plots import step_plot
from models.case.document import Candidate
from models.network.solver import Solver
from models.outcomes.event import Event
from models.outcomes.transient import transient
from models.quantity import format_quantity, parse_quantity
from tests.app.lessons.shipped import LESSONS, TRUTHS, broken_claims, right, wrong

QUESTIONS = [
    pytest.param(lesson, step, id=f"{lesson.id}:{step.id}")
    for lesson in LESSONS
    for step in lesson.steps
    if isinstance(step, Choose | Drag | Draw)
]
each_lesson = pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.id)


def test_the_course_has_its_lessons_in_order() -> None:
    themes = ["separate", "bead is", "not isolation", "2 A", "goes", "signal", "pin", "withstanding", "transformer"]
    themes += ["Sizing", "lead", "resonance", "floating", "spark", "measurement", "antenna", "copper is the wrong"]
    assert len(LESSONS) == len(themes) >= 12
    for lesson, theme in zip(LESSONS, themes, strict=True):
        assert theme.lower() in lesson.script.title.lower()


def test_every_kind_of_prediction_is_asked_for() -> None:
    kinds = {step.kind for lesson in LESSONS for step in lesson.steps}
    assert kinds == {"read", "choose", "value", "draw", "design"}


@each_lesson
def test_the_numbers_bear_out_the_words(lesson: Lesson) -> None:
    assert broken_claims(lesson) == ()


@each_lesson
def test_every_number_is_spoken_of(lesson: Lesson) -> None:
    spoken = {name for text in lesson.texts.values() for name in names_in(text)} | set(names_in(lesson.script.remember))
    for step in lesson.steps:
        spoken |= set(getattr(step, "truth", ())) | {getattr(step, "number", "")}
    spoken |= {name for number in lesson.script.numbers for name in number.of or ()}
    assert {number.name for number in lesson.script.numbers} <= spoken


@each_lesson
def test_a_lesson_takes_five_to_ten_minutes_and_ends_in_one_sentence(lesson: Lesson) -> None:
    words = sum(len(text.split()) for name, text in lesson.texts.items() if name != "teacher")
    asked = sum(isinstance(step, Choose | Drag | Draw) for step in lesson.steps)
    minutes = words / 180.0 + 0.8 * asked + 1.0
    assert 5 <= lesson.script.minutes <= 10
    assert minutes < 10.0
    assert lesson.script.remember.endswith(".")
    assert not re.search(r"[.!?] [A-Z]", lesson.script.remember)
    assert asked >= 3


@each_lesson
def test_no_place_is_left_unfilled(lesson: Lesson) -> None:
    truth = TRUTHS[lesson.id]
    for section in lesson.texts:
        assert not re.search(r"[{}]|\bnan\b|without bound", truth.text(section)), section


@each_lesson
def test_mains_and_people_bring_their_caution(lesson: Lesson) -> None:
    risky = any(case.mains or "mains" in case.title.lower() for case in lesson.cases.values())
    risky = risky or any(each.what == "discharge-voltage" for each in lesson.script.numbers)
    risky = risky or any(each.kind == "mains-offset" for case in lesson.cases.values() for each in case.sources)
    assert lesson.touches_safety or not risky


@each_lesson
def test_the_task_begins_unmet_and_can_be_met(lesson: Lesson) -> None:
    step, solver = lesson.steps[-1], TRUTHS[lesson.id].bench.solver
    assert isinstance(step, Design)
    case = lesson.case_of(step)
    assert not any(check_task(solver, lesson, step, case, each).met for each in case.candidates)
    assert not check_task(solver, lesson, step, case, Candidate(name="Nothing")).met
    solved = check_task(solver, lesson, step, case, step.solution)
    assert solved.met
    assert not solved.kept


@pytest.mark.parametrize(("lesson", "step"), QUESTIONS)
def test_a_right_prediction_is_right_and_a_wrong_one_is_answered(lesson: Lesson, step: Choose | Drag | Draw) -> None:
    truth = TRUTHS[lesson.id]
    good, bad = right(truth, step), wrong(truth, step)
    assert fits(lesson, step, good)
    assert fits(lesson, step, bad)
    assert reply(truth, step, good).outcome == RIGHT
    assert reply(truth, step, good).sections == ()
    assert reply(truth, step, bad).outcome == OFF
    assert reply(truth, step, bad).points == 0.0


@pytest.mark.parametrize(("lesson", "step"), QUESTIONS)
def test_every_common_wrong_idea_gets_its_own_answer(lesson: Lesson, step: Choose | Drag | Draw) -> None:
    truth = TRUTHS[lesson.id]
    for idea in getattr(step, "ideas", ()):
        found = reply(truth, step, held(lesson, step, idea.when, idea.at_hz))
        assert f"{step.id}/if {idea.id}" in found.sections
    if isinstance(step, Choose):
        for option in step.options:
            picked = Picked(option=option.id, reason=step.reasons[0].id if step.reasons else "")
            assert option.is_right is (f"{step.id}/if {option.id}" not in reply(truth, step, picked).sections)


def held(lesson: Lesson, step: Step, when: str, at_hz: float | None) -> Dragged | Drawn:
    """Return the prediction of somebody who holds a wrong idea, well inside of it."""
    truth = TRUTHS[lesson.id]
    unit = truth.unit(step.number) if isinstance(step, Drag) else "ohm"
    edge = parse_quantity(when[1:], unit)
    if isinstance(step, Drag) and step.scale == "linear":
        return Dragged(value=0.7 * edge + 0.3 * (parse_quantity(step.high, unit) if when.startswith(">") else 0.0))
    value = edge * (3.0 if when.startswith(">") else 1.0 / 3.0)
    if isinstance(step, Drag):
        return Dragged(value=value)
    assert isinstance(step, Draw)
    f_hz, z = truth.knots(step)
    true = float(np.exp(np.interp(np.log(at_hz or f_hz[0]), np.log(f_hz), np.log(z))))
    return Drawn(points=tuple((f, each * value / true) for f, each in zip(f_hz.tolist(), z.tolist(), strict=True)))


def test_the_hum_is_that_of_a_ring_of_resistors() -> None:
    """I = V/(R of the bridge + R of the two wires); at 50 Hz the wires' 4 µH are 1.3 mΩ."""
    truth, wires_ohm = TRUTHS["17-hum"], 0.1 + 0.3
    for name, bridge_ohm in (("copper_i", 0.5e-3), ("bead_i", 0.3), ("ten_i", 10.0)):
        assert truth.value(name) == pytest.approx(0.1 / (wires_ohm + bridge_ohm), rel=1e-3)
    assert truth.value("cap_i") == pytest.approx(0.1 * 2.0 * np.pi * 50.0 * 100e-9, rel=1e-3)


GROUPS = {"impedance": "ohm", "bridge": "ohm", "waveform": "volt", "spectrum": "volt", "discharge": "spark"}
ASKED = {
    "in-circuit": "ohm",
    "bridge": "ohm",
    "highest": "ohm",
    "common-mode-peak": "volt",
    "discharge-voltage": "spark",
}


def curves_shown(lesson: Lesson, at: int) -> set[tuple[str, str, str]]:
    """Return what a page has shown when it is left: (what is plotted, case, candidate)."""
    step = lesson.steps[at]
    plot = step_plot(TRUTHS[lesson.id], Course(lesson=lesson, at=at).show(), lesson.case_of(step))
    group = GROUPS.get(step.plot.kind, step.plot.kind)
    return {(group, step.plot.case, curve.label) for curve in (plot.curves if plot else ())}


@pytest.mark.parametrize(("lesson", "step"), QUESTIONS)
def test_no_page_before_a_question_gives_its_answer_away(lesson: Lesson, step: Choose | Drag | Draw) -> None:
    at = lesson.steps.index(step)
    before = [each.id for each in lesson.steps[:at]]
    shown = {each for k in range(at) for each in curves_shown(lesson, k)}
    if isinstance(step, Draw):
        assert ("ohm", step.plot.case, step.candidate) not in shown
    if isinstance(step, Drag):
        told = {
            name for section, text in lesson.texts.items() if section.split("/")[0] in before for name in names_in(text)
        }
        assert step.number not in told
        number = lesson.number(step.number)
        assert (ASKED.get(number.what), number.case, number.candidate) not in shown
        assert number.what != "path-share" or not any(lesson.steps[k].plot.kind == "paths" for k in range(at))


def test_the_voltage_of_a_spark_is_that_of_the_whole_network() -> None:
    lesson, truth = next(each for each in LESSONS if "discharge" in each.id), TRUTHS["14-discharge"]
    case = lesson.cases["case"]
    for name in ("open_v", "one_v", "ten_v", "bled_v"):
        candidate = candidate_of(case, lesson.number(name).candidate)
        found = transient(Solver(), case, candidate, Event(kind="discharge", into="case", level_v=8e3))
        soon = int(np.argmin(np.abs(found.t_s - 150e-9)))
        assert abs(found.v_pair_v[soon]) == pytest.approx(truth.value(name), rel=0.05)


SLIDERS = [(lesson, step) for lesson in LESSONS for step in lesson.steps if isinstance(step, Drag)]


@pytest.mark.parametrize(("lesson", "step"), SLIDERS)
def test_no_slider_begins_or_ends_at_the_answer(lesson: Lesson, step: Drag) -> None:
    truth = TRUTHS[lesson.id]
    low, high = (parse_quantity(each, truth.unit(step.number)) for each in (step.low, step.high))
    value = truth.value(step.number)
    assert low <= value <= high, format_quantity(value, truth.unit(step.number))
