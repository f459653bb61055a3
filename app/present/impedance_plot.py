"""The impedance between the regions as a plot."""

from __future__ import annotations

import cmath
import math

import numpy as np

from app.present.numbers import reading
from app.present.specs import AxisSpec, BandSpec, CurveSpec, GuideSpec, PlotSpec, ReadoutSpec
from app.present.tabs import ink
from app.state.results import Reading, Results
from app.state.view import View
from models.case.document import Candidate, Case
from models.formulas.impedance import Real
from models.network.edges import across_edges, branch_edges, standing_edges
from models.parts.part import valid_hz
from models.quantity import format_quantity

_LOWEST_OHM, _HIGHEST_OHM = 1e-4, 1e9
_GUIDE_H = (1e-9, 100e-9, 10e-6)
_GUIDE_F = (10e-12, 1e-9, 100e-9)
_CONDUCTED = BandSpec(label="conducted band", x_low=150e3, x_high=30e6)


def impedance_plot(results: Results, readings: tuple[Reading, ...], view: View) -> PlotSpec:
    """Return the plot of every candidate's impedance, with the cursor and what it reads."""
    case = results.case
    f_hz = results.evaluation.f_hz
    impedances = [
        outcome.bridge_ohm if view.bridge_alone else outcome.in_circuit_ohm for outcome in results.evaluation.outcomes
    ]
    magnitudes = [np.abs(z) for z in impedances]
    x = AxisSpec(unit="Hz", log=True, low=float(f_hz[0]), high=float(f_hz[-1]))
    y = ohm_axis(magnitudes)
    return PlotSpec(
        title="Impedance between the regions",
        subtitle="bridge alone, |Z|" if view.bridge_alone else "in circuit, |Z|",
        x=x,
        y=y,
        curves=tuple(
            CurveSpec(
                label=candidate.name,
                ink=ink(index),
                x=f_hz,
                y=magnitudes[index],
                strong=index == view.candidate,
                valid_x=_known_hz(case, candidate, bridge_alone=view.bridge_alone),
                z_ohm=impedances[index],
            )
            for index, candidate in enumerate(case.candidates)
        ),
        guides=reactance_guides(x),
        bands=(_CONDUCTED, *_required_bands(case)),
        cursor_x=view.cursor_hz,
        cursor_text=format_quantity(view.cursor_hz, "Hz", digits=3),
        readouts=tuple(
            _readout(case, index, each, bridge_alone=view.bridge_alone) for index, each in enumerate(readings)
        ),
        empty="" if case.candidates else "No candidate yet. Add a bridge with +.",
    )


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


def _required_bands(case: Case) -> tuple[BandSpec, ...]:
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


def _readout(case: Case, index: int, at_cursor: Reading, *, bridge_alone: bool) -> ReadoutSpec:
    z = at_cursor.bridge_ohm if bridge_alone else at_cursor.in_circuit_ohm
    magnitude = abs(z)
    text = reading(magnitude, "ohm")
    angled = math.isfinite(magnitude) and magnitude > 0.0
    return ReadoutSpec(
        label=case.candidates[index].name,
        ink=ink(index),
        text=text,
        y=magnitude if angled else None,
        note=f"{math.degrees(cmath.phase(z)):+.0f}°".replace("-", "−") if angled else "",
    )
