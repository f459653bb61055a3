"""Progress: kept whole, read back whatever happened to the file, resumed where it was left."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from attrs import evolve

from app.lessons.course import Course
from app.lessons.document import Choose, Drag, Draw, Lesson
from app.lessons.progress import keep_progress, load_progress
from tests.app.lessons.shipped import LESSONS, TRUTHS, right, wrong


def half_way(lesson: Lesson) -> Course:
    """Return a lesson with its first questions answered, right and wrong in turn, and the next one half predicted."""
    course, truth = Course(lesson=lesson), TRUTHS[lesson.id]
    for number in range(len(lesson.steps) - 2):
        step = course.step
        if isinstance(step, Choose | Drag | Draw):
            course = course.predict((right, wrong)[number % 2](truth, step)).show()
        course = course.forward()
    step = course.step
    assert isinstance(step, Choose | Drag | Draw)
    return course.predict(wrong(truth, step))


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.id)
def test_a_lesson_is_resumed_where_it_was_left(tmp_path: Path, lesson: Lesson) -> None:
    course = half_way(lesson)
    keep_progress(tmp_path, course)
    assert load_progress(tmp_path, lesson) == course


def test_lessons_do_not_disturb_each_other(tmp_path: Path) -> None:
    first, second = half_way(LESSONS[0]), half_way(LESSONS[1])
    keep_progress(tmp_path, first)
    keep_progress(tmp_path, second)
    keep_progress(tmp_path, second.again())
    assert load_progress(tmp_path, LESSONS[0]) == first
    assert load_progress(tmp_path, LESSONS[1]) == Course(lesson=LESSONS[1])


@pytest.mark.parametrize(
    "text",
    [
        "",
        "not json",
        "[]",
        '{"format": 99, "lessons": {}}',
        '{"format": 1, "lessons": []}',
        '{"format": 1, "lessons": {"01-why-separate": 3}}',
        '{"format": 1, "lessons": {"01-why-separate": {"step": 7, "predictions": 1, "shown": {}, "solved": "x"}}}',
    ],
)
def test_a_file_that_cannot_be_read_is_a_fresh_start(tmp_path: Path, text: str) -> None:
    (tmp_path / "lessons.json").write_text(text, encoding="utf-8")
    assert load_progress(tmp_path, LESSONS[0]) == Course(lesson=LESSONS[0])


def test_what_the_lesson_no_longer_has_is_left_out(tmp_path: Path) -> None:
    keep_progress(tmp_path, half_way(LESSONS[0]))
    file = tmp_path / "lessons.json"
    kept = json.loads(file.read_text(encoding="utf-8"))
    record = kept["lessons"][LESSONS[0].id]
    record["predictions"] |= {"gone": {"value": 1.0}, "join": {"option": "gold"}, "how-much": {"drawn": []}}
    record["shown"] += ["gone"]
    file.write_text(json.dumps(kept), encoding="utf-8")
    course = load_progress(tmp_path, LESSONS[0])
    assert set(course.predictions) == {"reason"}
    assert "gone" not in course.shown


def test_a_step_that_is_not_open_is_not_resumed(tmp_path: Path) -> None:
    course = half_way(LESSONS[0])
    keep_progress(tmp_path, evolve(course, shown=frozenset()))
    assert load_progress(tmp_path, LESSONS[0]).step.id == "join"


def test_a_folder_that_cannot_be_written_stops_nobody(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("", encoding="utf-8")
    keep_progress(blocked / "inside", half_way(LESSONS[0]))
    assert load_progress(blocked / "inside", LESSONS[0]) == Course(lesson=LESSONS[0])
