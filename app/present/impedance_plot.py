"""The impedance between the regions as a plot."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np
from attrs import frozen

from app.present.numbers import reading
from app.present.section_parts import part_value
from app.present.specs import AxisSpec, BandSpec, CurveSpec, GuideSpec, Ink, MarkSpec, PlotSpec, ReadoutSpec
from app.present.tabs import ink
from app.state.results import Anatomy, Reading, Results
from app.state.view import View
from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.network.edges import across_edges, branch_edges, standing_edges
from models.outcomes.resonances import Maker, Resonance
from models.parts.part import valid_hz
from models.quantity import format_quantity

_LOWEST_OHM, _HIGHEST_OHM = 1e-4, 1e9
MEASURED, _MEASURED_INK = "measured", Ink(slot=-1)
_PHASE_END_DEG = 97.0
"""A little beyond a pure reactance, so that its curve does not run on the edge."""
_MOST_MARKS, _MOST_MAKERS = 6, 3
_GUIDE_H = (1e-9, 100e-9, 10e-6)
_GUIDE_F = (10e-12, 1e-9, 100e-9)
_CAPACITIVE = "thin and pale: capacitive, X below 0"
_CONDUCTED = BandSpec(label="conducted band", x_low=150e3, x_high=30e6)


def _phase_deg(z: Complex) -> Real:
    return np.where(np.isfinite(z), np.degrees(np.angle(z)), np.nan)


def _positive(ohm: Real) -> Real:
    return np.where(np.isfinite(ohm) & (ohm > 0.0), ohm, np.nan)


@frozen(kw_only=True)
class _Shown:
    """One of the ways to look at an impedance."""

    words: str
    of: Callable[[Complex], Real]
    unit: str
    log: bool = False


SHOWN: Mapping[str, _Shown] = MappingProxyType(
    {
        "magnitude": _Shown(words="|Z|", of=lambda z: np.asarray(np.abs(z)), unit="Ω", log=True),
        "phase": _Shown(words="phase", of=_phase_deg, unit="°"),
        "resistance": _Shown(words="R", of=lambda z: _positive(z.real), unit="Ω", log=True),
        "reactance": _Shown(words="X, magnitude", of=lambda z: _positive(np.abs(z.imag)), unit="Ω", log=True),
    }
)
"""The ways to look at an impedance, by their name in the view."""


def impedance_plot(
    results: Results, readings: tuple[Reading, ...], view: View, anatomy: Anatomy | None = None
) -> PlotSpec:
    """Return the plot of every candidate's impedance, with the cursor and what it reads.

    The anatomy, where it is given, is that of the selected candidate: its branches and resonances are drawn too.
    """
    case, f_hz = results.case, results.evaluation.f_hz
    shown = SHOWN[view.z_shows]
    x = AxisSpec(unit="Hz", log=True, low=float(f_hz[0]), high=float(f_hz[-1]))
    curves = tuple(_curve(results, index, view) for index in range(len(case.candidates)))
    measured, wanted = _measured(view), wanted_bands(case) if view.z_shows == "magnitude" else ()
    limits = np.array([band.y_limit for band in wanted], np.float64)
    return PlotSpec(
        title="Impedance between the regions",
        subtitle=f"{'bridge alone' if view.bridge_alone else 'in circuit'}, {shown.words}",
        x=x,
        y=ohm_axis([limits, *(curve.y for curve in (*curves, *measured))])
        if shown.log
        else AxisSpec(unit=shown.unit, low=-_PHASE_END_DEG, high=_PHASE_END_DEG),
        curves=(*_branches(anatomy, f_hz, view), *curves, *measured),
        guides=reactance_guides(x) if view.z_shows in ("magnitude", "reactance") else (),
        bands=(_CONDUCTED, *wanted),
        note=_CAPACITIVE if any(each.thin is not None and each.thin.any() for each in curves) else "",
        marks=_marks(anatomy, view),
        cursor_x=view.cursor_hz,
        cursor_text=format_quantity(view.cursor_hz, "Hz", digits=3),
        readouts=_readouts(case, readings, view),
        empty="" if case.candidates else "No candidate yet. Add a bridge with +.",
    )


def _curve(results: Results, index: int, view: View) -> CurveSpec:
    """Return the curve of one candidate; the same one for as long as nothing that it shows is another."""
    outcome = results.evaluation.outcomes[index]
    alone, shows, strong = view.bridge_alone, view.z_shows, index == view.candidate

    def made() -> CurveSpec:
        z_ohm = outcome.bridge_ohm if alone else outcome.in_circuit_ohm
        return CurveSpec(
            label=outcome.name,
            ink=ink(index),
            x=results.evaluation.f_hz,
            y=SHOWN[shows].of(z_ohm),
            strong=strong,
            thin=z_ohm.imag < 0.0 if shows == "reactance" else None,
            valid_x=_known_hz(results.case, outcome.candidate, bridge_alone=alone),
            z_ohm=z_ohm,
        )

    return results.desk.evaluator.solver.memo.get(("impedance curve", outcome, index, strong, shows, alone), made)


def _branches(anatomy: Anatomy | None, f_hz: Real, view: View) -> tuple[CurveSpec, ...]:
    """Return the branches of the selected candidate, faint; a single one alone would be the curve itself."""
    if anatomy is None or len(anatomy.branches) < 2:
        return ()
    shown = SHOWN[view.z_shows]
    return tuple(
        CurveSpec(label=name, ink=ink(view.candidate), x=f_hz, y=shown.of(z), faint=True)
        for name, z in anatomy.branches
    )


def _measured(view: View) -> tuple[CurveSpec, ...]:
    """Return the measurement of the built pair; it has everything in place, and so no bridge alone."""
    data = view.measured
    if data is None or view.bridge_alone or not (data.has_phase or view.z_shows == "magnitude"):
        return ()
    y = SHOWN[view.z_shows].of(data.z_ohm)
    return (CurveSpec(label=MEASURED, ink=_MEASURED_INK, x=data.f_hz, y=y, dots=True, z_ohm=data.z_ohm),)


def _marks(anatomy: Anatomy | None, view: View) -> tuple[MarkSpec, ...]:
    """Return the resonances of the selected candidate, the sharpest first, so that its name finds room."""
    if anatomy is None or view.z_shows != "magnitude":
        return ()
    sharpest = sorted(anatomy.resonances, key=lambda each: -each[0].q)[:_MOST_MARKS]
    return tuple(
        MarkSpec(label=resonance_text(each, made_by), ink=ink(view.candidate), x=each.f_hz, y=each.z_ohm)
        for each, made_by in sharpest
    )


def resonance_text(resonance: Resonance, made_by: tuple[Maker, ...]) -> str:
    """Return a resonance in words: series 5.03 MHz, Q 32: 2.2 nF, T1."""
    names = dict.fromkeys(part_value(each.part) if each.role == "branch" else each.path for each in made_by)
    parts = ", ".join(names) if len(names) <= _MOST_MAKERS else f"{', '.join([*names][:_MOST_MAKERS])} …"
    told = f"{resonance.kind} {format_quantity(resonance.f_hz, 'Hz', digits=3)}, Q {float(f'{resonance.q:.2g}'):g}"
    return f"{told}: {parts}" if parts else told


def _known_hz(case: Case, candidate: Candidate, *, bridge_alone: bool) -> tuple[float, float] | None:
    """Return the range in which every part that states one holds; None where none does."""
    edges = across_edges(case, candidate) if bridge_alone else (*standing_edges(case), *branch_edges(case, candidate))
    ranges = [known for edge in edges for part in edge.parts if (known := valid_hz(part)) is not None]
    return (max(low for low, _ in ranges), min(high for _, high in ranges)) if ranges else None


def ohm_axis(magnitudes: list[Real]) -> AxisSpec:
    """Return an axis of whole decades around what there is to see."""
    seen = np.concatenate([each[np.isfinite(each) & (each > 0.0)] for each in magnitudes] or [np.ones(1)])
    if not seen.size:
        seen = np.ones(1)
    low = max(_LOWEST_OHM, 10.0 ** math.floor(math.log10(float(seen.min()))))
    high = min(_HIGHEST_OHM, 10.0 ** math.ceil(math.log10(float(seen.max()))))
    return AxisSpec(unit="Ω", log=True, low=min(low, 1.0), high=max(high, 1e3))


def reactance_guides(x: AxisSpec) -> tuple[GuideSpec, ...]:
    """Return lines of constant inductance and capacitance across an axis."""
    inductive = tuple(
        GuideSpec(
            label=format_quantity(henry, "H"),
            x=(x.low, x.high),
            y=(2 * math.pi * x.low * henry, 2 * math.pi * x.high * henry),
        )
        for henry in _GUIDE_H
    )
    capacitive = tuple(
        GuideSpec(
            label=format_quantity(farad, "F"),
            x=(x.low, x.high),
            y=(1 / (2 * math.pi * x.low * farad), 1 / (2 * math.pi * x.high * farad)),
        )
        for farad in _GUIDE_F
    )
    return inductive + capacitive


def wanted_bands(case: Case) -> tuple[BandSpec, ...]:
    """Return the bands in which a requirement keeps the return impedance under a limit."""
    return tuple(
        BandSpec(
            label=f"wanted: under {reading(each.limit or 0.0, 'ohm')}",
            x_low=each.band_hz[0],
            x_high=each.band_hz[1],
            y_limit=each.limit,
        )
        for each in case.requirements
        if each.band_hz is not None
    )


def _readouts(case: Case, readings: tuple[Reading, ...], view: View) -> tuple[ReadoutSpec, ...]:
    at_cursor = [each.bridge_ohm if view.bridge_alone else each.in_circuit_ohm for each in readings]
    names = [each.name for each in case.candidates]
    reference = at_cursor[names.index(view.reference)] if view.reference in names and at_cursor else None
    return tuple(
        _readout(names[index], index, z, view.z_shows, None if names[index] == view.reference else reference)
        for index, z in enumerate(at_cursor)
    )


def _readout(name: str, index: int, z: complex, shows: str, reference: complex | None) -> ReadoutSpec:
    value = float(SHOWN[shows].of(np.array([z]))[0])
    magnitude = abs(z)
    angled = math.isfinite(magnitude) and magnitude > 0.0
    angle = f"{math.degrees(cmath.phase(z)):+.0f}°".replace("-", "−") if angled else ""
    return ReadoutSpec(
        label=name,
        ink=ink(index),
        text=_read(z, shows),
        y=value if math.isfinite(value) and angled else None,
        note=_against(magnitude, reference) if reference is not None else angle if shows == "magnitude" else "",
    )


def _read(z: complex, shows: str) -> str:
    if shows == "magnitude" or not cmath.isfinite(z):
        return reading(abs(z), "ohm")
    if shows == "phase":
        return f"{math.degrees(cmath.phase(z)):+.0f}°".replace("-", "−")
    if shows == "resistance":
        return reading(z.real, "ohm")
    return f"{'+' if z.imag >= 0.0 else '−'}{reading(abs(z.imag), 'ohm')}"


def _against(magnitude: float, reference: complex) -> str:
    """Return how far an impedance lies from that of the reference, in dB."""
    base = abs(reference)
    if not (math.isfinite(magnitude) and math.isfinite(base) and magnitude > 0.0 and base > 0.0):
        return ""
    return f"{20.0 * math.log10(magnitude / base):+.0f} dB".replace("-", "−")
