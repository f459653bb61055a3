"""A lesson as a page to print: questions with room for the hand, and the answers with their plots at the end."""

from __future__ import annotations

import html
import math

import numpy as np
from attrs import evolve

from app.lessons.course import Course
from app.lessons.document import Choose, Design, Drag, Draw, Step
from app.lessons.text import as_html
from app.lessons.truth import Truth, asks
from app.present.answers import question
from app.present.lesson_plots import step_plot
from app.present.specs import AxisSpec, CurveSpec, Ink, PlotSpec
from models.decide.verdict import SAFETY_CAUTION
from models.quantity import format_quantity

_WIDTH, _HEIGHT, _LEFT, _BOTTOM, _TOP = 620.0, 300.0, 76.0, 30.0, 12.0
_MOST_POINTS = 240
_MOST_TICKS = 10
_LINEAR_TICKS = 6
_EDGE = 24.0
"""How near to the right edge a text ends at its tick in place of standing across it."""
_DASHES = ("", "8 4", "2 3", "9 3 2 3", "14 4", "7 3 2 3 2 3")
_INKS = ("#0072B2", "#B34F00", "#007A59", "#9A4C7F", "#8A6100", "#000000")
_LIMIT = Ink(slot=5)
_STYLE = """
@page { margin: 18mm; }
body { font: 11pt/1.45 "Inter", "Helvetica", sans-serif; color: #1b1d1f; max-width: 46em; margin: auto; }
h1 { font-size: 18pt; margin-bottom: 0; } h2 { font-size: 13pt; margin: 1.6em 0 .3em; }
.place { color: #62666b; margin-top: .2em; } .ask { border: 1px solid #cbc6ba; padding: .4em 1em; border-radius: 6px; }
.box { display: inline-block; width: .8em; height: .8em; border: 1px solid #1b1d1f; margin-right: .6em; }
.answers { break-before: page; } section { break-inside: avoid; } svg { width: 100%; height: auto; }
.remember { border-left: 4px solid #0b7a4b; padding: .2em 1em; font-weight: 600; }
.caution { color: #8a5a00; font-size: 9.5pt; } li { list-style: none; } ul.plain { padding-left: 0; }
"""


def handout_html(truth: Truth, *, number: int = 1) -> str:
    """Return a lesson as HTML to print: first the questions, then, on a page of their own, the answers."""
    lesson = truth.lesson
    questions = "".join(_question(truth, index, step) for index, step in enumerate(lesson.steps))
    answers = "".join(_answer(truth, index, step) for index, step in enumerate(lesson.steps) if step.kind != "read")
    caution = f'<p class="caution">{html.escape(SAFETY_CAUTION)}</p>' if lesson.touches_safety else ""
    title = html.escape(lesson.script.title)
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        f"<style>{_STYLE}</style></head><body><h1>{title}</h1>"
        f'<p class="place">Lesson {number} · about {lesson.script.minutes} minutes</p>{caution}{questions}'
        f'<div class="answers"><h1>Answers</h1>{answers}'
        f'<p class="remember">{html.escape(truth.fill(lesson.script.remember))}</p></div></body></html>\n'
    )


def _question(truth: Truth, index: int, step: Step) -> str:
    words = as_html(truth.text(step.id), links=False)
    asked = Course(lesson=truth.lesson, at=index)
    body = words + _input(truth, step) + (_plot(truth, asked, step) if isinstance(step, Draw) else "")
    return f"<section><h2>{html.escape(step.title)}</h2>{body}</section>"


def _input(truth: Truth, step: Step) -> str:
    """Return the room in which the answer is ticked or written."""
    if isinstance(step, Choose):
        rows = "".join(_tick(each.text) for each in step.options)
        because = "".join(_tick(each.text) for each in step.reasons)
        reasons = f"<p>Because …</p><ul class='plain'>{because}</ul>" if because else ""
        return f'<div class="ask"><ul class="plain">{rows}</ul>{reasons}</div>'
    if isinstance(step, Drag):
        return f'<div class="ask"><p>My guess: ____________  ({step.low} to {step.high})</p></div>'
    if isinstance(step, Design):
        wanted = "".join(_tick(question(each)) for each in truth.lesson.case_of(step).requirements)
        return f'<div class="ask"><ul class="plain">{wanted}</ul></div>'
    return '<div class="ask"><p>Draw the curve on the axes.</p></div>' if isinstance(step, Draw) else ""


def _tick(text: str) -> str:
    return f'<li><span class="box"></span>{html.escape(text)}</li>'


def _answer(truth: Truth, index: int, step: Step) -> str:
    shown = Course(lesson=truth.lesson, at=index, shown=frozenset({step.id}))
    why = as_html(truth.text(f"{step.id}/why"), links=False)
    head = html.escape(step.title)
    if isinstance(step, Choose):
        right = next(each.text for each in step.options if each.is_right)
        why = f"<p><b>{html.escape(right)}</b></p>{why}"
    if isinstance(step, Drag):
        why = f"<p><b>{html.escape(truth.shown(step.number))}</b></p>{why}"
    plot = _plot(truth, shown, step) if asks(step) else ""
    return f"<section><h2>{head}</h2>{why}{plot}</section>"


def _plot(truth: Truth, course: Course, step: Step) -> str:
    spec = step_plot(truth, course, truth.lesson.case_of(step))
    return "" if spec is None else plot_svg(spec)


def plot_svg(spec: PlotSpec) -> str:
    """Return a plot as SVG: axes with their ticks, curves with colour and dash, and their names below."""
    x, y = _Axis(spec.x, _LEFT, _WIDTH - 12.0), _Axis(spec.y, _HEIGHT - _BOTTOM, _TOP)
    limits = tuple(CurveSpec(label=each.label, ink=_LIMIT, x=each.x, y=each.y, strong=True) for each in spec.limits)
    curves = (*spec.curves, *limits)
    shown = [each for each in curves if not each.faint]
    height = _HEIGHT + 20.0 * ((len(shown) + 1) // 2)
    lines = "".join(_curve(each, x, y) for each in curves)
    names = "".join(_name(each, k) for k, each in enumerate(shown))
    title = html.escape(spec.title)
    return (
        f'<svg viewBox="0 0 {_WIDTH:g} {height:g}" role="img" aria-label="{title}" font-size="11" '
        f'font-family="Inter, Helvetica, sans-serif">{_grid(x, y)}{lines}{names}</svg>'
    )


class _Axis:
    """One axis from values to places on the paper."""

    def __init__(self, spec: AxisSpec, start: float, end: float) -> None:
        self.spec = spec
        self.start, self.end = start, end
        self._low, self._high = self._linear(spec.low), self._linear(spec.high)

    def place(self, value: float) -> float:
        """Return where a value stands; NaN where there is no place for it."""
        share = (self._linear(value) - self._low) / (self._high - self._low)
        return self.start + share * (self.end - self.start)

    def ticks(self) -> list[tuple[float, str]]:
        """Return the values that are written, with their texts."""
        if self.spec.log:
            first, last = math.ceil(self._low - 1e-9), math.floor(self._high + 1e-9)
            step = max(1, math.ceil((last - first) / _MOST_TICKS))
            values = [10.0**k for k in range(first, last + 1, step)]
        else:
            apart = _round_step((self.spec.high - self.spec.low) / _LINEAR_TICKS)
            first, last = math.ceil(self.spec.low / apart - 1e-9), math.floor(self.spec.high / apart + 1e-9)
            values = [apart * k for k in range(first, last + 1)]
        return [(value, self._text(value, last=value == values[-1])) for value in values]

    def _linear(self, value: float) -> float:
        if not self.spec.log:
            return value
        return math.log10(value) if value > 0.0 else math.nan

    def _text(self, value: float, *, last: bool) -> str:
        unit = {"Ω": "ohm"}.get(self.spec.unit, self.spec.unit)
        if unit == "%":
            return f"{value:g} %"
        if unit.startswith("dB"):
            # of a long unit the uppermost tick tells enough
            shown = f"{value:g}".replace("-", "−")
            return f"{shown} {unit}" if last else shown
        return format_quantity(value, unit, digits=3)


def _round_step(least: float) -> float:
    """Return the next of 1, 2, 5, 10 and so on."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(each * power for each in (1.0, 2.0, 5.0, 10.0) if each * power >= least * (1.0 - 1e-9))


def _grid(x: _Axis, y: _Axis) -> str:
    parts = []
    for value, text in x.ticks():
        at = x.place(value)
        parts.append(f'<path d="M{at:.1f} {y.start:g}V{y.end:g}" stroke="#d8d4cb"/>')
        anchor = "middle" if at < x.end - _EDGE else "end"
        parts.append(f'<text x="{at:.1f}" y="{y.start + 16:g}" text-anchor="{anchor}">{html.escape(text)}</text>')
    for value, text in y.ticks():
        at = y.place(value)
        parts.append(f'<path d="M{x.start:g} {at:.1f}H{x.end:g}" stroke="#d8d4cb"/>')
        parts.append(f'<text x="{x.start - 6:g}" y="{at + 4:.1f}" text-anchor="end">{html.escape(text)}</text>')
    return "".join(parts)


def _curve(curve: CurveSpec, x: _Axis, y: _Axis) -> str:
    thin = curve if curve.x.size <= _MOST_POINTS else _thinned(curve)
    points = [(x.place(a), y.place(b)) for a, b in zip(thin.x.tolist(), thin.y.tolist(), strict=True)]
    inside = [(a, min(max(b, y.end), y.start)) for a, b in points if math.isfinite(a) and math.isfinite(b)]
    path = "L".join(f"{a:.1f} {b:.1f}" for a, b in inside)
    return f'<path d="M{path}" fill="none" {_stroke(curve)}/>' if inside else ""


def _thinned(curve: CurveSpec) -> CurveSpec:
    keep = np.unique(np.linspace(0, curve.x.size - 1, _MOST_POINTS).astype(int))
    return evolve(curve, x=curve.x[keep], y=curve.y[keep])


def _stroke(curve: CurveSpec) -> str:
    slot = curve.ink.slot % len(_INKS)
    dash = f' stroke-dasharray="{_DASHES[slot]}"' if _DASHES[slot] else ""
    return f'stroke="{_INKS[slot]}" stroke-width="{2.0 if curve.strong else 1.4:g}"{dash}'


def _name(curve: CurveSpec, index: int) -> str:
    left, top = _LEFT + (index % 2) * 280.0, _HEIGHT + 14.0 + 20.0 * (index // 2)
    line = f'<path d="M{left:g} {top - 4:g}h28" {_stroke(curve)}/>'
    return f'{line}<text x="{left + 36:g}" y="{top:g}">{html.escape(curve.label)}</text>'
