"""What a search found: a table in order, and emission against touch current with those that nothing beats."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from attrs import frozen

from app.present.numbers import reading, signed_db
from app.present.specs import AxisSpec, CurveSpec, Ink, MarkSpec, PlotSpec
from app.state.additions import requirement_words
from models.arrays import Real
from models.case.document import Case
from models.decide.loudness import AGAINST_LINE, CONDUCTED, FIELD, PEAK
from models.decide.search import Found, SearchResult
from models.decide.verdict import SAFETY_CAUTION

_ALL, _FRONT, _CHOSEN = Ink(slot=0), Ink(slot=1), Ink(slot=1)
_AIR_DB = 2.0


@frozen(kw_only=True)
class _Words:
    """How a measure of emission is named: at the head of its column, in a title, and by its unit."""

    column: str
    title: str
    unit: str


_MEASURES: Mapping[str, _Words] = MappingProxyType(
    {
        AGAINST_LINE: _Words(column="Over limit line", title="Emission over its limit line", unit="dB"),
        CONDUCTED: _Words(column="At the LISN", title="Conducted noise at the LISN", unit="dBµV"),
        FIELD: _Words(column="Field at 10 m", title="Field of the cables at 10 m", unit="dBµV/m"),
        PEAK: _Words(column="Peak", title="Common-mode peak", unit="V"),
    }
)


@frozen(kw_only=True, eq=False)
class SearchSpec:
    """What the search view shows; the rows stand in the order of what was found."""

    summary: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    plot: PlotSpec
    caution: str = SAFETY_CAUTION


def why_not(case: Case) -> str:
    """Return why a search would mean nothing; empty where it would."""
    return "" if case.requirements else "The case has no requirement yet, so every bridge would do. State one first."


def search_spec(result: SearchResult, chosen: int) -> SearchSpec:
    """Return table and plot, one of the rows chosen."""
    count = len(result.found)
    meets = "No bridge meets" if not count else "1 bridge meets" if count == 1 else f"{count} bridges meet"
    order = " Fewest parts first, then the widest margin." if count > 1 else ""
    return SearchSpec(
        summary=f"{meets} every requirement, of {result.tried} tried.{order}",
        columns=columns(result),
        rows=tuple(_row(each) for each in result.found),
        plot=_plot(result, chosen),
    )


def columns(result: SearchResult | None) -> tuple[str, ...]:
    """Return the heads of the table; what stands for emission depends on what the case has."""
    emission = "Emission" if result is None or not result.found else _words(result).column
    return ("Bridge", "Parts", "Least margin", emission, "Touch current")


def _row(found: Found) -> tuple[str, ...]:
    return (
        found.structure.name,
        str(found.structure.count),
        _margin(found),
        _emission(found),
        reading(found.touch_a, "A") if found.touch_a else "none",
    )


def _margin(found: Found) -> str:
    if found.tightest is None or found.tightest.margin_db is None:
        return "none"
    kind = requirement_words(found.tightest.requirement)
    within = kind if kind[1].isupper() else f"{kind[0].lower()}{kind[1:]}"
    return f"{signed_db(found.tightest.margin_db)}, {within}"


def _emission(found: Found) -> str:
    measure, value = found.loudness.measure, found.loudness.value
    if measure == PEAK:
        return reading(value, "V")
    if not math.isfinite(value):
        return "none" if value < 0.0 else "no bound"
    if measure == AGAINST_LINE:
        return signed_db(value)
    return f"{value:.1f} {_MEASURES[measure].unit}".replace("-", "−")


def _words(result: SearchResult) -> _Words:
    return _MEASURES[result.found[0].loudness.measure]


def _plot(result: SearchResult, chosen: int) -> PlotSpec:
    if not result.found:
        return PlotSpec(title="Emission against touch current", empty="Nothing was found.")
    words = _words(result)
    title = f"{words.title} against touch current"
    shown = [each for each in result.found if _drawable(each)]
    if not shown:
        return PlotSpec(title=title, empty=_why_empty(result))
    x, y = _points(shown)
    front = [each for each in reversed(result.pareto()) if _drawable(each)]
    front_x, front_y = _points(front)
    marked = result.found[chosen] if chosen < len(result.found) else None
    return PlotSpec(
        title=title,
        subtitle="worst case" if words.unit == "V" else "emission nominal, touch current worst case",
        x=_decades("A", x),
        y=_decades("V", y) if words.unit == "V" else _decibels(words.unit, y),
        curves=(
            CurveSpec(label="meets all", ink=_ALL, x=x, y=y, dots=True),
            CurveSpec(label="none beats in both", ink=_FRONT, x=front_x, y=front_y, strong=True),
        ),
        marks=()
        if marked is None or not _drawable(marked)
        else (MarkSpec(label="chosen", ink=_CHOSEN, x=marked.touch_a, y=marked.loudness.value),),
    )


def _why_empty(result: SearchResult) -> str:
    if not any(each.touch_a > 0.0 for each in result.found):
        return "No mains feed the regions, so no touch current flows to draw against."
    return "No bridge found has an emission to draw."


def _drawable(found: Found) -> bool:
    value = found.loudness.value
    return found.touch_a > 0.0 and math.isfinite(value) and (value > 0.0 or found.loudness.measure != PEAK)


def _points(found: list[Found]) -> tuple[Real, Real]:
    return np.array([each.touch_a for each in found]), np.array([each.loudness.value for each in found])


def _decades(unit: str, values: Real) -> AxisSpec:
    low, high = math.log10(float(values.min())), math.log10(float(values.max()))
    return AxisSpec(unit=unit, log=True, low=10.0 ** (low - 0.15), high=10.0 ** (high + 0.15), room_px=64.0)


def _decibels(unit: str, values: Real) -> AxisSpec:
    low, high = float(values.min()), float(values.max())
    return AxisSpec(unit=unit, low=low - _AIR_DB, high=high + _AIR_DB, room_px=64.0)
