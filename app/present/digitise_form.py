"""The form beside a picture whose curve is read: values of the marks, and what to do next."""

from __future__ import annotations

import numpy as np

from app.present.specs import FieldSpec, FormSpec, SectionSpec
from app.state.digitise import CURVE, LINEAR, LOG, MARKS, UNITS, Tracing
from models.errors import IsthmusError
from models.quantity import format_quantity

STAGE_LABELS = {"x1": "f 1", "x2": "f 2", "y1": "|Z| 1", "y2": "|Z| 2", CURVE: "curve"}
_WHERE = {"x1": "a frequency", "x2": "another frequency", "y1": "an impedance", "y2": "another impedance"}


def digitise_form(tracing: Tracing) -> FormSpec:
    """Return the fields of both axes."""
    frequency = [_value(tracing, name) for name in ("x1", "x2")]
    impedance = [_value(tracing, name) for name in ("y1", "y2")]
    return FormSpec(
        title="Axes",
        sections=(
            SectionSpec(title="Frequency", fields=(*frequency, _kind("log_x", log=tracing.log_x))),
            SectionSpec(title="Impedance", fields=(*impedance, _kind("log_y", log=tracing.log_y))),
        ),
    )


def hint(tracing: Tracing, stage: str, *, follow: bool, has_picture: bool) -> str:
    """Return what to do next, in one sentence."""
    if not has_picture:
        return "Load a picture of the curve, drop one here, or paste one."
    if stage in MARKS:
        return f"Click where {_WHERE[stage]} stands on its axis, and type its value."
    if missing := tracing.missing():
        if not missing.startswith("points"):
            return f"Still needed: {missing}."
        return "Click on the curve: its colour is followed." if follow else "Click points along the curve."
    try:
        f_hz, _ = tracing.calibration().values(np.array(tracing.places))
    except IsthmusError as error:
        return str(error)
    low, high = (format_quantity(float(f), "Hz", digits=3) for f in (f_hz.min(), f_hz.max()))
    return f"{len(tracing.places)} points from {low} to {high}."


def reading_at(tracing: Tracing, at: tuple[float, float]) -> str:
    """Return what both axes say at a place; empty where they are not known yet."""
    try:
        f_hz, z_ohm = tracing.calibration().values(np.array([at]))
    except IsthmusError:
        return ""
    if not (f_hz[0] > 0.0 and z_ohm[0] > 0.0):
        return "off the axes"
    return f"{format_quantity(float(f_hz[0]), 'Hz', digits=3)}, {format_quantity(float(z_ohm[0]), 'ohm', digits=3)}"


def _value(tracing: Tracing, name: str) -> FieldSpec:
    place = MARKS.index(name)
    value = tracing.values[place]
    unit = UNITS[name]
    marked = tracing.marks[place] is not None
    return FieldSpec(
        path=(name,),
        label=f"At mark {STAGE_LABELS[name]}",
        text="" if value is None else format_quantity(value, unit),
        unit=unit,
        value=value,
        help="What stands at this mark on the axis of the picture.",
        note="" if marked else "not marked yet",
        optional=True,
    )


def _kind(name: str, *, log: bool) -> FieldSpec:
    return FieldSpec(path=(name,), label="Scale", text=LOG if log else LINEAR, choices=(LOG, LINEAR))
