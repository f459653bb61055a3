"""The impedance plot of a lesson: curves, what was drawn by hand or measured, and the numbers as points."""

from __future__ import annotations

import cmath
import math

import numpy as np

from app.lessons.document import Drag, Number
from app.lessons.predict import Dragged, Drawn
from app.lessons.quantities import extreme
from app.lessons.text import names_in
from app.present.impedance_plot import wanted_bands
from app.present.lesson_scene import ALONE, GUESS, Scene, frequencies, value_at_hz
from app.present.numbers import reading
from app.present.specs import AxisSpec, CurveSpec, MarkSpec, PlotSpec, ReadoutSpec
from app.present.tabs import ink
from models.case.document import Case
from models.quantity import format_quantity

_LOWEST_OHM, _HIGHEST_OHM = 1e-4, 1e9
_HEADROOM_DECADES = 0.35
"""Room kept above the tallest curve, where read-outs and names of crests can stand."""


def impedance_plot(scene: Scene) -> PlotSpec:
    """Return the impedance between the two grounds, or of the bridge alone."""
    alone = scene.plot.kind in ALONE
    f_hz = frequencies(scene.own)
    curves = tuple(
        CurveSpec(
            label=each.name,
            ink=ink(index),
            x=f_hz,
            y=np.abs(scene.truth.bench.curve(scene.present, each, f_hz, alone=alone)),
            strong=scene.is_strong(index, each.name),
        )
        for index, each in scene.seen
    )
    guess = scene.course.prediction
    drawn = _guess_curve(guess) if scene.answered and isinstance(guess, Drawn) else ()
    cursor_hz = scene.at_hz
    return PlotSpec(
        title="Impedance of the bridge alone" if alone else "Impedance between the two grounds",
        subtitle=_pair(scene.own),
        x=AxisSpec(unit="Hz", log=True, low=float(f_hz[0]), high=float(f_hz[-1])),
        y=_ohm_axis(scene, alone=alone),
        curves=(*curves, *scene.measured(), *drawn),
        bands=wanted_bands(scene.own),
        marks=_marks(scene) if scene.answered else (),
        cursor_x=cursor_hz,
        cursor_text="" if cursor_hz is None else format_quantity(cursor_hz, "Hz", digits=3),
        readouts=() if cursor_hz is None else _readouts(scene, cursor_hz, alone=alone),
    )


def _guess_curve(drawn: Drawn) -> tuple[CurveSpec, ...]:
    f_hz, z = (np.array(each, np.float64) for each in zip(*drawn.points, strict=True))
    return (CurveSpec(label="your guess", ink=GUESS, x=f_hz, y=z),)


def _pair(case: Case) -> str:
    return f"{case.pair.a} to {case.pair.b}"


def _ohm_axis(scene: Scene, *, alone: bool) -> AxisSpec:
    """Return an axis of whole decades around all candidates of the lesson's own case, shown or not."""
    f_hz = frequencies(scene.own)
    named = (*scene.plot.before, *scene.plot.after, getattr(scene.step, "candidate", ""))
    candidates = [each for each in scene.own.candidates if each.name in named] or scene.own.candidates
    values = [np.abs(scene.truth.bench.curve(scene.own, each, f_hz, alone=alone)) for each in candidates]
    if scene.step.kind == "design":
        values += [np.abs(scene.truth.bench.curve(scene.present, each, f_hz)) for _, each in scene.seen]
    values += [curve.y for curve in scene.measured()]
    seen = np.concatenate([each[np.isfinite(each) & (each > 0.0)] for each in values] or [np.ones(1)])
    seen = seen if seen.size else np.ones(1)
    low = max(_LOWEST_OHM, 10.0 ** math.floor(math.log10(float(seen.min())) - 0.01))
    high = min(_HIGHEST_OHM, 10.0 ** math.ceil(math.log10(float(seen.max())) + _HEADROOM_DECADES))
    return AxisSpec(unit="Ω", log=True, low=low, high=high)


def _marks(scene: Scene) -> tuple[MarkSpec, ...]:
    """Return the numbers that the words speak of as points, and the value that was predicted."""
    lesson, step = scene.truth.lesson, scene.step
    wanted = dict.fromkeys((*getattr(step, "truth", ()), *names_in(lesson.text(f"{step.id}/why"))))
    numbers = [lesson.number(name) for name in wanted]
    if isinstance(step, Drag):
        numbers = [lesson.number(step.number), *(each for each in numbers if each.name != step.number)]
    marks = [_mark(scene, number) for number in numbers]
    return (*_guess_mark(scene), *(each for each in marks if each is not None))


def _mark(scene: Scene, number: Number) -> MarkSpec | None:
    """Return the point of a number, where the plot has a place for it."""
    asked = isinstance(scene.step, Drag) and number.name == scene.step.number
    # the point that was asked for stands there also where its curve is still to be drawn
    among = enumerate(scene.present.candidates) if asked else scene.seen
    found = next(((k, each) for k, each in among if each.name == number.candidate), None)
    if found is None or number.case != scene.plot.case:
        return None
    (index, candidate), prefix = found, "bridge" if scene.plot.kind in ALONE else ""
    if number.what == (prefix or "in-circuit") and number.at_hz:
        at_hz, value = number.at_hz, scene.truth.value(number.name)
    elif number.what.removesuffix("-at") in _extremes(prefix):
        at_hz, value = extreme(scene.truth.bench, number, scene.own, candidate)
    else:
        return None
    if not math.isfinite(value) or value <= 0.0:
        return None
    return MarkSpec(label=scene.truth.shown(number.name), ink=ink(index), x=at_hz, y=value)


def _extremes(prefix: str) -> tuple[str, str]:
    dash = f"{prefix}-" if prefix else ""
    return f"{dash}highest", f"{dash}lowest"


def _guess_mark(scene: Scene) -> tuple[MarkSpec, ...]:
    at_hz = value_at_hz(scene.truth, scene.step)
    guess = scene.course.prediction
    if at_hz is None or not isinstance(guess, Dragged) or guess.value <= 0.0:
        return ()
    return (MarkSpec(label=f"your guess: {reading(guess.value, 'ohm')}", ink=GUESS, x=at_hz, y=guess.value),)


def _readouts(scene: Scene, f_hz: float, *, alone: bool) -> tuple[ReadoutSpec, ...]:
    found = []
    for index, each in scene.seen:
        z = scene.truth.bench.impedance(scene.present, each, f_hz, alone=alone)
        finite = math.isfinite(abs(z)) and abs(z) > 0.0
        angle = f"{math.degrees(cmath.phase(z)):+.0f}°".replace("-", "−") if finite else ""
        size = reading(abs(z), "ohm")
        found.append(ReadoutSpec(label=each.name, ink=ink(index), text=size, note=angle, y=abs(z) if finite else None))
    return tuple(found)
