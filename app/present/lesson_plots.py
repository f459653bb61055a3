"""The plot of a step of a lesson: which one, and whether it may be seen before the answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from app.lessons.course import Course
from app.lessons.truth import Truth
from app.present.lesson_discharge import discharge_plot
from app.present.lesson_field import field_plot
from app.present.lesson_impedance import impedance_plot
from app.present.lesson_paths import paths_plot
from app.present.lesson_scene import Scene, seen_candidates, value_at_hz
from app.present.lesson_wave import spectrum_plot, waveform_plot
from app.present.specs import PlotSpec
from models.case.document import Case

_WAIT = "Make your guess first. What is computed is then drawn here."


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
    seen = seen_candidates(step, present, answered=answered)
    if not answered and not seen and step.kind != "draw" and value_at_hz(truth, step) is None:
        # axes without curves would tell how large the answer is
        return PlotSpec(title="", empty=_WAIT)
    return _PLOTS[step.plot.kind](Scene(truth, course, present, seen=seen, strong=strong, cursor_hz=cursor_hz))


_PLOTS: Mapping[str, Callable[[Scene], PlotSpec]] = MappingProxyType(
    {
        "impedance": impedance_plot,
        "bridge": impedance_plot,
        "measured": impedance_plot,
        "waveform": waveform_plot,
        "spectrum": spectrum_plot,
        "paths": paths_plot,
        "field": field_plot,
        "discharge": discharge_plot,
    }
)
