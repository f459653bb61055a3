"""What tolerances do, laid over what the window shows: bands around the curves, yields behind the answers."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np
from attrs import evolve

from app.present.impedance_plot import ohm_axis
from app.present.specs import AxisSpec, CellSpec, CurveSpec, PlotSpec, TableSpec
from app.state.results import Results
from app.state.view import View
from models.arrays import Real
from models.decide.tolerance import Spread, Study


def with_band(spec: PlotSpec, study: Study | None, results: Results, view: View) -> PlotSpec:
    """Return the plot of impedances with the band of 5 to 95 % of the draws around every candidate's curve.

    The axis grows where a band needs it, and a few words say what the tint is.
    A study of another case leaves it as it is, and so does a view of something else than the magnitude in circuit.
    """
    if not _speaks_of(study, results) or view.bridge_alone or view.z_shows != "magnitude":
        return spec
    assert study is not None
    memo = results.desk.evaluator.solver.memo
    own = [curve for curve in spec.curves if not curve.faint][: len(study.candidates)]
    banded = {
        id(curve): memo.get(("tolerance band", study, curve), partial(_banded, curve, study, n))
        for n, curve in enumerate(own)
    }
    curves = tuple(banded.get(id(curve), curve) for curve in spec.curves)
    edges = [edge for curve in curves for edge in (curve.low, curve.high) if edge is not None]
    if not edges:
        return spec
    return evolve(spec, curves=curves, y=_grown(spec.y, ohm_axis(edges)), note=band_words(study.request.draws))


def band_words(draws: int) -> str:
    """Return what the band holds."""
    return f"tinted: 5 to 95 % of {draws} draws"


def _grown(axis: AxisSpec, other: AxisSpec) -> AxisSpec:
    return evolve(axis, low=min(axis.low, other.low), high=max(axis.high, other.high))


def with_yields(table: TableSpec, study: Study | None, results: Results) -> TableSpec:
    """Return the answers with the share of the draws that meets each requirement in the working of each answer."""
    if not _speaks_of(study, results):
        return table
    assert study is not None
    count = len(results.case.requirements)
    required = tuple(
        (label, _with_shares(cells, [each.spreads[number] for each in study.candidates]))
        for number, (label, cells) in enumerate(table.rows[:count])
    )
    return evolve(table, rows=(*required, *table.rows[count:]))


def share_said(share: float) -> str:
    """Return a share in percent; one that is not quite all or nothing is never rounded to it."""
    if 0.005 <= share <= 0.995 or share in (0.0, 1.0):
        return f"{100.0 * share:.0f} %"
    return f"{100.0 * share:.1f} %"


def _speaks_of(study: Study | None, results: Results) -> bool:
    return study is not None and study.request.case is results.case


def _banded(curve: CurveSpec, study: Study, number: int) -> CurveSpec:
    spread = study.candidates[number]
    low, high = (_at(curve.x, study.f_hz, edge) for edge in (spread.band.low_ohm, spread.band.high_ohm))
    return curve if not spread.toleranced or low is None or high is None else evolve(curve, low=low, high=high)


def _at(f_hz: Real, known_hz: Real, ohm: Real) -> Real | None:
    """Return an edge at other frequencies, straight between its points over both logarithms; None for an open pair."""
    if not np.all(np.isfinite(ohm) & (ohm > 0.0)):
        return None
    return np.asarray(np.exp(np.interp(np.log(f_hz), np.log(known_hz), np.log(ohm))), np.float64)


def _with_shares(cells: tuple[CellSpec, ...], spreads: Sequence[Spread]) -> tuple[CellSpec, ...]:
    return tuple(
        evolve(cell, why=f"{cell.why} {said}".strip()) if (said := _yield_said(spread)) else cell
        for cell, spread in zip(cells, spreads, strict=True)
    )


def _yield_said(spread: Spread) -> str:
    """Return the yield of one requirement in words; nothing where no tolerance moves it."""
    count = len(spread.values)
    return f"Within the tolerances {share_said(spread.share)} of {count} draws meet it." if count else ""
