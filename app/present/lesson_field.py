"""The field of the cables in a lesson, against the limit."""

from __future__ import annotations

import numpy as np

from app.lessons.emission import field, limit_line
from app.present.lesson_scene import Scene
from app.present.specs import AxisSpec, CurveSpec, LimitSpec, PlotSpec, ReadoutSpec
from app.present.tabs import ink
from models.formulas.levels import level_dbuv
from models.quantity import format_quantity

_LOW_DB, _HIGH_DB = -20.0, 100.0
_NOTHING_V_PER_M = 1e-9
"""What rounding leaves of multiples that a clock does not have."""


def field_plot(scene: Scene) -> PlotSpec:
    """Return the field from one harmonic to the next, with the limit that it is held to."""
    line = limit_line(scene.own)
    assert line is not None
    stop_hz = scene.own.sweep.stop_hz
    f_hz = np.geomspace(min(each.start_hz for each in line.limits), stop_hz, 200)
    curves = []
    for index, each in scene.seen:
        found = field(scene.truth.bench, scene.present, each)
        if found is not None:
            there = np.isfinite(found.field_v_per_m) & (found.field_v_per_m > _NOTHING_V_PER_M)
            level_db = level_dbuv(found.field_v_per_m[there])
            strong = scene.is_strong(index, each.name)
            curves.append(CurveSpec(label=each.name, ink=ink(index), x=found.f_hz[there], y=level_db, strong=strong))
    at_hz = scene.at_hz
    return PlotSpec(
        title=f"Field at {format_quantity(line.distance_m or 0.0, 'm')}",
        subtitle="all cables, each multiple of the clock",
        x=AxisSpec(unit="Hz", log=True, low=float(f_hz[0]), high=stop_hz),
        y=AxisSpec(unit=line.unit, low=_LOW_DB, high=_HIGH_DB),
        curves=tuple(curves),
        limits=(LimitSpec(label="limit", x=f_hz, y=line.limit_db(f_hz, line.detectors[0]), strong=True),),
        cursor_x=at_hz,
        cursor_text="" if at_hz is None else format_quantity(at_hz, "Hz", digits=3),
        readouts=() if at_hz is None else tuple(_readout(each, at_hz, line.unit) for each in curves if each.x.size),
    )


def _readout(curve: CurveSpec, at_hz: float, unit: str) -> ReadoutSpec:
    """Return what is read at the harmonic next to the cursor."""
    level_db = float(curve.y[int(np.argmin(np.abs(curve.x - at_hz)))])
    return ReadoutSpec(label=curve.label, ink=curve.ink, text=f"{level_db:.0f} {unit}".replace("-", "−"), y=level_db)
