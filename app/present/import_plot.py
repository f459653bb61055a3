"""A measurement and its fit as plots and words."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from attrs import frozen

from app.present.numbers import reading
from app.present.specs import AxisSpec, BandSpec, CurveSpec, Ink, PlotSpec, ReadoutSpec
from app.state.importing import Imported
from models.arrays import Complex, Real
from models.fitting.as_part import confidence_table
from models.fitting.data import Measurement
from models.quantity import format_quantity

SIZE, PHASE, PARTS = "|Z|", "phase", "R and X"
MODES = (SIZE, PHASE, PARTS)
DATA, OTHER_DATA = Ink(slot=0), Ink(slot=11)
FIT, OTHER_FIT = Ink(slot=1), Ink(slot=2)
"""Data solid, fits dashed."""
_ROOM_PX = 64.0
_FEW_POINTS = 60
_MOST_CURVE_POINTS = 800
_UNITS: Mapping[str, str] = MappingProxyType(
    {
        "rdc": "ohm",
        "esr": "ohm",
        "esl": "H",
        "resistance": "ohm",
        "inductance": "H",
        "capacitance": "F",
        "insulation_resistance": "ohm",
        "parallel_resistance": "ohm",
        "dissipation_factor": "",
    }
)


@frozen(kw_only=True)
class ValueRow:
    """One fitted value with the interval that the data leaves it."""

    label: str
    value: str
    interval: str


@frozen(kw_only=True)
class ImportSpec:
    """What there is to say about a fit."""

    title: str
    summary: str
    values: tuple[ValueRow, ...]
    warnings: tuple[str, ...]


def import_words(imported: Imported) -> ImportSpec:
    """Return what the fit found, how good it is, where it holds, and what is doubtful."""
    result = imported.result
    low, high = (format_quantity(f_hz, "Hz", digits=3) for f_hz in result.range_hz)
    phase = f" and {result.rms_error_deg:.2g}°" if result.rms_error_deg else ""
    points = imported.measurement.within(*result.range_hz).f_hz.size
    guessed = "" if imported.request.kind else ", by the look of the data"
    return ImportSpec(
        title=_title(imported) + guessed,
        summary=(
            f"Differs from the data by {result.rms_error_db:.2g} dB{phase} rms. "
            f"Holds from {low} to {high}, {points} points; beyond, it is an extrapolation."
        ),
        values=tuple(_rows(imported)),
        warnings=tuple(_sentence(said) for said in result.warnings),
    )


def _sentence(said: str) -> str:
    """Return a warning as a sentence."""
    return f"{said[0].upper()}{said[1:]}."


def _title(imported: Imported) -> str:
    result = imported.result
    name = result.kind.capitalize()
    if not result.cells:
        return name
    noun = "cell" if result.kind == "bead" else "slow branch"
    plural = noun if result.cells == 1 else f"{noun}es" if noun.endswith("h") else f"{noun}s"
    return f"{name} of {result.cells} {plural}" if result.kind == "bead" else f"{name} with {result.cells} {plural}"


def _rows(imported: Imported) -> list[ValueRow]:
    rows = []
    for name, (low, high) in confidence_table(imported.result).items():
        key = name.rsplit(".", 1)[-1]
        unit, value = _UNITS[key], _value(imported, name)
        silent = not (low > 0.0 and math.isfinite(high))
        interval = "not seen in the data" if silent else f"{reading(low, unit)} to {reading(high, unit)}"
        rows.append(ValueRow(label=_label(name), value=reading(value, unit), interval=interval))
    return rows


def _value(imported: Imported, name: str) -> float:
    found = re.fullmatch(r"(\w+)\[(\d+)\]\.(\w+)", name)
    keys = imported.result.keys
    return float(keys[found[1]][int(found[2])][found[3]] if found else keys[name])


def _label(name: str) -> str:
    found = re.fullmatch(r"(\w+)\[(\d+)\]\.(\w+)", name)
    if not found:
        return {"rdc": "DC resistance", "esr": "ESR", "esl": "ESL"}.get(name, name.replace("_", " ").capitalize())
    group = {"cells": "Cell", "branches": "Branch"}[found[1]]
    return f"{group} {int(found[2]) + 1}, {found[3]}"


def fit_plot(imported: Imported, mode: str, cursor_hz: float | None = None) -> PlotSpec:
    """Return data and fit over each other, with what a cursor reads on both."""
    data = imported.measurement
    f_hz = _curve_frequencies(imported)
    z = imported.result.impedance(f_hz)
    curves = _CURVES[mode](data.f_hz, data.z_ohm, f_hz, z, imported.result.range_hz)
    if not data.has_phase and mode != SIZE:
        curves = tuple(curve for curve in curves if curve.label.startswith("fit"))
    return PlotSpec(
        title="Data and fit",
        subtitle={SIZE: "|Z|", PHASE: "phase of Z", PARTS: "R and X"}[mode],
        x=_frequencies(data.f_hz),
        y=_axis(mode, curves),
        curves=curves,
        bands=_used(imported),
        cursor_x=cursor_hz,
        cursor_text="" if cursor_hz is None else format_quantity(cursor_hz, "Hz", digits=3),
        readouts=() if cursor_hz is None else tuple(_readout(curve, mode, cursor_hz) for curve in curves),
    )


def middle_hz(measurement: Measurement) -> float:
    """Return the middle of the data on a log axis, where a cursor begins."""
    return float(math.sqrt(measurement.f_hz[0] * measurement.f_hz[-1]))


def _readout(curve: CurveSpec, mode: str, cursor_hz: float) -> ReadoutSpec:
    y = float(np.interp(math.log(cursor_hz), np.log(curve.x), curve.y))
    text = f"{y:.1f}°".replace("-", "−") if mode == PHASE else reading(y, "ohm")
    inside = curve.x[0] <= cursor_hz <= curve.x[-1]
    return ReadoutSpec(label=curve.label, ink=curve.ink, text=text, y=y if inside else None)


def residual_plot(imported: Imported, mode: str) -> PlotSpec:
    """Return what the fit leaves: the ratio of fit to data in dB, or its phase in degrees."""
    used = imported.measurement.within(*imported.result.range_hz)
    ratio = imported.result.impedance(used.f_hz) / used.z_ohm
    phase = mode == PHASE
    if phase and not used.has_phase:
        return PlotSpec(title="What the fit leaves", empty="The data has no phase.")
    left = np.degrees(np.angle(ratio)) if phase else 20.0 * np.log10(np.abs(ratio))
    most = max(float(np.quantile(np.abs(left), 0.98)) * 1.4, 0.5 if phase else 0.05)
    unit = "°" if phase else "dB"
    return PlotSpec(
        title="What the fit leaves",
        subtitle=f"fit against data, {unit}",
        x=_frequencies(imported.measurement.f_hz),
        y=AxisSpec(unit=unit, low=-most, high=most, room_px=_ROOM_PX),
        curves=(_data_curve("fit/data", DATA, used.f_hz, np.asarray(left, np.float64)),),
    )


def _data_curve(label: str, ink: Ink, x: Real, y: Real) -> CurveSpec:
    return CurveSpec(label=label, ink=ink, x=x, y=y, dots=x.size <= _FEW_POINTS)


def _size(data_f: Real, data_z: Complex, f: Real, z: Complex, known: tuple[float, float]) -> tuple[CurveSpec, ...]:
    fit = CurveSpec(label="fit", ink=FIT, x=f, y=np.abs(z), strong=True, valid_x=known, z_ohm=z)
    return (_data_curve("data", DATA, data_f, np.abs(data_z)), fit)


def _phase(data_f: Real, data_z: Complex, f: Real, z: Complex, known: tuple[float, float]) -> tuple[CurveSpec, ...]:
    fit = CurveSpec(label="fit", ink=FIT, x=f, y=np.degrees(np.angle(z)), strong=True, valid_x=known)
    return (_data_curve("data", DATA, data_f, np.degrees(np.angle(data_z))), fit)


def _parts(data_f: Real, data_z: Complex, f: Real, z: Complex, known: tuple[float, float]) -> tuple[CurveSpec, ...]:
    return (
        _data_curve("R, data", DATA, data_f, np.abs(data_z.real)),
        _data_curve("|X|, data", OTHER_DATA, data_f, np.abs(data_z.imag)),
        CurveSpec(label="fit, R", ink=FIT, x=f, y=z.real.copy(), strong=True, valid_x=known),
        CurveSpec(label="fit, |X|", ink=OTHER_FIT, x=f, y=np.abs(z.imag), strong=True, valid_x=known),
    )


_CURVES = MappingProxyType({SIZE: _size, PHASE: _phase, PARTS: _parts})


def _curve_frequencies(imported: Imported) -> Real:
    f_hz = imported.measurement.f_hz
    return np.asarray(np.geomspace(f_hz[0], f_hz[-1], _MOST_CURVE_POINTS), np.float64)


def _frequencies(f_hz: Real) -> AxisSpec:
    return AxisSpec(unit="Hz", log=True, low=float(f_hz[0]), high=float(f_hz[-1]))


def _axis(mode: str, curves: tuple[CurveSpec, ...]) -> AxisSpec:
    if mode == PHASE:
        return AxisSpec(unit="°", low=-100.0, high=100.0, room_px=_ROOM_PX)
    return _log_ohms(np.concatenate([curve.y for curve in curves]), floor=1e-5 if mode == PARTS else 0.0)


def _log_ohms(size: Real, floor: float = 0.0) -> AxisSpec:
    """Return whole decades around sizes in Ω, five of them or so where a reactance passes zero."""
    seen = size[np.isfinite(size) & (size > 0.0)]
    high = 10.0 ** math.ceil(math.log10(float(seen.max()) * 1.01))
    low = 10.0 ** math.floor(math.log10(max(float(seen.min()), floor * high)))
    return AxisSpec(unit="Ω", log=True, low=low, high=high, room_px=_ROOM_PX)


def _used(imported: Imported) -> tuple[BandSpec, ...]:
    """Return the range of the fit as a band, where it is not all of the data."""
    low, high = imported.result.range_hz
    f_hz = imported.measurement.f_hz
    if low <= f_hz[0] and high >= f_hz[-1]:
        return ()
    return (BandSpec(label="used for the fit", x_low=low, x_high=high),)
