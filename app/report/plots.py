"""Impedance, common mode and emission: the screen's own plots without its cursor, and the numbers beside them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from app.present.answers import value_cells
from app.present.common_mode import shown_source, spectrum_plot, waveform_plot
from app.present.emission_plot import emission_caution, emission_note, emission_plot, missing
from app.present.impedance_plot import impedance_plot
from app.present.numbers import reading, signed_db
from app.present.specs import CurveSpec, PlotSpec
from app.report.blocks import Block, Cell, Figure, Grid, Paragraph, side_by_side
from app.report.matter import Matter
from app.report.working import working
from app.state.chosen import asked_emission
from models.arrays import Real
from models.outcomes.emitted import Emitted
from models.quantity import format_quantity

_HEIGHT = 300.0
_BINS_A_DECADE = 25
_MISSING_DB = 20.0
_AT_HZ = (50.0, 1e3, 100e3, 1e6, 10e6, 30e6, 100e6, 300e6, 1e9)


def on_paper(spec: PlotSpec) -> PlotSpec:
    """Return a plot without what only a pointer gives it."""
    return evolve(spec, cursor_x=None, cursor_text="", readouts=())


def outlined(spec: PlotSpec) -> PlotSpec:
    """Return spectra as their outlines, so that each keeps its dash on paper: the highest line of each stretch."""
    return evolve(on_paper(spec), curves=tuple(map(_outline, spec.curves)))


def _outline(curve: CurveSpec) -> CurveSpec:
    seen = np.isfinite(curve.y) & (curve.x > 0.0) & ~_cancelled(curve.y)
    x, y = curve.x[seen], curve.y[seen]
    stretch = np.floor(np.log10(x) * _BINS_A_DECADE) if x.size else x
    # within each stretch the highest comes first
    order = np.lexsort((-y, stretch))
    kept = np.sort(order[np.flatnonzero(np.diff(stretch[order], prepend=-np.inf))])
    low, high = (None if each is None else each[seen][kept] for each in (curve.low, curve.high))
    return evolve(curve, x=x[kept], y=y[kept], low=low, high=high, faint=False, sticks=False)


def _cancelled(level_db: Real) -> NDArray[np.bool_]:
    """Return which lines are missing between their neighbours, as every second of an even square wave is."""
    missing = np.zeros(level_db.shape, np.bool_)
    beside = np.fmin(level_db[:-2], level_db[2:])
    missing[1:-1] = level_db[1:-1] < beside - _MISSING_DB
    return missing


def impedance(matter: Matter) -> Iterator[Block]:
    """Yield the impedance of every candidate in circuit, with its values at a few frequencies."""
    if not matter.case.candidates:
        return
    spec = on_paper(impedance_plot(matter.results, (), matter.view))
    beyond = " Dotted: beyond what was measured." if any(each.valid_x for each in spec.curves) else ""
    yield Figure(
        spec=spec,
        height=_HEIGHT,
        alt="Magnitude of the impedance between the regions over frequency, every candidate.",
        caption="What 1 A between the regions sees with everything else in place. Thin lines: constant inductance and "
        f"capacitance.{beyond}",
    )
    yield from side_by_side(_impedance_table(matter))
    yield from working(matter, "return-impedance", "dc-drop", "loop-current")


def _impedance_table(matter: Matter) -> Grid:
    sweep = matter.case.sweep
    inside = [f_hz for f_hz in _AT_HZ if sweep.start_hz <= f_hz <= sweep.stop_hz]
    rows = []
    for f_hz in (0.0, *inside):
        cells = value_cells([abs(z) for z in matter.desk.impedances(matter.case, f_hz)], "ohm", mark_worst=False)
        name = "DC" if f_hz == 0.0 else format_quantity(f_hz, "Hz")
        rows.append((Cell(text=name), *(Cell(text=cell.text) for cell in cells)))
    return Grid(
        caption="Magnitude of the impedance in circuit.",
        head=("Frequency", *(each.name for each in matter.case.candidates)),
        rows=tuple(rows),
    )


def common_mode(matter: Matter) -> Iterator[Block]:
    """Yield waveform and spectrum of the loudest source, and the peaks of all of them."""
    results = matter.results
    source = shown_source(results, matter.view)
    if source is None:
        return
    name, pair = matter.case.sources[source].name, matter.case.pair
    shown = matter.case.candidates[matter.shown].name
    wave = waveform_plot(results, matter.view)
    yield Figure(
        spec=evolve(on_paper(wave), title="Waveform", subtitle="two periods"),
        height=250.0,
        alt=f"Voltage across the pair over two periods of {name}, with {shown}.",
        caption=f"Voltage of {pair.b} against {pair.a} with “{shown}”. The source that drives most: {wave.subtitle}.",
    )
    yield Figure(
        spec=evolve(outlined(spectrum_plot(results, matter.view)), title="Harmonics", subtitle="rms"),
        height=300.0,
        alt=f"Harmonics of the voltage across the pair from {name}, every candidate.",
        caption=f"Source: {name}. The highest harmonic in each of {_BINS_A_DECADE} stretches of a decade.",
    )
    yield from side_by_side(_peaks(matter))
    yield from working(matter, "common-mode-voltage")


def _peaks(matter: Matter) -> Grid:
    outcomes = matter.results.evaluation.outcomes
    rows = []
    for index, source in enumerate(matter.case.sources):
        waves = [outcome.common_mode[index] for outcome in outcomes]
        texts = [f"{reading(each.peak_v, 'V')} / {reading(each.total_rms_v, 'V')}" for each in waves]
        rows.append((Cell(text=source.name), *(Cell(text=text) for text in texts)))
    return Grid(
        caption="Common-mode voltage, peak / rms, every source alone, nominal values.",
        head=("Source", *(each.name for each in outcomes)),
        rows=tuple(rows),
    )


def conducted(matter: Matter) -> Iterator[Block]:
    """Yield the noise at the mains terminals against its limit."""
    yield from _emission(matter, "conducted")


def radiated(matter: Matter) -> Iterator[Block]:
    """Yield the field of the cables against its limit."""
    yield from _emission(matter, "radiated")


def _emission(matter: Matter, mode: str) -> Iterator[Block]:
    if not matter.case.candidates:
        return
    view = evolve(matter.view, mode=mode)
    asked = asked_emission(matter.case, view)
    found = matter.desk.emissions(matter.results, asked)
    if missing(matter.results, found, asked):
        return
    line = "no limit line" if asked.line is None else asked.line.name
    required = any(each.kind == f"{mode}-emission" for each in matter.case.requirements)
    aside = "" if required else " The case asks for no limit; this one stands for comparison."
    note = emission_note(found, asked, view)
    said = f"“{matter.case.candidates[matter.shown].name}”: {note}." if note else ""
    spec = evolve(outlined(emission_plot(matter.results, found, asked, view)), subtitle=f"against {line}")
    yield Figure(
        spec=spec,
        height=_HEIGHT,
        alt=f"Reading of a receiver over frequency, every candidate, against {line}.",
        caption=f"{said}{aside}".strip(),
    )
    yield _margins(matter, found, spec.y.unit)
    yield Paragraph(text=emission_caution(asked), role="caution")
    yield from working(matter, f"{mode}-emission")


def _margins(matter: Matter, found: tuple[Emitted | None, ...], unit: str) -> Grid:
    rows = zip(matter.case.candidates, found, strict=True)
    return Grid(
        caption="Where each candidate comes closest to the limit line.",
        head=("Candidate", "Margin", "At", "Level", "Limit", "Detector"),
        rows=tuple((Cell(text=candidate.name), *_margin_cells(each, unit)) for candidate, each in rows),
    )


def _margin_cells(found: Emitted | None, unit: str) -> tuple[Cell, ...]:
    margin = None if found is None else found.margin
    if margin is None or margin.level_db == float("inf"):
        return (Cell(text="no reading", outcome="not-applicable"), *(Cell(text="–") for _ in range(4)))
    return (
        Cell(text=signed_db(margin.margin_db), outcome="pass" if margin.margin_db >= 0.0 else "fail"),
        Cell(text=reading(margin.f_hz, "Hz")),
        Cell(text=f"{margin.level_db:.1f} {unit}"),
        Cell(text=f"{margin.limit_db:.1f} {unit}"),
        Cell(text=margin.detector),
    )
