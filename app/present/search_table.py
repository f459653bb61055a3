"""What a search found: a table in order, and emission against touch current with those that nothing beats."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from app.present.numbers import reading, signed_db
from app.present.specs import AxisSpec, CurveSpec, Ink, MarkSpec, PlotSpec
from models.case.document import Case
from models.decide.ruling import SAFETY_CAUTION
from models.decide.search import Found, SearchResult
from models.formulas.impedance import Real

COLUMNS = ("Bridge", "Parts", "Least margin", "Peak", "Touch current")
_ALL, _FRONT, _CHOSEN = Ink(slot=0), Ink(slot=1), Ink(slot=1)


@frozen(kw_only=True, eq=False)
class SearchSpec:
    """What the search view shows; the rows stand in the order of what was found."""

    summary: str
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
        rows=tuple(_row(each) for each in result.found),
        plot=_plot(result, chosen),
    )


def _row(found: Found) -> tuple[str, ...]:
    return (
        found.structure.name,
        str(found.structure.count),
        signed_db(found.margin_db) if math.isfinite(found.margin_db) else "none",
        reading(found.peak_v, "V"),
        reading(found.touch_a, "A") if found.touch_a else "none",
    )


def _plot(result: SearchResult, chosen: int) -> PlotSpec:
    title = "Common-mode peak against touch current"
    shown = [each for each in result.found if _drawable(each)]
    if not shown:
        return PlotSpec(title=title, empty="Nothing to draw." if result.found else "Nothing was found.")
    x, y = _points(shown)
    front = [each for each in reversed(result.pareto()) if _drawable(each)]
    front_x, front_y = _points(front)
    marked = result.found[chosen] if chosen < len(result.found) else None
    return PlotSpec(
        title=title,
        subtitle="worst case; joined: what no other beats in both",
        x=_decades("A", x),
        y=_decades("V", y),
        curves=(
            CurveSpec(label="meets all", ink=_ALL, x=x, y=y, dots=True),
            CurveSpec(label="not beaten", ink=_FRONT, x=front_x, y=front_y, strong=True),
        ),
        marks=()
        if marked is None or not _drawable(marked)
        else (MarkSpec(label="chosen", ink=_CHOSEN, x=marked.touch_a, y=marked.peak_v),),
    )


def _drawable(found: Found) -> bool:
    return found.touch_a > 0.0 and 0.0 < found.peak_v < math.inf


def _points(found: list[Found]) -> tuple[Real, Real]:
    return np.array([each.touch_a for each in found]), np.array([each.peak_v for each in found])


def _decades(unit: str, values: Real) -> AxisSpec:
    low, high = math.log10(float(values.min())), math.log10(float(values.max()))
    return AxisSpec(unit=unit, log=True, low=10.0 ** (low - 0.15), high=10.0 ** (high + 0.15), room_px=64.0)
