"""A discharge, burst or surge on the screen: voltage and currents over time, peaks against ratings, what stays."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from attrs import frozen

from app.present.numbers import reading
from app.present.specs import AxisSpec, BarSpec, BarsSpec, CellSpec, CurveSpec, Ink, MarkSpec, PlotSpec, TableSpec
from app.present.tabs import ink
from models.arrays import Real
from models.case.document import Case
from models.outcomes.event import Event
from models.outcomes.ratings import Check
from models.outcomes.transient import PathCurrent, Transient
from models.quantity import format_quantity

_CURRENTS_SHOWN = 5
_GENERATOR = "from the generator"
_RATINGS_SHOWN = 5
_EMPTY = "No candidate yet."
_LONG = {"withstand": "A withstand voltage is one for a minute", "rated voltage": "A rated voltage is one for years"}
_VIRTUALLY_NONE_A = 1e-6
"""Share of the largest current below which a path is not drawn."""


@frozen(kw_only=True, eq=False)
class TransientSpec:
    """Everything that the window shows of one event.

    Attributes
    ----------
    voltage : across the pair, every candidate
    current : through every path, the selected candidate
    answers : peaks and what stays, candidates across
    ratings : every part of the selected candidate against its ratings
    notes : what a reader has to know
    caution : stands beside the numbers
    """

    voltage: PlotSpec
    current: PlotSpec
    answers: TableSpec
    ratings: TableSpec
    notes: tuple[str, ...] = ()
    caution: str = ""


def transient_spec(case: Case, transients: Sequence[Transient], selected: int) -> TransientSpec:
    """Return what the window shows of one event with each candidate."""
    if not transients:
        return TransientSpec(
            voltage=PlotSpec(title=_voltage_title(case), empty=_EMPTY),
            current=PlotSpec(title="Currents", empty=_EMPTY),
            answers=TableSpec(title="What the event does", empty=_EMPTY),
            ratings=TableSpec(title="Peaks against ratings", empty=_EMPTY),
        )
    shown = transients[min(selected, len(transients) - 1)]
    return TransientSpec(
        voltage=voltage_plot(case, transients, selected),
        current=current_plot(shown),
        answers=answers_table(transients, selected),
        ratings=ratings_table(shown),
        notes=shown.notes,
        caution=shown.caution,
    )


def event_text(event: Event) -> str:
    """Return an event in words: what, how much, where, which standard."""
    kind = event.standard
    return f"{kind.title}, {reading(event.level_v, 'V')} into {event.into}, {kind.standard}"


def voltage_plot(case: Case, transients: Sequence[Transient], selected: int) -> PlotSpec:
    """Return the voltage across the pair over the logarithm of time, every candidate, its peak marked."""
    curves = tuple(
        CurveSpec(label=each.candidate, ink=ink(index), x=each.t_s[1:], y=each.v_pair_v[1:], strong=index == selected)
        for index, each in enumerate(transients)
    )
    chosen = transients[min(selected, len(transients) - 1)]
    at = 1 + int(np.abs(chosen.v_pair_v[1:]).argmax())
    peak = MarkSpec(
        label=f"{reading(float(np.abs(chosen.v_pair_v[at])), 'V')} at {reading(float(chosen.t_s[at]), 's')}",
        ink=ink(selected),
        x=float(chosen.t_s[at]),
        y=float(chosen.v_pair_v[at]),
    )
    return PlotSpec(
        title=_voltage_title(case),
        subtitle=event_text(chosen.event),
        x=_time_axis(chosen),
        y=_around_zero("V", [curve.y for curve in curves]),
        curves=curves,
        marks=(peak,) if chosen.peak_v > 0.0 else (),
    )


def current_plot(transient: Transient) -> PlotSpec:
    """Return the current into the region and through the paths that carry most of it, over the logarithm of time."""
    curves = (
        CurveSpec(
            label=_GENERATOR,
            ink=Ink(),
            x=transient.t_s[1:],
            y=transient.injected_a[1:],
            strong=True,
            faint=False,
        ),
        *(
            CurveSpec(label=each.name, ink=ink(index), x=transient.t_s[1:], y=each.current_a[1:])
            for index, each in enumerate(_paths_shown(transient), start=1)
        ),
    )
    return PlotSpec(
        title=f"Currents, {transient.candidate}",
        subtitle=event_text(transient.event),
        x=_time_axis(transient),
        y=_around_zero("A", [curve.y for curve in curves]),
        curves=curves,
    )


def current_bars(transient: Transient) -> BarsSpec:
    """Return the peak of every current that is drawn, in the inks of the curves."""
    paths = _paths_shown(transient)
    peaks = (float(np.abs(transient.injected_a).max()), *(each.peak_a for each in paths))
    names = (_GENERATOR, *(each.name for each in paths))
    top = max(*peaks, 1e-12)
    return BarsSpec(
        title="Peak current",
        note=transient.candidate,
        bars=tuple(
            BarSpec(label=name, ink=ink(index), fraction=peak / top, text=reading(peak, "A"))
            for index, (name, peak) in enumerate(zip(names, peaks, strict=True))
        ),
    )


def _paths_shown(transient: Transient) -> list[PathCurrent]:
    """Return the paths with the highest peaks; what carries next to nothing is left out."""
    largest = max(float(np.abs(transient.injected_a).max()), *(each.peak_a for each in transient.currents), 0.0)
    paths = sorted(transient.currents, key=lambda each: -each.peak_a)[:_CURRENTS_SHOWN]
    return [each for each in paths if each.peak_a > _VIRTUALLY_NONE_A * largest]


def answers_table(transients: Sequence[Transient], selected: int) -> TableSpec:
    """Return peaks, the closest rating and what stays, questions down and candidates across."""
    event = transients[0].event
    rows = (
        ("Peak across the pair", tuple(_peak_cell(each, transients) for each in transients)),
        ("Closest rating", tuple(_closest_cell(each) for each in transients)),
        ("Left across the pair", tuple(_left_cell(each.settled.pair_v, each) for each in transients)),
        ("which bleeds to 1 % in", tuple(_bleed_cell(each.settled.pair_bleed_s) for each in transients)),
        (f"Left on {event.into}", tuple(_left_cell(each.settled.region_v, each) for each in transients)),
        ("which bleeds in", tuple(_bleed_cell(each.settled.region_bleed_s) for each in transients)),
    )
    return TableSpec(
        title=f"{event.kind.capitalize()}, {reading(event.level_v, 'V')}",
        columns=tuple((each.candidate, ink(index)) for index, each in enumerate(transients)),
        selected=selected,
        rows=rows,
    )


def ratings_table(transient: Transient) -> TableSpec:
    """Return every rated part of a candidate and of what always stands: its peak, its rating, its margin."""
    return TableSpec(
        title=f"Peaks against ratings, {transient.candidate}",
        columns=(("peak", Ink()), ("rating", Ink()), ("margin", Ink())),
        rows=tuple((_part_name(check), _rating_cells(check)) for check in transient.checks),
        empty="" if transient.checks else "No part has a rating or a safety class. Give it one to see its margin.",
    )


def rating_bars(transient: Transient) -> BarsSpec:
    """Return the peak of every rated part of a candidate against its rating, on a log scale, the closest first."""
    if not transient.checks:
        return BarsSpec(title="Ratings", note="No part states one. Give it one to see its margin.")
    return BarsSpec(
        title="Peaks against ratings",
        note=f"{transient.candidate}; log scale; a rated voltage is one for years",
        bars=tuple(
            BarSpec(
                label=f"{_place(check)}: {check.rating}",
                ink=ink(index),
                fraction=_rating_share(check.peak_v / check.rating_v),
                text=_margin_text(check),
                strong=check.decides,
                worst=check.decides and not check.holds,
            )
            for index, check in enumerate(transient.checks[:_RATINGS_SHOWN])
        ),
        limit_fraction=_rating_share(1.0),
        limit_text="the rating",
    )


def _rating_share(ratio: float) -> float:
    """Return how far a bar reaches: three decades under the rating, one over it."""
    return min(max(0.75 + 0.25 * math.log10(ratio), 0.0), 1.0) if ratio > 0.0 else 0.0


def _voltage_title(case: Case) -> str:
    return f"Voltage across the pair, {case.pair.b} to {case.pair.a}"


def _time_axis(transient: Transient) -> AxisSpec:
    base = transient.event.standard.base
    return AxisSpec(unit="s", log=True, low=base.step_s, high=base.reach_s)


def _around_zero(unit: str, waves: Sequence[Real]) -> AxisSpec:
    low, high = min(float(each.min()) for each in waves), max(float(each.max()) for each in waves)
    air = 0.08 * max(high - low, 1e-12)
    return AxisSpec(unit=unit, low=min(0.0, low) - air, high=max(0.0, high) + air)


def _peak_cell(each: Transient, transients: Sequence[Transient]) -> CellSpec:
    worst = len(transients) > 1 and each.peak_v > 0.0 and each.peak_v == max(other.peak_v for other in transients)
    why = f"The voltage across the pair is largest after {reading(each.peak_s, 's')}: {reading(each.peak_v, 'V')}."
    return CellSpec(text=reading(each.peak_v, "V"), why=why, worst=worst)


def _closest_cell(each: Transient) -> CellSpec:
    deciding = [check for check in each.checks if check.decides]
    if not deciding:
        return CellSpec(outcome="not-applicable", text="none stated", why="No part has a rating for transients.")
    check = min(deciding, key=lambda found: found.margin_db)
    return CellSpec(outcome=_outcome(check), text=_margin_text(check), why=f"{_part_name(check)}: {_sentence(check)}")


def _left_cell(left_v: float, each: Transient) -> CellSpec:
    if abs(left_v) < 1e-4 * each.event.level_v:
        return CellSpec(text="nothing", why="What the event brought has found its way back.")
    charge = f" {_charge(each.settled.charge_c)} stay on {each.event.into}." if each.settled.floating else ""
    return CellSpec(
        text=reading(left_v, "V"), why=f"Once everything fast is over, {reading(left_v, 'V')} are left.{charge}"
    )


def _charge(charge_c: float) -> str:
    micro = abs(charge_c) >= 1e-6
    return f"{abs(charge_c) * (1e6 if micro else 1e9):.3g} {'µC' if micro else 'nC'}"


def _bleed_cell(bleed_s: float) -> CellSpec:
    if bleed_s == 0.0:
        return CellSpec(text="–", why="Nothing is left that would have to bleed.")
    if math.isinf(bleed_s):
        return CellSpec(text="stays", why="Nothing leads it away. A bleed resistor would; across mains, a safety part.")
    return CellSpec(text=reading(bleed_s, "s"), why=f"It falls to 1 % in {reading(bleed_s, 's')}.")


def _rating_cells(check: Check) -> tuple[CellSpec, ...]:
    return (
        CellSpec(text=reading(check.peak_v, "V")),
        CellSpec(text=f"{reading(check.rating_v, 'V')}, {check.rating}"),
        CellSpec(outcome=_outcome(check), text=_margin_text(check), why=_sentence(check)),
    )


def _outcome(check: Check) -> str:
    if not check.decides:
        return "note"
    return "pass" if check.holds else "fail"


def _margin_text(check: Check) -> str:
    return "no voltage" if math.isinf(check.margin_db) else f"{check.margin_db:+.1f} dB".replace("-", "−")


def _part_name(check: Check) -> str:
    return f"{_place(check)}, {check.kind}"


def _place(check: Check) -> str:
    return check.path if check.number == 1 else f"{check.path}, part {check.number}"


def _sentence(check: Check) -> str:
    verb = "within" if check.holds else "above"
    long = "" if check.decides else f" {_LONG[check.rating]}, not for a transient."
    rating = format_quantity(check.rating_v, "V", digits=3)
    return f"{reading(check.peak_v, 'V')} peak, {verb} its {check.rating} of {rating}.{long}"
