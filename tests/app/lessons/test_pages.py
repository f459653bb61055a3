"""What the window shows of a lesson: pages, plots, the list, the overview, the handout. No window needed."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from attrs import evolve

from app.lessons.course import Course
from app.lessons.document import Choose, Design, Drag, Draw, Lesson
from app.lessons.task import check_task
from app.present.lesson import course_list, lesson_page, overview
from app.present.lesson_handout import handout_html
from models.case.document import Candidate
from tests.app.lessons.shipped import LESSONS, TRUTHS, right, wrong

each_lesson = pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.id)


@each_lesson
def test_nothing_tells_the_answer_before_it_is_shown(lesson: Lesson) -> None:
    truth = TRUTHS[lesson.id]
    for index, step in enumerate(lesson.steps):
        page = lesson_page(truth, Course(lesson=lesson, at=index), lesson.case_of(step))
        if not isinstance(step, Choose | Drag | Draw):
            continue
        assert page.reply is None
        assert page.why_html == ""
        assert not page.forward_ready
        assert page.skip
        shown = set() if page.plot is None else {curve.label for curve in page.plot.curves}
        if page.plot is not None and step.plot.kind != "measured":
            assert shown == set(step.plot.before)
            assert page.plot.marks == ()
            assert page.plot.readouts == ()
        if isinstance(step, Draw):
            assert step.candidate not in shown


@each_lesson
def test_the_answer_shows_the_truth_beside_the_prediction(lesson: Lesson) -> None:
    truth = TRUTHS[lesson.id]
    for index, step in enumerate(lesson.steps):
        if not isinstance(step, Choose | Drag | Draw):
            continue
        for guess, outcome in ((right(truth, step), "right"), (wrong(truth, step), "off")):
            course = Course(lesson=lesson, at=index).predict(guess)
            assert lesson_page(truth, course, lesson.case_of(step)).forward_ready
            page = lesson_page(truth, course.show(), lesson.case_of(step))
            assert page.reply is not None
            assert page.reply.outcome == outcome
            assert len(page.why_html) > 100
            assert page.ask is not None
            assert not page.ask.open
            if isinstance(step, Draw):
                assert page.plot is not None
                assert {"your guess", step.candidate} <= {curve.label for curve in page.plot.curves}


@each_lesson
def test_the_axes_stay_when_the_answer_comes(lesson: Lesson) -> None:
    truth = TRUTHS[lesson.id]
    for index, step in enumerate(lesson.steps):
        before = lesson_page(truth, Course(lesson=lesson, at=index), lesson.case_of(step)).plot
        after = lesson_page(truth, Course(lesson=lesson, at=index).show(), lesson.case_of(step)).plot
        if before is not None and after is not None:
            assert before.empty or (before.x, before.y) == (after.x, after.y)
            assert not before.empty or before.y.high == 1.0
            for curve in after.curves:
                assert np.isfinite(curve.y).any(), (step.id, curve.label)


def test_a_ratio_is_guessed_as_a_plain_number_and_a_share_in_per_cent() -> None:
    told = {}
    for lesson in LESSONS:
        for at, step in enumerate(lesson.steps):
            if isinstance(step, Drag) and step.number in ("f_gain", "slow"):
                course = Course(lesson=lesson, at=at)
                ask = lesson_page(TRUTHS[lesson.id], course, lesson.case_of(step)).ask
                assert ask is not None
                assert ask.value is not None
                told[step.number] = ask.value.note
    assert told == {"f_gain": "1 to 1000", "slow": "0 % to 100 %"}


def test_a_curve_far_off_is_told_without_an_exponent() -> None:
    lesson = LESSONS[1]
    at = next(k for k, step in enumerate(lesson.steps) if isinstance(step, Draw))
    truth, step = TRUTHS[lesson.id], lesson.steps[at]
    course = Course(lesson=lesson, at=at).predict(wrong(truth, step)).show()  # type: ignore[arg-type]
    page = lesson_page(truth, course, lesson.case_of(step))
    assert page.reply is not None
    assert page.reply.headline == "A surprise, perhaps: a factor of 10\u202f000 off on average."
    assert overview([(course, truth)]).rows[0][1][0].text == "a curve, 10\u202f000 times off"


def test_a_changed_circuit_is_told_and_drawn() -> None:
    lesson, truth = LESSONS[0], TRUTHS[LESSONS[0].id]
    course = Course(lesson=lesson, at=2).show()
    own = lesson.cases["case"]
    mine = evolve(own, candidates=(own.candidates[1], evolve(own.candidates[0], name="Bead")))
    page = lesson_page(truth, course, evolve(mine, candidates=(*own.candidates[:2], Candidate(name="Mine"))))
    assert "You have changed the circuit" in page.changed
    assert page.put_back
    lost = lesson_page(truth, course, evolve(own, candidates=own.candidates[1:]))
    assert "no longer in the circuit" in lost.changed
    assert lesson_page(truth, course, own).changed == ""


def test_a_task_shows_its_requirements_and_the_sentence_to_remember() -> None:
    lesson, truth = LESSONS[0], TRUTHS[LESSONS[0].id]
    step = lesson.steps[-1]
    shown = frozenset(each.id for each in lesson.steps)
    course = Course(lesson=lesson, at=len(lesson.steps) - 1, shown=shown)
    case = lesson.case_of(step)
    assert isinstance(step, Design)
    failed = check_task(truth.bench.solver, lesson, step, case, case.candidates[0])
    page = lesson_page(truth, course, case, check=failed)
    assert [each.outcome for each in page.checks] == ["fail", "fail"]
    assert page.remember_html == ""
    assert page.why_html == ""
    solved = lesson_page(truth, course.solve(), case, check=failed, number=15, count=15)
    assert "joined with copper" in solved.remember_html
    assert solved.why_html
    assert solved.forward == "All lessons"
    assert "not a certification" in solved.caution


def test_the_list_tells_how_far_each_lesson_is() -> None:
    begun = Course(lesson=LESSONS[0]).forward()
    done = Course(
        lesson=LESSONS[1],
        at=len(LESSONS[1].steps) - 1,
        shown=frozenset(each.id for each in LESSONS[1].steps),
        solved=frozenset(("task",)),
    )
    spec = course_list([begun, done, Course(lesson=LESSONS[2])])
    assert [(each.state, each.note) for each in spec.items] == [
        ("begun", "step 2 of 5"),
        ("finished", "finished"),
        ("new", "about 8 minutes"),
    ]
    assert spec.note == "1 of 3 finished"


def test_the_overview_holds_predictions_beside_the_truth() -> None:
    lesson, truth = LESSONS[0], TRUTHS[LESSONS[0].id]
    step = lesson.steps[2]
    assert isinstance(step, Drag)
    course = Course(lesson=lesson, at=1).show().forward().predict(wrong(truth, step)).show()
    table = overview([(course, truth)])
    assert [row for row, _ in table.rows] == [
        "Why separate at all?: Your first guess",
        "Why separate at all?: How much is a nanohenry?",
    ]
    (first, _), (second, true) = (cells for _, cells in table.rows)
    assert first.text == "no guess"
    assert (second.outcome, second.text) == ("fail", "10 kΩ")
    assert true.text == "630 mΩ"
    assert true.why.startswith("Inductance makes 2π · frequency · inductance")
    assert second.why == true.why
    assert not any("*" in cell.why or "](" in cell.why for cell in (first, second))
    assert "Nothing predicted yet" in overview([]).empty


@each_lesson
def test_a_handout_has_every_question_and_its_answer(lesson: Lesson) -> None:
    truth = TRUTHS[lesson.id]
    text = handout_html(truth, number=3)
    root = ElementTree.fromstring(text.removeprefix("<!DOCTYPE html>\n").replace('<meta charset="utf-8">', ""))
    body = re.sub(r"\s+", " ", "".join(root.itertext()))
    assert "Lesson 3" in body
    for step in lesson.steps:
        assert step.title in body
        for option in (*getattr(step, "options", ()), *getattr(step, "reasons", ())):
            assert option.text in body
    assert truth.fill(lesson.script.remember) in body
    assert ("not a certification" in body) is lesson.touches_safety
    assert "<svg" in text
    assert not re.search(r"\bnan\b|\{[a-z_]+\}", body)


@each_lesson
def test_the_plots_of_a_handout_have_round_ticks_inside_the_paper(lesson: Lesson) -> None:
    text = handout_html(TRUTHS[lesson.id], number=3)
    ticks = re.findall(r'<text x="([\d.]+)" y="[\d.]+" text-anchor="(\w+)">([^<]*)</text>', text)
    assert ticks
    for x, anchor, words in ticks:
        wide = 7.0 * len(words)
        left = float(x) - {"end": wide, "middle": wide / 2}[anchor]
        assert left >= 0.0, words
        assert left + wide <= 620.0, words
        assert len(re.sub(r"\D", "", words).strip("0")) <= 2, words


@each_lesson
def test_every_link_leads_to_a_curve_that_is_seen(lesson: Lesson) -> None:
    truth = TRUTHS[lesson.id]
    for index, step in enumerate(lesson.steps):
        asked = Course(lesson=lesson, at=index)
        for course in (asked, asked.show()):
            page = lesson_page(truth, course, lesson.case_of(step))
            if page.board:
                continue
            seen = set() if page.plot is None else {curve.label for curve in page.plot.curves}
            answers = "" if page.reply is None else page.reply.words_html
            linked = re.findall(r'href="curve:([^"]+)"', page.words_html + page.why_html + answers)
            assert set(linked) <= seen, step.id
