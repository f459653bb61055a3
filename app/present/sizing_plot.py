"""The size of the capacitor as two plots over one axis of capacitance, and what there is to say about it."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from app.present.lead_words import lead_words
from app.present.numbers import reading, signed_db
from app.present.specs import AxisSpec, BandSpec, CurveSpec, Ink, LimitSpec, MarkSpec, PlotSpec, ReadoutSpec
from app.state.sizing import Sized, own_candidate
from models.arrays import Real

_WORST, _NOMINAL = Ink(slot=0), Ink(slot=1)
_ROOM_PX = 64.0
_MOST_DECADES = 6
_NO_WAY_BACK = "A direct current has no way back through a capacitor, so the peak has no bound."


@frozen(kw_only=True, eq=False)
class SizingSpec:
    """What the sizing view shows.

    Attributes
    ----------
    values : (capacitance in F, text) of each value offered
    chosen : which of them, None where there is none
    use : words on the button that takes the value
    """

    title: str
    why: str
    peak: PlotSpec
    touch: PlotSpec
    values: tuple[tuple[float, str], ...]
    chosen: float | None
    at_value: str
    use: str
    openings: tuple[str, ...]
    resonance: str
    assumed: str
    caution: str


def sizing_spec(sized: Sized, wanted_f: float | None = None) -> SizingSpec:
    """Return plots and words, the standard value nearest to the wanted capacitance chosen."""
    sizing = sized.sizing
    chosen = nearest(sizing.standard_values_f, wanted_f)
    found = sizing.resonance
    return SizingSpec(
        title=_title(sized),
        why=sizing.why,
        peak=_peak_plot(sized, chosen),
        touch=_touch_plot(sized, chosen),
        values=tuple((farad, reading(farad, "F")) for farad in sizing.standard_values_f),
        chosen=chosen,
        at_value="" if chosen is None else _at_value(sized, chosen),
        use="No value to use" if chosen is None else _use(sized, chosen),
        openings=tuple(each.text for each in sizing.openings),
        resonance="" if found is None else " ".join(lead_words(found)),
        assumed=" ".join(sizing.assumed),
        caution=sizing.caution,
    )


def _title(sized: Sized) -> str:
    if sized.sizing.empty:
        return "No value fits"
    return "Any value fits" if _unbounded(sized) else "What fits"


def _unbounded(sized: Sized) -> bool:
    return sized.sizing.least_f is None and sized.sizing.most_f is None


def nearest(values: tuple[float, ...], wanted_f: float | None) -> float | None:
    """Return the value nearest to a wanted capacitance on a log axis; without one, that in the middle."""
    if not values:
        return None
    if wanted_f is None or wanted_f <= 0.0:
        return values[len(values) // 2]
    return min(values, key=lambda farad: abs(math.log(farad / wanted_f)))


def _use(sized: Sized, farad: float) -> str:
    return "Add as candidate" if own_candidate(sized) is None else f"Use {reading(farad, 'F')}"


def _at_value(sized: Sized, farad: float) -> str:
    over = sized.curves
    said = [f"{reading(_read(sized, over.peak_v, farad), 'V')} peak"]
    if over.touch_a is not None:
        said.append(f"{reading(_read(sized, over.touch_a, farad), 'A')} touch current")
    if over.conducted_db is not None:
        margin = float(np.interp(math.log(farad), np.log(over.capacitance_f), over.conducted_db))
        said.append(f"{signed_db(margin)} conducted margin")
    least = sized.sizing.interwinding_f
    ratio = f" It is {farad / least:.3g} times the interwinding capacitance." if least else ""
    return f"{reading(farad, 'F')}, worst case: {', '.join(said)}.{ratio}"


def _peak_plot(sized: Sized, chosen: float | None) -> PlotSpec:
    over = sized.curves
    if not sized.request.case.sources:
        return PlotSpec(title="Common-mode peak", empty="No source drives the regions, so there is no peak.")
    if not np.any(np.isfinite(over.peak_v)):
        return PlotSpec(title="Common-mode peak", empty=_NO_WAY_BACK)
    return _plot(sized, ("Common-mode peak", "V"), (over.peak_v, over.nominal_peak_v), sized.limit_v, chosen)


def _touch_plot(sized: Sized, chosen: float | None) -> PlotSpec:
    over = sized.curves
    if over.touch_a is None or over.nominal_touch_a is None:
        return PlotSpec(title="Touch current", empty="No mains feed the regions, so no touch current flows.")
    return _plot(sized, ("Touch current", "A"), (over.touch_a, over.nominal_touch_a), sized.limit_a, chosen)


def _plot(
    sized: Sized, name: tuple[str, str], curves: tuple[Real, Real], limit: float | None, chosen: float | None
) -> PlotSpec:
    title, unit = name
    worst, nominal = curves
    farads = sized.curves.capacitance_f
    low, high = float(farads[0]), float(farads[-1])
    return PlotSpec(
        title=title,
        subtitle="over capacitance; solid the worst case, dashed nominal",
        x=AxisSpec(unit="F", log=True, low=low, high=high),
        y=_decades(unit, np.concatenate([worst, nominal]), limit),
        curves=(
            CurveSpec(label="worst case", ink=_WORST, x=farads, y=worst, strong=True),
            CurveSpec(label="nominal", ink=_NOMINAL, x=farads, y=nominal),
        ),
        bands=_window(sized, low, high),
        limits=() if limit is None else (_limit(reading(limit, unit), farads, limit),),
        marks=(
            *(
                MarkSpec(label=reading(farad, "F"), ink=_WORST, x=farad, y=_read(sized, worst, farad))
                for farad in sized.sizing.standard_values_f
                if low <= farad <= high and farad != chosen
            ),
            *_emission_mark(sized, worst),
        ),
        cursor_x=chosen,
        cursor_text="" if chosen is None else reading(chosen, "F"),
        readouts=()
        if chosen is None
        else tuple(
            ReadoutSpec(label=label, ink=ink, text=reading(at, unit), y=at if at > 0.0 else None)
            for label, ink, at in (
                ("worst case", _WORST, _read(sized, worst, chosen)),
                ("nominal", _NOMINAL, _read(sized, nominal, chosen)),
            )
        ),
    )


def _emission_mark(sized: Sized, worst: Real) -> tuple[MarkSpec, ...]:
    """Return where the conducted noise comes under its limit for good, or closest to it; none where it always is."""
    margins, farads = sized.curves.conducted_db, sized.curves.capacitance_f
    if margins is None or not np.any(margins < 0.0):
        return ()
    if margins[-1] >= 0.0:
        last = int(np.flatnonzero(margins < 0.0)[-1])
        here = slice(last, last + 2)
        at = math.exp(float(np.interp(0.0, margins[here], np.log(farads[here]))))
        label = f"emission limit met from {reading(at, 'F')}"
    else:
        at = float(farads[int(np.argmax(margins))])
        label = f"emission at best {signed_db(float(margins.max()))}, {reading(at, 'F')}"
    return (MarkSpec(label=label, ink=_WORST, x=at, y=_read(sized, worst, at)),)


def _limit(text: str, farads: Real, limit: float) -> LimitSpec:
    return LimitSpec(label=f"limit {text}", x=farads[[0, -1]], y=np.array([limit, limit]), strong=True)


def _window(sized: Sized, low: float, high: float) -> tuple[BandSpec, ...]:
    """Return the window as a band; none where it is empty, or where nothing bounds it."""
    sizing = sized.sizing
    if sizing.empty or _unbounded(sized):
        return ()
    least = low if not sizing.least_f else sizing.least_f
    most = high if sizing.most_f is None else sizing.most_f
    return (BandSpec(label="meets both", x_low=max(least, low), x_high=min(most, high)),)


def _read(sized: Sized, values: Real, farad: float) -> float:
    """Return a curve at a capacitance; exact where that is one of its points, as standard values are."""
    return float(np.interp(math.log(farad), np.log(sized.curves.capacitance_f), values))


def _decades(unit: str, values: Real, limit: float | None) -> AxisSpec:
    seen = np.append(values, [] if limit is None else [limit])
    seen = seen[np.isfinite(seen) & (seen > 0.0)]
    low, high = (float(seen.min()), float(seen.max())) if seen.size else (1.0, 10.0)
    top = math.ceil(math.log10(high * 1.01))
    bottom = max(math.floor(math.log10(low)), top - _MOST_DECADES)
    return AxisSpec(unit=unit, log=True, low=10.0**bottom, high=10.0**top, room_px=_ROOM_PX)
