"""The state of a lesson: what each act makes of it, and how it follows a circuit that the learner changes."""

from __future__ import annotations

from attrs import evolve

from app.lessons.course import CHANGED, LOST, SAME, Course, stance
from app.lessons.document import Choose, Drag, Draw
from app.lessons.predict import Dragged, Picked
from models.case.document import Candidate
from tests.app.lessons.shipped import LESSONS, TRUTHS, right

LESSON = LESSONS[0]


def at(step: str) -> Course:
    ids = [each.id for each in LESSON.steps]
    return Course(lesson=LESSON, at=ids.index(step))


def test_a_question_keeps_its_learner_until_the_answer_is_shown() -> None:
    course = Course(lesson=LESSON).forward()
    assert course.step.id == "join"
    assert course.asks_now
    assert course.forward() is course
    shown = course.show()
    assert not shown.asks_now
    assert shown.forward().step.id == "how-much"
    assert shown.forward().back().step.id == "join"


def test_a_prediction_stands_once_the_answer_is_shown() -> None:
    picked, other = Picked(option="bead", reason="habit"), Picked(option="copper", reason="habit")
    course = at("join").predict(picked)
    assert course.prediction == picked
    assert course.predict(other).prediction == other
    assert course.show().predict(other).prediction == picked
    assert course.predict(None).prediction is None


def test_steps_beyond_an_open_question_stay_shut() -> None:
    course = Course(lesson=LESSON)
    assert course.reach == 1
    assert course.jump(3) is course
    assert course.jump(1).step.id == "join"
    assert course.jump(1).show().reach == 2
    assert course.jump(-1) is course


def test_a_lesson_is_finished_when_all_is_answered_and_the_task_is_met() -> None:
    course = Course(lesson=LESSON)
    truth = TRUTHS[LESSON.id]
    while not course.at_end:
        step = course.step
        if isinstance(step, Choose | Drag | Draw):
            course = course.predict(right(truth, step)).show()
        course = course.forward()
    assert not course.finished
    assert course.solve().finished
    assert course.again() == Course(lesson=LESSON)


def test_only_a_task_can_be_solved_and_only_a_question_shown() -> None:
    assert not at("join").solve().solved
    assert not at("welcome").show().shown
    assert at("how-much").predict(Dragged(value=1.0)).begun


def test_the_lesson_follows_a_change_and_misses_what_it_speaks_of() -> None:
    course = at("how-much").show()
    own = LESSON.cases["case"]
    renamed = evolve(own, candidates=(evolve(own.candidates[0], name="Tin"), *own.candidates[1:]))
    more = evolve(own, candidates=(*own.candidates, Candidate(name="Mine")))
    assert stance(course, own) == SAME
    assert stance(course, more) == CHANGED
    assert stance(course, renamed) == LOST
    assert stance(course, evolve(own, pair=evolve(own.pair, a="elsewhere"))) == LOST
