"""The common-mode voltage as a waveform, a spectrum and bars."""

from __future__ import annotations

import math
from functools import partial

import numpy as np

from app.present.log_bars import log_fraction, upper_end
from app.present.numbers import reading
from app.present.specs import AxisSpec, BarSpec, BarsSpec, ChoiceSpec, CurveSpec, PlotSpec
from app.present.tabs import ink
from app.state.results import Results
from app.state.view import View
from models.arrays import Real
from models.formulas.levels import level_dbuv
from models.outcomes.common_mode import CommonMode
from models.outcomes.evaluation import Outcome

_LOWEST_DBUV = -20.0


def shown_source(results: Results, view: View) -> int | None:
    """Return the index of the source whose voltage is shown: the chosen one, else the one that drives most."""
    outcome = _selected(results, view)
    if outcome is None or not outcome.common_mode:
        return None
    if view.source is not None and view.source < len(outcome.common_mode):
        return view.source
    peaks = [each.swing_peak_v if math.isfinite(each.swing_peak_v) else math.inf for each in outcome.common_mode]
    return peaks.index(max(peaks))


def _selected(results: Results, view: View) -> Outcome | None:
    outcomes = results.evaluation.outcomes
    return outcomes[min(view.candidate, len(outcomes) - 1)] if outcomes else None


def _title(results: Results) -> str:
    return f"Common-mode voltage, {results.case.pair.b} to {results.case.pair.a}"


def _empty(results: Results) -> str:
    return "No source yet. Add what drives the pair." if not results.case.sources else "No candidate yet."


def waveform_plot(results: Results, view: View) -> PlotSpec:
    """Return two periods of the voltage that the shown source drives across the pair with the selected candidate."""
    source = shown_source(results, view)
    outcome = _selected(results, view)
    if source is None or outcome is None:
        return PlotSpec(title=_title(results), empty=_empty(results))
    wave = outcome.common_mode[source]
    if not np.isfinite(wave.coefficients).all():
        return PlotSpec(title=_title(results), subtitle=wave.source, empty=_no_way_back(wave))
    voltage = np.tile(wave.waveform_v, 2)
    time_s: Real = np.arange(voltage.size, dtype=np.float64) * (2.0 / (wave.frequency_hz * voltage.size))
    reach = max(abs(float(voltage.min())), abs(float(voltage.max())), 1e-12) * 1.1
    return PlotSpec(
        title=_title(results),
        subtitle=f"{_wave_note(wave)}{_together_note(outcome)}",
        x=AxisSpec(unit="s", low=0.0, high=2.0 / wave.frequency_hz),
        y=AxisSpec(unit="V", low=-reach, high=reach),
        curves=(CurveSpec(label=outcome.name, ink=ink(view.candidate), x=time_s, y=voltage, strong=True),),
    )


def _wave_note(wave: CommonMode) -> str:
    return wave.source if math.isfinite(wave.dc_v) else f"{wave.source}; mean left out: it has no way back"


def _together_note(outcome: Outcome) -> str:
    """Return what all sources come to, where there are several."""
    if len(outcome.common_mode) < 2:
        return ""
    rms, bound = reading(outcome.together_rms_v(), "V"), reading(outcome.together_peak_v(), "V")
    return f". All {len(outcome.common_mode)} sources: {rms} rms, at most {bound} peak"


def source_choice(results: Results, view: View) -> tuple[ChoiceSpec, ...]:
    """Return the choice of the source that is shown, where there are several."""
    sources = results.case.sources
    if len(sources) < 2:
        return ()
    return (
        ChoiceSpec(
            name="source",
            label="Source",
            options=tuple((str(index), each.name) for index, each in enumerate(sources)),
            chosen=str(shown_source(results, view)),
        ),
    )


def _no_way_back(wave: CommonMode) -> str:
    return f"The current of {wave.source} has no way back with this candidate."


def spectrum_plot(results: Results, view: View) -> PlotSpec:
    """Return the harmonics of the voltage that the shown source drives, every candidate, in dBµV rms."""
    source = shown_source(results, view)
    if source is None:
        return PlotSpec(title=_title(results), empty=_empty(results))
    curves = tuple(
        _kept_spectrum(results, index, source, strong=index == view.candidate)
        for index in range(len(results.evaluation.outcomes))
    )
    seen = np.concatenate([curve.y[np.isfinite(curve.y)] for curve in curves])
    top = 10.0 * math.ceil(float(seen.max()) / 10.0) if seen.size else 100.0
    selected = _selected(results, view)
    assert selected is not None
    wave = selected.common_mode[source]
    return PlotSpec(
        title=_title(results),
        subtitle=_harmonic_said(wave, view.cursor_hz),
        x=AxisSpec(
            unit="Hz", log=True, low=wave.frequency_hz, high=max(results.case.sweep.stop_hz, 2 * wave.frequency_hz)
        ),
        y=AxisSpec(unit="dBµV", low=max(_LOWEST_DBUV, top - 140.0), high=top),
        curves=curves,
        cursor_x=view.cursor_hz,
    )


def _harmonic_said(wave: CommonMode, cursor_hz: float) -> str:
    """Return the level of the harmonic nearest the cursor in words."""
    order = min(max(1, round(cursor_hz / wave.frequency_hz)), wave.v_rms.size - 1)
    level = float(level_dbuv(wave.v_rms[order])) if order > 0 else math.nan
    if not math.isfinite(level):
        return f"harmonics of {wave.source}, rms"
    return f"harmonic {order} of {wave.source}: {level:.1f} dBµV rms"


def _kept_spectrum(results: Results, index: int, source: int, *, strong: bool) -> CurveSpec:
    """Return the spectrum of one candidate; the same one for as long as nothing that it shows is another."""
    outcome = results.evaluation.outcomes[index]
    made = partial(_spectrum_curve, index, outcome, outcome.common_mode[source], strong=strong)
    return results.desk.evaluator.solver.memo.get(("spectrum curve", outcome, index, source, strong), made)


def spectrum_dbuv(wave: CommonMode) -> Real:
    """Return the level of every harmonic, dBµV, with a gap where there is none or no end to it."""
    level = level_dbuv(wave.v_rms[1:])
    return np.where(np.isfinite(level), level, np.nan)


def _spectrum_curve(index: int, outcome: Outcome, wave: CommonMode, *, strong: bool) -> CurveSpec:
    return CurveSpec(
        label=outcome.name,
        ink=ink(index),
        x=wave.orders[1:] * wave.frequency_hz,
        y=spectrum_dbuv(wave),
        strong=strong,
        faint=not strong,
    )


def peak_bars(results: Results, view: View) -> BarsSpec:
    """Return the largest peak of every candidate as bars on a log scale, with the limit where one is asked for.

    Of several sources the bar is the one that drives most; pale, what they may come to in one moment.
    """
    if not (results.case.sources and results.evaluation.outcomes):
        return BarsSpec(title="")
    peaks = [outcome.peak_v() for outcome in results.evaluation.outcomes]
    bounds = [outcome.together_peak_v() for outcome in results.evaluation.outcomes]
    several = len(results.case.sources) > 1
    limit = next((each.limit for each in results.case.requirements if each.kind == "common-mode-voltage"), None)
    share = partial(log_fraction, upper=upper_end((*peaks, *bounds, limit or 0.0)))
    worst = max(peaks)

    return BarsSpec(
        title="Peak",
        note="log scale; pale: all sources in one moment"
        if several
        else "drag any value and watch these move; log scale",
        bars=tuple(
            BarSpec(
                label=outcome.name,
                ink=ink(index),
                fraction=share(peak),
                text=reading(peak, "V"),
                strong=index == view.candidate,
                worst=len(peaks) > 1 and peak == worst and (math.isinf(peak) or (limit is not None and peak > limit)),
                reach=(share(peak), share(bound)) if several else None,
            )
            for index, (outcome, peak, bound) in enumerate(zip(results.evaluation.outcomes, peaks, bounds, strict=True))
        ),
        limit_fraction=None if limit is None else share(limit),
        limit_text="" if limit is None else f"wanted: under {reading(limit, 'V')}",
    )
