"""Progress kept between sessions: where a learner stands in each lesson, and what was predicted."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from app.lessons.course import Course
from app.lessons.document import Lesson
from app.lessons.predict import Dragged, Drawn, Picked, Prediction, fits
from app.state.files import write_whole

_FILE = "lessons.json"
_FORMAT = 1


def load_progress(folder: Path, lesson: Lesson) -> Course:
    """Return where the learner stands; at the beginning where nothing is kept or nothing can be read.

    What is kept of a step that the lesson no longer has is left out.
    """
    found = _records(folder).get(lesson.id)
    return Course(lesson=lesson) if not isinstance(found, dict) else _course(lesson, found)


def keep_progress(folder: Path, course: Course) -> None:
    """Keep where the learner stands, whole or not at all; a folder that cannot be written is no reason to stop."""
    records = {**_records(folder), course.lesson.id: _record(course)}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(folder / _FILE, json.dumps({"format": _FORMAT, "lessons": records}, ensure_ascii=False))
    except OSError:
        return


def _records(folder: Path) -> dict[str, Any]:
    try:
        kept = json.loads((folder / _FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    lessons = kept.get("lessons") if isinstance(kept, dict) and kept.get("format") == _FORMAT else None
    return lessons if isinstance(lessons, dict) else {}


def _record(course: Course) -> dict[str, Any]:
    return {
        "step": course.step.id,
        "predictions": {step: _written(each) for step, each in course.predictions.items()},
        "shown": sorted(course.shown),
        "solved": sorted(course.solved),
        "finished": course.finished,
    }


def _course(lesson: Lesson, record: Mapping[str, Any]) -> Course:
    ids = [step.id for step in lesson.steps]
    step = record.get("step")
    course = Course(
        lesson=lesson,
        predictions=MappingProxyType(dict(_predictions(lesson, _mapping(record.get("predictions"))))),
        shown=_names(record.get("shown"), ids),
        solved=_names(record.get("solved"), ids),
    )
    return course.jump(min(ids.index(step), course.reach)) if step in ids else course


def _predictions(lesson: Lesson, found: Mapping[str, Any]) -> Iterator[tuple[str, Prediction]]:
    for step in lesson.steps:
        prediction = _read(found.get(step.id))
        if prediction is not None and fits(lesson, step, prediction):
            yield step.id, prediction


def _names(found: Any, known: list[str]) -> frozenset[str]:
    return frozenset(each for each in found if each in known) if isinstance(found, list) else frozenset()


def _mapping(found: Any) -> Mapping[str, Any]:
    return found if isinstance(found, dict) else {}


def _written(prediction: Prediction) -> dict[str, Any]:
    match prediction:
        case Drawn(points=points):
            return {"drawn": [list(each) for each in points]}
        case Dragged(value=value):
            return {"value": value}
        case Picked(option=option, reason=reason):
            return {"option": option, "reason": reason}


def _read(found: Any) -> Prediction | None:
    """Return what was predicted, None where it cannot be read."""
    try:
        if "drawn" in found:
            points = tuple((float(f), float(z)) for f, z in found["drawn"])
            return Drawn(points=points) if points else None
        if "value" in found:
            return Dragged(value=float(found["value"]))
        return Picked(option=str(found["option"]), reason=str(found.get("reason", "")))
    except (TypeError, ValueError, KeyError, AttributeError):
        return None
