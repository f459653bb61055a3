"""The shelf keeps what changes, and only that."""

from __future__ import annotations

from pathlib import Path

from attrs import evolve

from app.lessons.document import Design
from app.lessons.shelf import Shelf
from app.lessons.truth import Truth
from tests.app.lessons.shipped import LESSONS


def shelf(folder: Path) -> Shelf:
    found = Shelf(folder, LESSONS[:2], Truth)
    assert found.load() == ()
    return found


def test_what_changes_is_kept_for_the_next_time(tmp_path: Path) -> None:
    first = shelf(tmp_path)
    first.keep(first.course)
    assert list(tmp_path.iterdir()) == []
    first.at = 1
    first.keep(first.course.forward())
    second = shelf(tmp_path)
    assert [each.at for each in second.courses] == [0, 1]


def test_only_lessons_with_an_answer_shown_count_as_answered(tmp_path: Path) -> None:
    found = shelf(tmp_path)
    found.keep(found.course.forward())
    assert found.answered() == []
    found.keep(found.course.show())
    assert [(course.lesson.id, truth.lesson.id) for course, truth in found.answered()] == [(LESSONS[0].id,) * 2]
    assert found.answered()[0][1] is found.truth


def test_the_last_lesson_is_known_and_a_broken_one_of_ones_own_is_told(tmp_path: Path) -> None:
    (tmp_path / "lessons" / "mine").mkdir(parents=True)
    (tmp_path / "lessons" / "mine" / "lesson.toml").write_text("lesson = 3\n", encoding="utf-8")
    found = Shelf(tmp_path, LESSONS[:2], Truth)
    (wrong,) = found.load()
    assert "mine/lesson.toml" in wrong
    assert not found.at_last
    found.at = 1
    assert found.at_last


def test_a_task_is_judged_and_kept_once_when_it_is_solved(tmp_path: Path) -> None:
    found = shelf(tmp_path)
    assert found.check(found.enter(), 0) is None
    found.keep(evolve(found.course, at=len(found.course.lesson.steps) - 1))
    task, circuit = found.course.step, found.enter()
    assert isinstance(task, Design)
    solved = evolve(circuit, candidates=(*circuit.candidates, task.solution))
    assert found.check(evolve(circuit, candidates=()), 0) is None
    checked = found.check(solved, len(solved.candidates) - 1)
    assert checked is not None
    assert checked.met
    kept = found.course
    assert task.id in kept.solved
    found.check(solved, len(solved.candidates) - 1)
    assert found.course is kept
