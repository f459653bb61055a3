"""The plots of a lesson: what stands there while a question is open, and what the answer adds."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from app.lessons.course import Course
from app.lessons.document import Drag, Number, Plot, Step
from app.lessons.predict import Dragged, Drawn
from app.lessons.quantities import extreme
from app.lessons.text import names_in
from app.lessons.truth import Truth
from app.present.impedance_plot import wanted_bands
from app.present.numbers import reading
from app.present.specs import AxisSpec, CurveSpec, Ink, MarkSpec, PlotSpec, ReadoutSpec
from app.present.tabs import ink
from models.case.document import Candidate, Case
from models.formulas.discharge import shared_voltage
from models.formulas.impedance import Real
from models.quantity import format_quantity

GUESS = Ink(slot=5)
_WAIT = "Make your guess first. What is computed is then drawn here."
_ALONE = ("bridge", "measured")
"""Plots of the bridge alone: a meter is set to zero with the bridge taken out, and then sees nothing else."""
_POINTS = 400
_TIMES_S = (1e-6, 1e3)
_SLOW_HZ = 1e3
_LOWEST_OHM, _HIGHEST_OHM = 1e-4, 1e9


def step_plot(
    truth: Truth, course: Course, present: Case, *, strong: str = "", cursor_hz: float | None = None
) -> PlotSpec | None:
    """Return the plot of the present step over the present document, None where the step has none.

    Parameters
    ----------
    truth : of the lesson
    course : where the learner stands
    present : the document as the learner has it; the axes stay those of the lesson's own case
    strong : name of the curve that the words point at
    cursor_hz : where the learner has put the cursor; None for where the lesson puts it
    """
    step = course.step
    if step.plot.kind not in _PLOTS:
        return None
    answered = not course.asks_now
    seen = _seen(step, present, answered=answered)
    if not answered and not seen and step.kind != "draw" and value_at_hz(truth, step) is None:
        # axes without curves would tell how large the answer is
        return PlotSpec(title="", empty=_WAIT)
    return _PLOTS[step.plot.kind](_Scene(truth, course, present, seen=seen, strong=strong, cursor_hz=cursor_hz))


class _Scene:
    """What a plot is made from."""

    def __init__(
        self,
        truth: Truth,
        course: Course,
        present: Case,
        *,
        seen: tuple[tuple[int, Candidate], ...],
        strong: str,
        cursor_hz: float | None,
    ) -> None:
        self.truth = truth
        self.course = course
        self.step: Step = course.step
        self.plot: Plot = course.step.plot
        self.own: Case = truth.lesson.case_of(course.step)
        self.present = present
        self.seen = seen
        self.strong = strong
        self.answered = not course.asks_now
        self.at_hz = (cursor_hz or self.plot.at_hz) if self.answered else None

    def measured(self) -> tuple[CurveSpec, ...]:
        """Return the measurement laid over, where there is one."""
        if self.plot.measurement is None:
            return ()
        found = self.truth.measurement(self.plot.measurement)
        label = "measured"
        return (CurveSpec(label=label, ink=GUESS, x=found.f_hz, y=np.abs(found.z_ohm), strong=self.strong == label),)

    def is_strong(self, index: int, name: str) -> bool:
        """Return whether a curve stands in front: the one pointed at, else the one that is asked for."""
        if self.strong:
            return name == self.strong
        wanted = getattr(self.step, "candidate", None)
        if wanted is None and isinstance(self.step, Drag):
            wanted = self.truth.lesson.number(self.step.number).candidate
        return name == wanted if wanted is not None else index == 0


def _seen(step: Step, present: Case, *, answered: bool) -> tuple[tuple[int, Candidate], ...]:
    """Return the candidates that are shown, with their places in the document."""
    names = (step.plot.after or tuple(each.name for each in present.candidates)) if answered else step.plot.before
    if answered and step.kind == "design":
        names = tuple(each.name for each in present.candidates)
    return tuple((index, each) for index, each in enumerate(present.candidates) if each.name in names)


def _impedance(scene: _Scene) -> PlotSpec:
    alone = scene.plot.kind in _ALONE
    f_hz = _frequencies(scene.own)
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


def _frequencies(case: Case) -> Real:
    return np.geomspace(case.sweep.start_hz, case.sweep.stop_hz, _POINTS)


def _pair(case: Case) -> str:
    return f"{case.pair.a} to {case.pair.b}"


def _ohm_axis(scene: _Scene, *, alone: bool) -> AxisSpec:
    """Return an axis of whole decades around all candidates of the lesson's own case, shown or not."""
    f_hz = np.geomspace(scene.own.sweep.start_hz, scene.own.sweep.stop_hz, 60)
    named = (*scene.plot.before, *scene.plot.after, getattr(scene.step, "candidate", ""))
    candidates = [each for each in scene.own.candidates if each.name in named] or scene.own.candidates
    values = [np.abs(scene.truth.bench.curve(scene.own, each, f_hz, alone=alone)) for each in candidates]
    if scene.step.kind == "design":
        values += [np.abs(scene.truth.bench.curve(scene.present, each, f_hz)) for _, each in scene.seen]
    values += [curve.y for curve in scene.measured()]
    seen = np.concatenate([each[np.isfinite(each) & (each > 0.0)] for each in values] or [np.ones(1)])
    seen = seen if seen.size else np.ones(1)
    low = max(_LOWEST_OHM, 10.0 ** math.floor(math.log10(float(seen.min())) - 0.01))
    high = min(_HIGHEST_OHM, 10.0 ** math.ceil(math.log10(float(seen.max())) + 0.01))
    return AxisSpec(unit="Ω", log=True, low=low, high=high)


def _marks(scene: _Scene) -> tuple[MarkSpec, ...]:
    """Return the numbers that the words speak of as points, and the value that was predicted."""
    lesson, step = scene.truth.lesson, scene.step
    wanted = dict.fromkeys((*getattr(step, "truth", ()), *names_in(lesson.text(f"{step.id}/why"))))
    numbers = [lesson.number(name) for name in wanted]
    if isinstance(step, Drag):
        numbers = [lesson.number(step.number), *(each for each in numbers if each.name != step.number)]
    marks = [_mark(scene, number) for number in numbers]
    return (*_guess_mark(scene), *(each for each in marks if each is not None))


def _mark(scene: _Scene, number: Number) -> MarkSpec | None:
    """Return the point of a number, where the plot has a place for it."""
    found = next(((k, each) for k, each in scene.seen if each.name == number.candidate), None)
    if found is None or number.case != scene.plot.case:
        return None
    (index, candidate), prefix = found, "bridge" if scene.plot.kind in _ALONE else ""
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


def _guess_mark(scene: _Scene) -> tuple[MarkSpec, ...]:
    at_hz = value_at_hz(scene.truth, scene.step)
    guess = scene.course.prediction
    if at_hz is None or not isinstance(guess, Dragged) or guess.value <= 0.0:
        return ()
    return (MarkSpec(label=f"your guess: {reading(guess.value, 'ohm')}", ink=GUESS, x=at_hz, y=guess.value),)


def value_at_hz(truth: Truth, step: Step) -> float | None:
    """Return where on an impedance plot a value can be dragged; None where the plot has no place for it."""
    if not isinstance(step, Drag) or step.plot.kind not in ("impedance", *_ALONE):
        return None
    number = truth.lesson.number(step.number)
    fits = number.what == ("bridge" if step.plot.kind in _ALONE else "in-circuit") and number.case == step.plot.case
    return number.at_hz if fits and number.at_hz else None


def _readouts(scene: _Scene, f_hz: float, *, alone: bool) -> tuple[ReadoutSpec, ...]:
    found = []
    for index, each in scene.seen:
        z = scene.truth.bench.impedance(scene.present, each, f_hz, alone=alone)
        finite = math.isfinite(abs(z)) and abs(z) > 0.0
        angle = f"  {math.degrees(cmath.phase(z)):+.0f}°".replace("-", "−") if finite else ""
        text = reading(abs(z), "ohm") + angle
        found.append(ReadoutSpec(label=each.name, ink=ink(index), text=text, y=abs(z) if finite else None))
    return tuple(found)


def _waveform(scene: _Scene) -> PlotSpec:
    shown = [(index, each, _loudest(scene, each)) for index, each in scene.seen]
    period_s = 1.0 / scene.own.sources[_source_index(scene)].wave.frequency_hz
    curves = []
    for index, each, source in shown:
        wave = scene.truth.bench.common_mode(scene.present, each)[source]
        if np.isfinite(wave.coefficients).all():
            volts = np.tile(wave.waveform_v, 2)
            time_s = np.arange(volts.size, dtype=np.float64) * (2.0 * period_s / volts.size)
            strong = scene.is_strong(index, each.name)
            curves.append(CurveSpec(label=each.name, ink=ink(index), x=time_s, y=volts, strong=strong))
    reach = 1.15 * _reach(scene)
    return PlotSpec(
        title="Voltage between the two grounds",
        subtitle=f"{scene.own.sources[_source_index(scene)].name}, two periods",
        x=AxisSpec(unit="s", low=0.0, high=2.0 * period_s),
        y=AxisSpec(unit="V", low=-reach, high=reach),
        curves=tuple(curves),
    )


def _reach(scene: _Scene) -> float:
    names = scene.plot.after or tuple(each.name for each in scene.own.candidates)
    waves = [
        scene.truth.bench.common_mode(scene.own, each)[_source_index(scene)]
        for each in scene.own.candidates
        if each.name in names
    ]
    return max((each.peak_v for each in waves if math.isfinite(each.peak_v)), default=1.0) or 1.0


def _source_index(scene: _Scene) -> int:
    names = [each.name for each in scene.own.sources]
    return names.index(scene.plot.source) if scene.plot.source in names else 0


def _loudest(scene: _Scene, candidate: Candidate) -> int:
    """Return the source to show: the one named, or the first that the document still has."""
    count = len(scene.truth.bench.common_mode(scene.present, candidate))
    return min(_source_index(scene), count - 1)


def _spectrum(scene: _Scene) -> PlotSpec:
    curves = []
    for index, each in scene.seen:
        wave = scene.truth.bench.common_mode(scene.present, each)[_loudest(scene, each)]
        v_rms = wave.v_rms[1:]
        level = np.full(v_rms.shape, np.nan)
        np.log10(v_rms, out=level, where=np.isfinite(v_rms) & (v_rms > 0.0))
        strong = scene.is_strong(index, each.name)
        x = wave.orders[1:] * wave.frequency_hz
        curves.append(
            CurveSpec(label=each.name, ink=ink(index), x=x, y=20.0 * level + 120.0, strong=strong, faint=not strong)
        )
    source = scene.own.sources[_source_index(scene)]
    return PlotSpec(
        title="Voltage between the two grounds, by frequency",
        subtitle=f"{source.name}, each multiple of its frequency",
        x=AxisSpec(unit="Hz", log=True, low=source.wave.frequency_hz, high=scene.own.sweep.stop_hz),
        y=AxisSpec(unit="dBµV", low=0.0, high=160.0),
        curves=tuple(curves),
        cursor_x=scene.at_hz,
    )


def _paths(scene: _Scene) -> PlotSpec:
    f_hz = _frequencies(scene.own)
    candidate = scene.seen[0][1] if scene.seen else None
    shares = () if candidate is None else scene.truth.bench.paths(scene.present, candidate, f_hz)
    curves = tuple(
        CurveSpec(
            label=path_label(each.name),
            ink=ink(index),
            x=f_hz,
            y=100.0 * each.share,
            strong=scene.strong == each.name or (not scene.strong and each.role == "branch"),
        )
        for index, each in enumerate(each for each in shares if each.leaves_b)
    )
    return PlotSpec(
        title="Which way the current goes back",
        subtitle="share of each path" if candidate is None else f"{candidate.name}, share of each path",
        x=AxisSpec(unit="Hz", log=True, low=float(f_hz[0]), high=float(f_hz[-1])),
        y=AxisSpec(unit="%", low=0.0, high=105.0),
        curves=curves,
        cursor_x=scene.at_hz,
        cursor_text="" if scene.at_hz is None else format_quantity(scene.at_hz, "Hz", digits=3),
        readouts=_share_readouts(curves, scene.at_hz),
    )


def path_label(name: str) -> str:
    """Return what a path is called: a candidate's only branch is the bridge."""
    return "the bridge" if name == "branch 1" else name


def _share_readouts(curves: tuple[CurveSpec, ...], at_hz: float | None) -> tuple[ReadoutSpec, ...]:
    if at_hz is None:
        return ()
    shares = [(each, float(np.interp(at_hz, each.x, each.y))) for each in curves]
    return tuple(
        ReadoutSpec(label=each.label, ink=each.ink, text=format_quantity(share / 100.0, "", digits=2), y=share)
        for each, share in shares
    )


def _discharge(scene: _Scene) -> PlotSpec:
    time_s = np.geomspace(*_TIMES_S, _POINTS)
    level_v = scene.plot.level_v
    curves = []
    for index, each in scene.seen:
        farad = scene.truth.bench.capacitance(scene.present, each, _SLOW_HZ)
        ohm = abs(scene.truth.bench.impedance(scene.present, each, 0.0))
        left = np.exp(-time_s / (ohm * farad)) if math.isfinite(ohm) else np.ones_like(time_s)
        volts = np.where(left > 1e-6, shared_voltage(level_v, farad) * left, np.nan)
        strong = scene.is_strong(index, each.name)
        curves.append(CurveSpec(label=each.name, ink=ink(index), x=time_s, y=volts, strong=strong))
    return PlotSpec(
        title="Voltage between the two grounds after a discharge",
        subtitle=f"{format_quantity(level_v, 'V')} from a charged person, once",
        x=AxisSpec(unit="s", log=True, low=_TIMES_S[0], high=_TIMES_S[1]),
        y=AxisSpec(unit="V", log=True, low=1.0, high=1e4),
        curves=tuple(curves),
    )


_PLOTS: Mapping[str, Callable[[_Scene], PlotSpec]] = MappingProxyType(
    {
        "impedance": _impedance,
        "bridge": _impedance,
        "measured": _impedance,
        "waveform": _waveform,
        "spectrum": _spectrum,
        "paths": _paths,
        "discharge": _discharge,
    }
)
