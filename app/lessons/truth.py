"""The truth of a lesson: its numbers, its curves and its words with the numbers in their places."""

from __future__ import annotations

import math

import numpy as np
from attrs import evolve

from app.lessons.bench import Bench
from app.lessons.document import Draw, Lesson, Number, Step
from app.lessons.quantities import QUANTITIES, unit_of
from app.lessons.text import filled
from models.arrays import Real
from models.case.document import Candidate, Case
from models.fitting.data import Measurement
from models.quantity import format_quantity

KNOTS = 25
"""As many as a hand can set by keys in half a minute, and enough for a resonance."""


class Truth:
    """Everything true of one lesson; computed when it is asked for, then kept."""

    def __init__(self, lesson: Lesson) -> None:
        self.lesson = lesson
        self.bench = Bench(number=self.value, measured=self.measurement)
        self._values: dict[str, float] = {}
        self._measurements: dict[str, Measurement] = {}

    def value(self, name: str) -> float:
        """Return a number, SI."""
        if name not in self._values:
            number = self.lesson.number(name)
            case = self.lesson.cases[number.case]
            candidate = candidate_of(case, number.candidate)
            self._values[name] = QUANTITIES[number.what].compute(self.bench, number, case, candidate)
        return self._values[name]

    def unit(self, name: str) -> str:
        """Return the unit of a number."""
        number = self.lesson.number(name)
        return unit_of(number, self.lesson.cases[number.case])

    def shown(self, name: str) -> str:
        """Return a number as the words of the lesson say it."""
        return shown(self.lesson.number(name), self.value(name), self.unit(name))

    def said(self, name: str, value: float) -> str:
        """Return what somebody says a number is, in the form of the number itself."""
        return shown(evolve(self.lesson.number(name), digits=2), value, self.unit(name))

    def text(self, section: str) -> str:
        """Return a section of the text with its numbers."""
        return self.fill(self.lesson.text(section))

    def fill(self, text: str) -> str:
        """Return any words of the lesson with their numbers."""
        return filled(text, self.shown)

    def measurement(self, name: str) -> Measurement:
        """Return a measurement of the lesson."""
        if name not in self._measurements:
            self._measurements[name] = read_measurement(self.lesson.measurements[name], name)
        return self._measurements[name]

    def knots(self, step: Draw) -> tuple[Real, Real]:
        """Return the frequencies at which a drawn curve is looked at, and the true |Z| there."""
        case = self.lesson.case_of(step)
        f_hz = knots_hz(case)
        candidate = candidate_of(case, step.candidate)
        z = self.bench.curve(case, candidate, f_hz, alone=step.plot.kind in ("bridge", "measured"))
        return f_hz, np.abs(z)


def knots_hz(case: Case) -> Real:
    """Return the frequencies at which a curve over a case's sweep is drawn by hand, evenly spaced on a log axis."""
    return np.geomspace(case.sweep.start_hz, case.sweep.stop_hz, KNOTS)


def candidate_of(case: Case, name: str | None) -> Candidate:
    """Return the candidate of that name; the first, or none at all, where nothing is named."""
    if name is None:
        return case.candidates[0] if case.candidates else Candidate(name="Nothing")
    return next(each for each in case.candidates if each.name == name)


def shown(number: Number, value: float, unit: str) -> str:
    """Return a number for a sentence: a plain one for ratios and verdicts, else with its unit."""
    if number.what == "verdict":
        return "passes" if value else "fails"
    if number.what in ("ratio", "over-limit"):
        return plain_number(value, number.digits)
    if math.isinf(value):
        return "open" if unit == "ohm" else "without bound"
    return format_quantity(value, unit, digits=number.digits)


def plain_number(value: float, digits: int) -> str:
    """Return a ratio for a sentence: rounded, and never with an exponent."""
    if not math.isfinite(value):
        return "infinitely many"
    rounded = float(f"{value:.{digits}g}")
    if abs(rounded) < 1e4:
        return f"{rounded:g}"
    return f"{rounded:,.0f}".replace(",", "\u202f")


def read_measurement(text: str, name: str) -> Measurement:
    """Return a measurement from its text: one line a point, frequency in Hz, resistance and reactance in Ω.

    Raises
    ------
    ValueError
        where a line holds anything else
    """
    from models.fitting.data import make_measurement

    rows = [line.split(",") for line in text.splitlines() if line.strip() and not line.startswith("#")]
    points = np.array([[float(cell) for cell in row] for row in rows], dtype=np.float64)
    if points.ndim != 2 or points.shape[1] != 3:
        raise ValueError("lines of frequency, resistance, reactance")
    return make_measurement(points[:, 0], points[:, 1] + 1j * points[:, 2], source=name)


def asks(step: Step) -> bool:
    """Return whether a step wants a prediction."""
    return step.kind in ("choose", "value", "draw")
