"""From a lesson to the files that the reader reads."""

from __future__ import annotations

from pathlib import Path

from app.lessons.document import Lesson
from app.lessons.read import FORMAT
from app.state.files import write_whole
from models.case.write import case_text
from models.declare import write_object


def script_text(lesson: Lesson) -> str:
    """Return ``lesson.toml``."""
    import tomlkit

    return tomlkit.dumps({"lesson": FORMAT, **write_object(lesson.script)})


def words_text(lesson: Lesson) -> str:
    """Return ``text.md``: every step with what belongs to it below, the teacher's notes last."""
    order = [step.id for step in lesson.steps]
    names = sorted(lesson.texts, key=lambda name: _place(name, order))
    return "\n".join(f"{_heading(name)}\n{_words(lesson.texts[name])}\n" for name in names)


def write_lesson(lesson: Lesson, folder: Path) -> Path:
    """Write a lesson into a folder of its name; return that folder.

    Raises
    ------
    OSError
        where it cannot be written
    """
    target = folder / lesson.id
    target.mkdir(parents=True, exist_ok=True)
    for name, case in lesson.cases.items():
        write_whole(target / f"{name}.toml", case_text(case))
    for name, text in lesson.measurements.items():
        write_whole(target / f"{name}.csv", text)
    write_whole(target / "text.md", words_text(lesson))
    write_whole(target / "lesson.toml", script_text(lesson))
    return target


def _place(name: str, order: list[str]) -> tuple[int, int, str]:
    step, _, part = name.partition("/")
    return (order.index(step) if step in order else len(order), 0 if not part else 1 if part == "why" else 2, part)


def _words(text: str) -> str:
    """Return words whose lines no reader takes for headings."""
    return "\n".join(f" {line}" if line.startswith("#") else line for line in text.strip().splitlines())


def _heading(name: str) -> str:
    step, _, part = name.partition("/")
    return f"## {part}" if part else f"# {step}"
