"""Conducted and radiated emission: levels against a limit line, and how far below it every candidate stays."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache

import numpy as np

from app.present.numbers import reading, signed_db
from app.present.specs import (
    AxisSpec,
    BarSpec,
    BarsSpec,
    ChoiceSpec,
    CurveSpec,
    LimitSpec,
    MarkSpec,
    PlotSpec,
)
from app.present.tabs import ink
from app.state.chosen import DECIDING, NO_LINE
from app.state.results import Results
from app.state.view import View
from models.arrays import Real
from models.limits import DETECTORS, LimitLine, Stretch, limits
from models.outcomes.conducted import START_HZ as CONDUCTED_FROM_HZ
from models.outcomes.emitted import USUAL_DETECTOR, Asked, Emitted, judged_by
from models.outcomes.margin import Margin
from models.outcomes.radiated import DISTANCES_M, USUAL_ERROR_DB
from models.outcomes.radiated import START_HZ as RADIATED_FROM_HZ
from models.quantity import format_quantity

_BAND_HZ = {"conducted": (150e3, 30e6), "radiated": (RADIATED_FROM_HZ, 1e9)}
_LOWEST_HZ = {"conducted": CONDUCTED_FROM_HZ, "radiated": RADIATED_FROM_HZ}
_SHOWN_DB = 90.0
_AIR_DB = 8.0
_OVER_DB, _UNDER_DB = 20.0, 60.0
"""How far the bars reach over the limit and under it, unless a candidate goes further."""
Found = Sequence[Emitted | None]
_Share = Callable[[float], float]


def emission_title(asked: Asked) -> str:
    """Return what is shown, in a few words."""
    if asked.kind == "conducted":
        return "Conducted noise, each line"
    return f"Radiated field at {format_quantity(asked.distance_m, 'm')}"


def emission_plot(results: Results, found: Found, asked: Asked, view: View) -> PlotSpec:
    """Return every candidate's levels against the limit line; the selected one with its closest harmonic named."""
    empty = missing(results, found, asked)
    if empty:
        return PlotSpec(title=emission_title(asked), empty=empty)
    x = _frequency_axis(results, asked)
    curves = tuple(
        _curve(results, index, each, asked, strong=index == view.candidate)
        for index, each in enumerate(found)
        if each is not None
    )
    chosen = _selected(found, view)
    lines = _limit_specs(asked.line, "" if chosen is None else chosen.detector)
    return PlotSpec(
        title=emission_title(asked),
        subtitle=emission_note(found, asked, view),
        x=x,
        y=_level_axis(asked, curves, lines, x),
        curves=curves,
        limits=lines,
        marks=_marks(chosen, view),
        cursor_x=view.cursor_hz,
    )


def missing(results: Results, found: Found, asked: Asked) -> str:
    """Return what the case lacks for an emission to be shown; empty where nothing lacks."""
    case = results.case
    if not case.candidates:
        return "No candidate yet."
    if not case.sources:
        return "No source drives the pair, so nothing is emitted. Add a source."
    if asked.kind == "conducted" and not any(each.far_end == "lisn" for each in case.cables):
        return "No lead ends in a LISN. Add a mains lead, or set the far end of a cable to LISN."
    if asked.kind == "radiated" and not case.cables:
        return "No cable leaves the regions, so nothing radiates. Add a cable."
    if not any(each is not None and each.f_hz.size for each in found):
        first = format_quantity(_LOWEST_HZ[asked.kind], "Hz")
        return f"No harmonic lies above {first}. Let the sweep of the case end higher."
    return ""


def emission_note(found: Found, asked: Asked, view: View, *, margin_told: bool = False) -> str:
    """Return the selected candidate's closest harmonic in a sentence, without its margin where that is told already."""
    chosen = _selected(found, view)
    if chosen is None:
        return ""
    if not chosen.closed:
        return "A current has no way back with this candidate."
    margin = chosen.margin
    if margin is None:
        why = "no limit line" if asked.line is None else f"{asked.line.name}: nothing to hold {chosen.detector} against"
        return f"{chosen.where}, {chosen.detector}; {why}"
    if not math.isfinite(margin.level_db):
        return f"Nothing of {margin.source} gets to {chosen.where}."
    many = "; several sources: amplitudes added" if len(chosen.sources) > 1 else ""
    how_far = "" if margin_told else f"{signed_db(margin.margin_db)} at "
    return (
        f"{how_far}{reading(margin.f_hz, 'Hz')}, harmonic {margin.order} of {margin.source} "
        f"on {chosen.where}: {margin.level_db:.1f} {_unit(asked)} {margin.detector}{many}"
    )


def emission_bars(results: Results, found: Found, asked: Asked, view: View) -> BarsSpec:
    """Return every candidate's level at its closest harmonic, against the limit, with its margin in dB."""
    margins = [None if each is None else each.margin for each in found]
    known = [each.margin_db for each in margins if each is not None and math.isfinite(each.margin_db)]
    if missing(results, found, asked) or asked.line is None or not any(margins):
        return BarsSpec(title="Margin", note=emission_note(found, asked, view) or "once a limit line is chosen")
    over = max(_OVER_DB, *(10.0 * math.ceil(-each / 10.0) for each in known), 0.0)
    under = max(_UNDER_DB, *(10.0 * math.ceil(each / 10.0) for each in known), 0.0)

    def share(margin_db: float) -> float:
        return min(max((under - margin_db) / (under + over), 0.0), 1.0)

    least = min((each.margin_db for each in margins if each is not None), default=0.0)
    error_db = max((each.error_db for each in found if each is not None), default=0.0)
    return BarsSpec(
        title="Margin",
        note=emission_note(found, asked, view, margin_told=True),
        bars=tuple(
            BarSpec(
                label=outcome.name,
                ink=ink(index),
                fraction=0.0 if margin is None else share(margin.margin_db),
                text=_margin_text(margin),
                strong=index == view.candidate,
                worst=len(margins) > 1 and margin is not None and margin.margin_db == least and least < 0.0,
                reach=_reach(margin, error_db, share),
            )
            for index, (outcome, margin) in enumerate(zip(results.evaluation.outcomes, margins, strict=True))
        ),
        limit_fraction=share(0.0),
        limit_text="the limit",
    )


def emission_choices(asked: Asked, view: View) -> tuple[ChoiceSpec, ...]:
    """Return what can be chosen: limit line, distance of a field, detector."""
    chosen = asked.line.name if asked.line is not None else ""
    names = (*limits().names(asked.kind), "")
    line = ChoiceSpec(
        name="line",
        label="Limit line",
        options=tuple((name, name or NO_LINE) for name in names),
        chosen=chosen,
    )
    detector = ChoiceSpec(
        name="detector",
        label="Detector",
        options=(("", DECIDING), *((each, each) for each in ("peak", "quasi-peak", "average"))),
        chosen=view.detector or "",
    )
    distance = ChoiceSpec(
        name="distance",
        label="Distance",
        options=tuple((repr(each), format_quantity(each, "m")) for each in DISTANCES_M),
        chosen=repr(asked.distance_m),
    )
    return (line, distance, detector) if asked.kind == "radiated" else (line, detector)


def emission_caution(asked: Asked) -> str:
    """Return what has to stand beside the numbers."""
    if asked.kind == "conducted":
        return "An estimate for design: common mode alone. The receiver, and the limit's current edition, decide."
    return (
        f"An estimate for design, ±{USUAL_ERROR_DB:.0f} dB (pale): where the cables lie tells more than any formula. "
        "The test site, and the limit's current edition, decide."
    )


def _selected(found: Found, view: View) -> Emitted | None:
    return found[min(view.candidate, len(found) - 1)] if found else None


def _unit(asked: Asked) -> str:
    return "dBµV" if asked.kind == "conducted" else "dBµV/m"


def _margin_text(margin: Margin | None) -> str:
    if margin is None:
        return "no limit"
    if math.isfinite(margin.margin_db):
        return signed_db(margin.margin_db)
    return "nothing emitted" if margin.margin_db > 0.0 else "no bound"


def _reach(margin: Margin | None, error_db: float, share: _Share) -> tuple[float, float] | None:
    if margin is None or not error_db or not math.isfinite(margin.margin_db):
        return None
    return share(margin.margin_db + error_db), share(margin.margin_db - error_db)


def _frequency_axis(results: Results, asked: Asked) -> AxisSpec:
    """Return the range of the limit line, or the usual band, as far as there are harmonics."""
    low, high = _BAND_HZ[asked.kind]
    if asked.line is not None:
        low = min(each.start_hz for each in asked.line.limits)
        high = max(each.stop_hz for each in asked.line.limits)
    return AxisSpec(unit="Hz", log=True, low=low, high=max(min(high, results.case.sweep.stop_hz), 2.0 * low))


def _curve(results: Results, index: int, found: Emitted, asked: Asked, *, strong: bool) -> CurveSpec:
    banded = strong and found.error_db > 0.0
    return CurveSpec(
        label=results.case.candidates[index].name,
        ink=ink(index),
        x=found.f_hz,
        y=found.level_db,
        strong=strong,
        faint=not strong,
        sticks=strong and asked.kind == "conducted",
        tops=True,
        low=found.low_db if banded else None,
        high=found.high_db if banded else None,
    )


def _level_axis(asked: Asked, curves: Sequence[CurveSpec], lines: Sequence[LimitSpec], x: AxisSpec) -> AxisSpec:
    tops = [_top(curve.x, curve.y if curve.high is None else curve.high, x) for curve in curves]
    limit = max((float(np.nanmax(line.y)) for line in lines), default=-math.inf)
    top = max((each for each in (*tops, limit) if math.isfinite(each)), default=80.0)
    top = 10.0 * math.ceil((top + _AIR_DB) / 10.0)
    lowest = min((float(np.nanmin(line.y)) for line in lines), default=math.inf)
    return AxisSpec(
        unit=_unit(asked), low=min(top - _SHOWN_DB, 10.0 * math.floor(min(lowest, 1e3) / 10.0) - 10.0), high=top
    )


def _top(f_hz: Real, level_db: Real, x: AxisSpec) -> float:
    seen = level_db[(f_hz >= x.low) & (f_hz <= x.high)]
    seen = seen[np.isfinite(seen)]
    return float(seen.max()) if seen.size else -math.inf


def _limit_specs(line: LimitLine | None, detector: str) -> tuple[LimitSpec, ...]:
    """Return the limits of every detector; the one that the curves are held against is strong."""
    if line is None:
        return ()
    judged = judged_by(line, detector)
    against = USUAL_DETECTOR if judged is not None and detector not in line.detectors else detector
    return tuple(_limit_spec(line, each, strong=each == against) for each in DETECTORS if each in line.detectors)


@lru_cache(maxsize=64)
def _limit_spec(line: LimitLine, detector: str, *, strong: bool) -> LimitSpec:
    points: list[tuple[float, float]] = []
    for each in sorted((each for each in line.limits if each.detector == detector), key=_start):
        if points and each.start_hz > points[-1][0] * (1.0 + 1e-9):
            points.append((each.start_hz, math.nan))
        points += [
            (each.start_hz, each.level),
            (each.stop_hz, each.level if each.stop_level is None else each.stop_level),
        ]
    x, y = np.array(points, np.float64).T
    return LimitSpec(label=detector, x=x, y=y, strong=strong)


def _start(stretch: Stretch) -> float:
    return stretch.start_hz


def _marks(chosen: Emitted | None, view: View) -> tuple[MarkSpec, ...]:
    """Return the name of the selected candidate's closest harmonic where it stands."""
    margin = None if chosen is None else chosen.margin
    if margin is None or not math.isfinite(margin.level_db):
        return ()
    label = f"n = {margin.order}, {reading(margin.f_hz, 'Hz')}, {signed_db(margin.margin_db)}"
    return (MarkSpec(label=label, ink=ink(view.candidate), x=margin.f_hz, y=margin.level_db),)
