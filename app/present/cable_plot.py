"""The current along a cable at the harmonic nearest the cursor: where a clamp-on ferrite does most."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from app.present.common_mode import shown_source, source_choice
from app.present.log_bars import log_fraction, upper_end
from app.present.numbers import reading
from app.present.specs import AxisSpec, BarSpec, BarsSpec, ChoiceSpec, CurveSpec, MarkSpec, PlotSpec
from app.present.tabs import ink
from app.state.chosen import ALONG_CABLE, FIELD
from app.state.results import Results
from app.state.view import View
from models.arrays import Real
from models.case.document import Cable
from models.formulas.constants import LIGHT_M_PER_S
from models.outcomes.cables import CableCurrent
from models.quantity import format_quantity

_LEAST_POINTS, _MOST_POINTS = 241, 4001
_PER_HALF_WAVE = 48
_OVER, _UNDER, _DECADES = 2.0, 10.0, 5.0
CABLE_CAUTION = "An estimate for design: the cable straight and alone."


@frozen(kw_only=True, eq=False)
class Along:
    """One harmonic of one source in one cable, every candidate: who drives, and the currents from region to far end."""

    cable: Cable
    source: str
    order: int
    f_hz: float
    place_m: Real
    largest_m: float
    a_rms: tuple[Real, ...]


def along_cable(results: Results, view: View) -> Along | None:
    """Return the current along the shown cable at the harmonic nearest the cursor; None where there is none to show."""
    cables, source = results.case.cables, shown_source(results, view)
    if not cables or source is None:
        return None
    cable = cables[min(view.cable, len(cables) - 1)]
    name = results.case.sources[source].name
    currents = [_current(each.cables, name, cable.name) for each in results.evaluation.outcomes]
    count = currents[0].lines.count
    if count == 0:
        return None
    order = min(max(1, round(view.cursor_hz / currents[0].frequency_hz)), count)
    f_hz = order * currents[0].frequency_hz
    solved = currents[0].at_order(order)
    assert solved is not None
    wanted = int(_PER_HALF_WAVE * cable.length_m * f_hz / (0.5 * LIGHT_M_PER_S))
    place_m = np.linspace(0.0, cable.length_m, min(max(_LEAST_POINTS, wanted), _MOST_POINTS))
    return Along(
        cable=cable,
        source=name,
        order=order,
        f_hz=f_hz,
        place_m=place_m,
        largest_m=float(solved.largest_at_m[0]),
        a_rms=tuple(each.along_a_rms(order, place_m) for each in currents),
    )


def _current(currents: tuple[CableCurrent, ...], source: str, cable: str) -> CableCurrent:
    return next(each for each in currents if each.source == source and each.cable == cable)


def cable_title(results: Results, view: View) -> str:
    """Return what is shown, in a few words."""
    cables = results.case.cables
    return f"Current along {cables[min(view.cable, len(cables) - 1)].name}" if cables else "Current along a cable"


def cable_plot(results: Results, found: Along | None, view: View) -> PlotSpec:
    """Return the current of every candidate from the region to the far end, its largest place marked."""
    title = cable_title(results, view)
    if found is None:
        return PlotSpec(title=title, empty=_lacking(results))
    tops = [_top(each) for each in found.a_rms]
    seen = [each for each in tops if each > 0.0]
    if not seen:
        return PlotSpec(title=title, empty=f"Nothing of {found.source} gets into {found.cable.name}.")
    top, low = _OVER * max(seen), min(seen) / _UNDER
    selected = min(view.candidate, len(tops) - 1)
    curves = tuple(
        CurveSpec(
            label=outcome.name,
            ink=ink(index),
            x=found.place_m,
            y=np.where(np.isfinite(values), values, np.nan),
            strong=index == selected,
        )
        for index, (outcome, values) in enumerate(zip(results.evaluation.outcomes, found.a_rms, strict=True))
    )
    return PlotSpec(
        title=title,
        subtitle=cable_note(found, tops[selected]),
        x=AxisSpec(unit="m", low=0.0, high=found.cable.length_m),
        y=AxisSpec(unit="A", log=True, low=max(low, top * 10.0**-_DECADES), high=top),
        curves=curves,
        marks=_marks(found, tops[selected], selected),
    )


def _lacking(results: Results) -> str:
    if not results.case.candidates:
        return "No candidate yet."
    if not results.case.sources:
        return "No source drives the pair, so no current flows along a cable. Add a source."
    if not results.case.cables:
        return "No cable leaves the regions. Add a cable."
    return "No harmonic lies inside the sweep of the case."


def cable_note(found: Along, largest_a: float) -> str:
    """Return where the current of the harmonic nearest the cursor is largest, in a sentence."""
    at, which = reading(found.f_hz, "Hz"), f"harmonic {found.order} of {found.source}"
    if math.isnan(largest_a):
        return f"{at}, {which}: its current has no way back with this candidate."
    return f"{at}: largest {_place(found)}, where a clamp-on ferrite does most; {which}, rms"


def _place(found: Along) -> str:
    cable, at_m = found.cable, found.largest_m
    if at_m <= 0.01 * cable.length_m:
        return f"at {cable.region}"
    if at_m >= 0.99 * cable.length_m:
        return "at the far end"
    return f"{format_quantity(at_m, 'm', digits=2)} from {cable.region}"


def _marks(found: Along, largest_a: float, selected: int) -> tuple[MarkSpec, ...]:
    if math.isnan(largest_a) or largest_a == 0.0:
        return ()
    return (MarkSpec(label=reading(largest_a, "A"), ink=ink(selected), x=found.largest_m, y=largest_a),)


def _top(values: Real) -> float:
    """Return the largest current; NaN where it has no way back."""
    return float(values.max()) if np.isfinite(values).all() else math.nan


def cable_bars(results: Results, found: Along | None, view: View) -> BarsSpec:
    """Return the largest current along the cable of every candidate, on a log scale."""
    if found is None:
        return BarsSpec(title="")
    tops = [_top(each) for each in found.a_rms]
    upper = upper_end(tops)
    return BarsSpec(
        title="Largest along the cable",
        note="log scale; the far end decides where, the bridge how much",
        bars=tuple(
            BarSpec(
                label=outcome.name,
                ink=ink(index),
                fraction=1.0 if math.isnan(value) else log_fraction(value, upper),
                text="no way back" if math.isnan(value) else reading(value, "A"),
                strong=index == view.candidate,
            )
            for index, (outcome, value) in enumerate(zip(results.evaluation.outcomes, tops, strict=True))
        ),
    )


def cable_choices(results: Results, view: View) -> tuple[ChoiceSpec, ...]:
    """Return the choice of the cable and of the source, where there are several."""
    cables = results.case.cables
    if not cables:
        return ()
    which = ChoiceSpec(
        name="cable",
        label="Cable",
        options=tuple((str(number), each.name) for number, each in enumerate(cables)),
        chosen=str(min(view.cable, len(cables) - 1)),
    )
    return (shown_choice(view), *((which,) if len(cables) > 1 else ()), *source_choice(results, view))


def shown_choice(view: View) -> ChoiceSpec:
    """Return the choice between the field and the currents that make it."""
    options = ((FIELD, "field"), (ALONG_CABLE, "current along a cable"))
    return ChoiceSpec(name="radiated_shows", label="Shown", options=options, chosen=view.radiated_shows)
