"""How values were chosen: the window of the capacitor, and how much survives the tolerances."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from app.present.answers import question
from app.present.impedance_plot import ohm_axis
from app.present.specs import AxisSpec, CurveSpec, Ink, LimitSpec, PlotSpec
from app.present.tabs import ink
from app.present.tolerance_overlay import share_said
from app.report.blocks import Block, Bullets, Cell, Figure, Grid, Paragraph, side_by_side
from app.report.matter import Matter
from models.arrays import Real
from models.case.document import Case
from models.decide.bounds import Problem
from models.decide.sizing import Curves, Sizing, curves, size
from models.decide.template import Template, template_of
from models.decide.tolerance import CandidateSpread, Request, study
from models.network.solver import Solver

_POINTS = 40
_SPAN = 30.0
_DRAWS, _PEAKS, _BAND_POINTS = 400, 50, 80


def sizing(matter: Matter) -> Iterator[Block]:
    """Yield the window between the least capacitance that works and the most that is allowed."""
    kinds = {each.kind for each in matter.case.requirements}
    if not kinds & {"common-mode-voltage", "touch-current"} or not matter.case.transformers:
        return
    template = _template(matter.case)
    if template is None:
        return
    problem = Problem(case=matter.case, template=template, solver=Solver())
    found = size(matter.case, solver=problem.solver, template=template)
    yield Paragraph(text=found.why)
    yield from _window(problem, found)
    opens = tuple(each.text for each in found.openings)
    if opens:
        yield Paragraph(text="What would open the window:")
        yield Bullets(items=opens)
    yield Bullets(items=found.assumed)
    yield Paragraph(text=found.caution, role="caution")


def _template(case: Case) -> Template | None:
    try:
        return template_of(case)
    except ValueError:
        return None


def _window(problem: Problem, found: Sizing) -> Iterator[Block]:
    known = [farad for farad in (found.least_f, found.most_f) if farad]
    middle = math.sqrt(known[0] * known[-1]) if known else 1e-9
    farads: Real = np.geomspace(middle / _SPAN, middle * _SPAN, _POINTS)
    over = curves(problem, farads)
    yield _figure(problem, over, "V")
    if over.touch_a is not None:
        yield _figure(problem, over, "A")


def _figure(problem: Problem, over: Curves, unit: str) -> Figure:
    """Return the peak in V, or the touch current in A, over capacitance, with its limit."""
    peak = unit == "V"
    kind = "common-mode-voltage" if peak else "touch-current"
    title = "Common-mode peak over capacitance" if peak else "Touch current over capacitance"
    worst = over.peak_v if peak else over.touch_a
    nominal = over.nominal_peak_v if peak else over.nominal_touch_a
    assert worst is not None
    assert nominal is not None
    limit = min((each.limit for each in problem.of_kind(kind) if each.limit), default=None)
    x = over.capacitance_f
    limits = () if limit is None else (LimitSpec(label="limit", x=x[[0, -1]], y=np.array([limit, limit]), strong=True),)
    spec = PlotSpec(
        title=title,
        subtitle="worst case and nominal",
        x=AxisSpec(unit="F", log=True, low=float(x[0]), high=float(x[-1])),
        y=_decades(unit, [worst, nominal], limit),
        curves=(
            CurveSpec(label="worst case", ink=Ink(slot=0), x=x, y=worst, strong=True),
            CurveSpec(label="nominal", ink=Ink(slot=1), x=x, y=nominal),
        ),
        limits=limits,
    )
    what = "The common-mode peak" if peak else "The current through a person"
    return Figure(
        spec=spec,
        height=240.0,
        alt=f"{title}, with its limit.",
        caption=f"{what} with a Y-capacitor of each value across the pair.",
    )


def _decades(unit: str, values: list[Real], limit: float | None) -> AxisSpec:
    seen = np.concatenate([*values, np.array([] if limit is None else [limit])])
    seen = seen[np.isfinite(seen) & (seen > 0.0)]
    low, high = (float(seen.min()), float(seen.max())) if seen.size else (1.0, 10.0)
    return AxisSpec(
        unit=unit, log=True, low=10.0 ** math.floor(math.log10(low)), high=10.0 ** math.ceil(math.log10(high))
    )


def tolerance(matter: Matter) -> Iterator[Block]:
    """Yield the share of draws within all tolerances that meets each requirement, and the band of the impedance."""
    if not matter.case.candidates:
        return
    found = study(Request(case=matter.case, draws=_DRAWS, peaks=_PEAKS, points=_BAND_POINTS))
    if found is None or not any(each.toleranced for each in found.candidates):
        return
    yield Paragraph(
        text=f"{_DRAWS} draws of every value that states a tolerance, evenly within it; {_PEAKS} of them for the "
        "common-mode peak. The same case gives the same draws. Real lots are narrower, and may sit off centre."
    )
    yield from side_by_side(_yields(matter, found.candidates))
    shown = found.candidates[matter.shown]
    if shown.toleranced:
        yield _band(matter, shown, found.f_hz)
        names = "; ".join(f"{each.owner} ±{100.0 * each.tolerance:.3g} %" for each in shown.toleranced)
        yield Paragraph(text=f"Drawn for it: {names}.", role="small")


def _yields(matter: Matter, spreads: tuple[CandidateSpread, ...]) -> Grid:
    fewer = any(each.kind == "common-mode-voltage" for each in matter.case.requirements)
    together = f"All of them together, in the {_PEAKS} with a peak" if fewer else "All of them together"
    rows = [
        (Cell(text=question(requirement)), *(_share(each.spreads[index].share) for each in spreads))
        for index, requirement in enumerate(matter.case.requirements)
    ]
    return Grid(
        caption="Share of the draws that meets each requirement.",
        head=("", *(each.candidate.name for each in spreads)),
        rows=(*rows, (Cell(text=together), *(_share(each.share) for each in spreads))),
    )


def _share(share: float) -> Cell:
    return Cell(text=share_said(share))


def _band(matter: Matter, spread: CandidateSpread, f_hz: Real) -> Figure:
    band, slot = spread.band, ink(matter.shown)
    spec = PlotSpec(
        title="Impedance within the tolerances",
        subtitle="in circuit; tinted: 5 to 95 % of the draws",
        x=AxisSpec(unit="Hz", log=True, low=float(f_hz[0]), high=float(f_hz[-1])),
        y=ohm_axis([band.low_ohm, band.high_ohm]),
        curves=(
            CurveSpec(
                label=f"{spread.candidate.name}, median",
                ink=slot,
                x=f_hz,
                y=band.median_ohm,
                strong=True,
                low=band.low_ohm,
                high=band.high_ohm,
            ),
        ),
    )
    return Figure(
        spec=spec,
        height=260.0,
        alt="Band of the impedance over frequency within the tolerances.",
        caption=f"The impedance with “{spread.candidate.name}”.",
    )
