"""A lesson made from a case reads back, bears out its own words and can be played."""

from __future__ import annotations

from contextlib import nullcontext
from pathlib import Path

import pytest
from attrs import evolve

from app.lessons.document import Choose, Drag, Draw, Lesson
from app.lessons.make import Question, askable, folder_name, lesson_from_case
from app.lessons.predict import RIGHT, reply
from app.lessons.read import load_lesson
from app.lessons.truth import Truth
from app.lessons.write import script_text, words_text, write_lesson
from models.assets import CASES
from models.case.document import Candidate, Case
from models.case.read import load_case
from models.errors import QuantityError
from tests.app.lessons.shipped import LESSONS, broken_claims, right

CASE = load_case(CASES / "sensor-board.toml")
QUESTIONS = (
    Question(kind="value", ask="How many?", why="It has {answer}.", candidate="Bead 600 Ω", at_hz=1e6),
    Question(kind="draw", ask="# Draw it.", why="Like this.", candidate="Capacitor 10 nF", at_hz=1e6),
    Question(kind="choose", ask="Which?", why="{answer}", candidate="0 Ω link", quantity="common-mode-peak"),
)


def made(questions: tuple[Question, ...] = QUESTIONS) -> Lesson:
    return lesson_from_case(
        CASE, id="mine", title="Mine", intro="A board.", questions=questions, remember="Look first.", teacher="Slowly."
    )


def about(case: Case, solution: Candidate | None = None) -> Lesson:
    return lesson_from_case(
        case, id="m", title="M", intro="A.", questions=QUESTIONS[:1], remember="B.", solution=solution
    )


def test_what_is_made_reads_back_and_is_true(tmp_path: Path) -> None:
    found = load_lesson(write_lesson(made(), tmp_path))
    assert found.id == "mine"
    assert found.cases["case"] == CASE
    assert broken_claims(found) == ()
    truth = Truth(found)
    assert truth.text("q1/why") == f"It has {truth.shown('q1_value')}."
    assert found.text("q2") == "# Draw it."
    for step in found.steps:
        if isinstance(step, Choose | Drag | Draw):
            assert reply(truth, step, right(truth, step)).outcome == RIGHT


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.id)
def test_every_shipped_lesson_is_written_as_it_was_read(tmp_path: Path, lesson: Lesson) -> None:
    found = load_lesson(write_lesson(lesson, tmp_path))
    assert found.script == lesson.script
    assert found.texts == lesson.texts
    assert found.cases == lesson.cases
    assert (script_text(found), words_text(found)) == (script_text(lesson), words_text(lesson))


def test_a_question_that_cannot_be_answered_is_refused() -> None:
    with pytest.raises(QuantityError, match="Pearl"):
        made((evolve(QUESTIONS[0], candidate="Pearl"),))
    with pytest.raises(QuantityError, match="in-circuit"):
        made((evolve(QUESTIONS[0], quantity="fitted"),))
    with pytest.raises(QuantityError, match="value, draw or choose"):
        made((evolve(QUESTIONS[0], kind="sing"),))
    assert "in-circuit" in askable()


@pytest.mark.parametrize("quantity", askable())
def test_a_question_about_what_the_case_has_not_is_refused(quantity: str) -> None:
    bare = evolve(CASE, sources=(), mains=None, cables=(), requirements=CASE.requirements[:1])
    question = evolve(QUESTIONS[1], kind="value", quantity=quantity)
    alone = quantity in askable(bare)
    assert alone is (quantity in ("bridge", "in-circuit", "capacitance"))
    with nullcontext() if alone else pytest.raises(QuantityError, match="a case without"):
        lesson_from_case(
            bare, id="x", title="x", intro="x", questions=(question,), remember="x.", solution=CASE.candidates[1]
        )


def test_a_case_whose_requirements_nothing_meets_needs_a_solution() -> None:
    bead = evolve(CASE, candidates=CASE.candidates[:1])
    with pytest.raises(QuantityError, match="no candidate"):
        about(bead)
    assert about(bead, CASE.candidates[1]).steps[-1].kind == "design"
    with pytest.raises(QuantityError, match="without requirements"):
        about(evolve(CASE, requirements=()))


def test_folders_have_plain_names_of_their_own() -> None:
    assert folder_name("Why, oh why: 2 A?") == "why-oh-why-2-a"
    assert folder_name("Ωµ") == "lesson"
    assert folder_name("Mine", ("mine",)) == "mine-2"


def test_a_question_whose_answer_is_none_is_refused() -> None:
    with pytest.raises(QuantityError, match="none here"):
        made((evolve(QUESTIONS[0], quantity="capacitance"),))
