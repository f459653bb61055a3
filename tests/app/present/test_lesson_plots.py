"""The plots of the shipped lessons, against the numbers that their words are filled with."""

from __future__ import annotations

import numpy as np
import pytest

from app.lessons.course import Course
from app.lessons.document import Draw, Lesson
from app.present.lesson_plots import step_plot
from app.present.lesson_room import for_a_room
from app.present.specs import CurveSpec, PlotSpec
from tests.app.lessons.shipped import LESSONS, TRUTHS

NO_PLOT = ("none", "board")
PLACES = [(lesson, at) for lesson in LESSONS for at, step in enumerate(lesson.steps) if step.plot.kind not in NO_PLOT]
STEPS = [pytest.param(lesson, at, id=f"{lesson.id}:{lesson.steps[at].id}") for lesson, at in PLACES]
DRAWN = [each for each, (lesson, at) in zip(STEPS, PLACES, strict=True) if isinstance(lesson.steps[at], Draw)]


def answered(lesson: Lesson, at: int) -> PlotSpec:
    plot = step_plot(TRUTHS[lesson.id], Course(lesson=lesson, at=at).show(), lesson.case_of(lesson.steps[at]))
    assert plot is not None
    return plot


def named(lesson_id: str, step_id: str) -> PlotSpec:
    lesson = next(each for each in LESSONS if each.id == lesson_id)
    return answered(lesson, [step.id for step in lesson.steps].index(step_id))


def curve(plot: PlotSpec, label: str) -> CurveSpec:
    return next(each for each in plot.curves if each.label == label)


@pytest.mark.parametrize(("lesson", "at"), STEPS)
def test_every_step_draws_the_kind_it_names_with_curves(lesson: Lesson, at: int) -> None:
    plot, kind = answered(lesson, at), lesson.steps[at].plot.kind
    units = {"waveform": ("s", "V"), "discharge": ("s", "V"), "paths": ("Hz", "%"), "spectrum": ("Hz", "dBµV")}
    units["field"] = ("Hz", "dBµV/m")
    assert (plot.x.unit, plot.y.unit) == units.get(kind, ("Hz", "Ω"))
    assert plot.curves
    assert all(np.isfinite(each.y).any() for each in plot.curves)


@pytest.mark.parametrize(("lesson", "at"), DRAWN)
def test_above_every_drawn_curve_there_is_room_for_its_words(lesson: Lesson, at: int) -> None:
    plot = answered(lesson, at)
    tallest = max(float(np.max(each.y[np.isfinite(each.y)])) for each in plot.curves)
    assert plot.y.high >= 2.0 * tallest


def test_a_sharp_crest_stands_on_the_plot_with_its_value_and_place() -> None:
    plot, truth = named("07-one-pin", "curve"), TRUTHS["07-one-pin"]
    top = max(plot.marks, key=lambda each: each.y)
    assert top.y == pytest.approx(truth.value("top"))
    assert top.x == pytest.approx(truth.value("top_at"))
    assert plot.y.low < top.y < plot.y.high


def test_a_charge_without_a_path_stays_and_one_with_a_path_goes() -> None:
    plot, truth = named("14-discharge", "time"), TRUTHS["14-discharge"]
    assert curve(plot, "1 nF").y == pytest.approx(truth.value("one_v"))
    bled = curve(plot, "1 nF and 1 MΩ")
    ohm, farad = 1e6, 1e-9 + truth.value("open_c")
    for left in (0.5, 0.1, 0.01):
        at_s = -ohm * farad * np.log(left)
        assert np.interp(at_s, bled.x, bled.y) == pytest.approx(left * truth.value("bled_v"), rel=0.02)


def test_the_shares_of_all_ways_back_are_those_the_words_say() -> None:
    plot, truth = named("05-where-it-goes", "where"), TRUTHS["05-where-it-goes"]
    bridge = next(each for each in plot.readouts if each.label == "the bridge")
    assert bridge.y == pytest.approx(100.0 * truth.value("fast"), rel=0.02)


def test_a_wave_reaches_the_peak_that_the_words_say() -> None:
    plot, truth = named("09-interwinding", "bridge"), TRUTHS["09-interwinding"]
    for label, number in (("Nothing", "open_v"), ("Y-capacitor 1 nF", "y_v")):
        assert np.max(np.abs(curve(plot, label).y)) == pytest.approx(truth.value(number), rel=0.01)


def test_next_to_nothing_is_told_without_an_exponent() -> None:
    lesson = next(each for each in LESSONS if each.id == "05-where-it-goes")
    at = [step.id for step in lesson.steps].index("where")
    course = Course(lesson=lesson, at=at).show()
    plot = step_plot(TRUTHS[lesson.id], course, lesson.case_of(lesson.steps[at]), cursor_hz=1e5)
    assert plot is not None
    assert {each.label: each.text for each in plot.readouts}["gap"] == "< 0.1 %"
    assert not any("e-" in each.text for each in plot.readouts)


def test_the_point_that_was_asked_for_stands_where_its_curve_is_still_to_be_drawn() -> None:
    plot, truth = named("04-two-amperes", "left"), TRUTHS["04-two-amperes"]
    assert "Bead, 2 A" not in {each.label for each in plot.curves}
    assert [(each.x, each.y) for each in plot.marks if each.label == truth.shown("two")] == [(1e7, truth.value("two"))]


def test_before_a_group_the_readings_stand_by_the_names_of_the_curves() -> None:
    plot = named("05-where-it-goes", "where")
    large = for_a_room(plot)
    told = {each.label: each.text for each in plot.readouts}
    assert [each.label for each in large.curves] == [f"{each.label}: {told[each.label]}" for each in plot.curves]
    assert large.readouts == ()
    assert large.cursor_text == ""
    assert [(each.x, each.y) for each in large.marks[:-1]] == [(plot.cursor_x, each.y) for each in plot.readouts]
    assert (large.marks[-1].label, large.marks[-1].x) == (plot.cursor_text, plot.cursor_x)
    wave = named("05-where-it-goes", "copper")
    assert for_a_room(wave) is wave
