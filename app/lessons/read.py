"""From a lesson's folder to a lesson; every problem in one error that says where."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from attrs import evolve

from app.lessons.check import contradictions, text_findings
from app.lessons.document import Lesson, Script
from app.lessons.text import Section, sections
from models.assets import ASSETS
from models.case.document import Case
from models.case.lines import line_at, lines_of
from models.case.read import load_case
from models.codec import MISSING, Place, describe
from models.declare import read_object
from models.errors import CaseError, IsthmusError, Problem
from models.toml_text import parse_tables, read_text

LESSONS = ASSETS / "lessons"
FORMAT = 1
_SCRIPT, _TEXT = "lesson.toml", "text.md"


class LessonError(IsthmusError):
    """A lesson that cannot be used, with every problem found in it."""

    def __init__(self, problems: list[Problem], source: str) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(f"{source}/{problem.text()}" for problem in problems))


def load_course(folder: Path = LESSONS) -> tuple[Lesson, ...]:
    """Return the lessons of a folder in the order of their names.

    Raises
    ------
    LessonError
        at the first lesson that cannot be used
    """
    return tuple(load_lesson(path.parent) for path in sorted(folder.glob(f"*/{_SCRIPT}")))


def load_own(folder: Path) -> tuple[tuple[Lesson, ...], tuple[str, ...]]:
    """Return the lessons of a person's own folder that can be used, and what is wrong with the others."""
    lessons, wrong = [], []
    for path in (each for each in sorted(folder.glob("[!.]*")) if each.is_dir()):
        try:
            lessons.append(load_lesson(path))
        except LessonError as error:
            wrong.append(str(error))
    return tuple(lessons), tuple(wrong)


def load_lesson(folder: Path) -> Lesson:
    """Read a lesson.

    Raises
    ------
    LessonError
        with every problem found: file, line, key, what was found, what is accepted
    """
    script_text = _text(folder, _SCRIPT)
    script = _script(script_text, folder.name)
    words = sections(_text(folder, _TEXT))
    lesson = Lesson(
        id=folder.name,
        script=script,
        texts={each.name: each.words for each in words},
        cases=dict(_cases(folder)),
        measurements={path.stem: _text(folder, path.name) for path in sorted(folder.glob("*.csv"))},
    )
    lines = lines_of(script_text)
    problems = [
        evolve(problem, where=f"{_SCRIPT}: {problem.where}", line=line_at(lines, path))
        for path, problem in contradictions(lesson)
    ]
    problems += _text_problems(lesson, words)
    if problems:
        raise LessonError(problems, folder.name)
    return lesson


def _text(folder: Path, name: str) -> str:
    try:
        return read_text(folder / name, "lesson")
    except CaseError as error:
        raise LessonError([evolve(each, where=name) for each in error.problems], folder.name) from None


def _script(text: str, source: str) -> Script:
    try:
        found = parse_tables(text, source)
    except CaseError as error:
        raise LessonError([evolve(each, where=_SCRIPT) for each in error.problems], source) from None
    version = found.pop("lesson", MISSING)
    if type(version) is not int or version != FORMAT:
        shown = "nothing" if version is MISSING else describe(version)
        raise LessonError([Problem(where=f"{_SCRIPT}: lesson", found=shown, accepted=f"lesson = {FORMAT}")], source)
    place = Place((), [])
    script: Any = read_object(Script, found, place)
    if script is MISSING:
        lines = lines_of(text)
        raise LessonError(
            [
                evolve(problem, where=f"{_SCRIPT}: {problem.where}", line=line_at(lines, path))
                for path, problem in place.problems
            ],
            source,
        )
    result: Script = script
    return result


def _cases(folder: Path) -> Iterator[tuple[str, Case]]:
    for path in sorted(folder.glob("*.toml")):
        if path.name == _SCRIPT:
            continue
        try:
            yield path.stem, load_case(path)
        except CaseError as error:
            problems = [evolve(each, where=f"{path.name}: {each.where}") for each in error.problems]
            raise LessonError(problems, folder.name) from None


def _text_problems(lesson: Lesson, words: tuple[Section, ...]) -> list[Problem]:
    return [
        Problem(where=f"{_TEXT}: {where}", found=found, accepted=accepted, line=line)
        for where, found, accepted, line in text_findings(lesson, words)
    ]
