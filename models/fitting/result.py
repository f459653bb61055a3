"""What a fit gives back: the numbers of a part, how good they are and where they hold."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from attrs import field, frozen

from models.arrays import Complex, Real
from models.fitting.data import Measurement, log_share
from models.fitting.elements import SHAPES
from models.fitting.refine import Polished, log_deviation

_NAMES = {
    "bead": ("rdc",),
    "capacitor": ("capacitance", "esr", "esl", "dissipation_factor", "insulation_resistance"),
    "inductor": ("inductance", "rdc", "capacitance", "parallel_resistance"),
}
_GROUPS = {
    "bead": ("cells", ("resistance", "inductance", "capacitance")),
    "capacitor": ("branches", ("resistance", "capacitance")),
    "inductor": ("", ()),
}
_NONE = ("insulation_resistance", "parallel_resistance")
"""Keys that stand for nothing when they are infinite."""


@frozen(kw_only=True)
class FitResult:
    """A fitted part: its keys in SI numbers, the errors against all the data, and what to know about it."""

    kind: str
    """bead, capacitor or inductor."""
    keys: Mapping[str, Any] = field(hash=False)
    """The case file's own keys; numbers in SI units; ``cells`` and ``branches`` are lists of tables."""
    rms_error_db: float
    """Rms of 20·log10|fit/data|, each decade counting alike."""
    rms_error_deg: float
    """Rms of the phase of fit/data in degrees, each decade counting alike; 0 where the data has no phase."""
    range_hz: tuple[float, float]
    """Lowest and highest frequency of the data, Hz."""
    cells: int
    """Number of cells (bead) or slow branches (capacitor)."""
    confidence: Mapping[str, tuple[float, float]] = field(hash=False)
    """95 % interval of each value: ``rdc``, ``cells[0].inductance``; (0, inf) where the data is silent."""
    warnings: tuple[str, ...] = ()

    @property
    def part(self) -> dict[str, Any]:
        """The part as a case file has it: the kind first, then its keys."""
        return {"kind": self.kind, **self.keys}

    def impedance(self, f_hz: Real) -> Complex:
        """Return Z (F,) in Ω at 0 Hz or more (F,); ``inf`` where a capacitor blocks DC."""
        f = np.asarray(f_hz, np.float64)
        z = np.full(f.shape, self._dc_ohm(), np.complex128)
        above = f > 0
        z[above] = SHAPES[self.kind](vector_of(self.kind, self.keys), math.tau * f[above])[0]
        return z

    def _dc_ohm(self) -> float:
        if self.kind == "capacitor":
            return float(self.keys.get("esr", 0.0) + self.keys.get("insulation_resistance", np.inf))
        rdc = float(self.keys.get("rdc", 0.0))
        return rdc / (1 + rdc / float(self.keys.get("parallel_resistance", np.inf)))


def make_result(
    kind: str, fit: Polished, measurement: Measurement, warnings: Sequence[str], *, known: Sequence[int] = ()
) -> FitResult:
    """Turn fitted values into a result, with errors against every point of the measurement."""
    keys = keys_of(kind, fit.values)
    error_db, error_deg = errors(kind, fit.values, measurement)
    group = _GROUPS[kind][0]
    return FitResult(
        kind=kind,
        keys=keys,
        rms_error_db=error_db,
        rms_error_deg=error_deg,
        range_hz=(float(measurement.f_hz[0]), float(measurement.f_hz[-1])),
        cells=len(keys.get(group, ())),
        confidence=_confidence(kind, fit, known),
        warnings=(*measurement.warnings, *warnings),
    )


def errors(kind: str, values: Real, measurement: Measurement) -> tuple[float, float]:
    """Rms of fit/data in dB and in degrees over all points, each decade counting alike."""
    ratio = SHAPES[kind](values, math.tau * measurement.f_hz)[0] / measurement.z_ohm
    share = log_share(measurement.f_hz)
    rms_db = np.sqrt(np.average((20 * np.log10(np.abs(ratio))) ** 2, weights=share))
    rms_deg = np.sqrt(np.average(np.degrees(np.angle(ratio)) ** 2, weights=share))
    return float(rms_db), float(rms_deg) if measurement.has_phase else 0.0


def keys_of(kind: str, values: Real) -> dict[str, Any]:
    """Return the case file's keys of a vector of values; absent values are left out."""
    names, (group, members) = _NAMES[kind], _GROUPS[kind]
    keys: dict[str, Any] = {
        name: float(value) for name, value in zip(names, values, strict=False) if value > 0 and np.isfinite(value)
    }
    rows = values[len(names) :].reshape(-1, max(len(members), 1))
    if rows.size:
        keys[group] = [dict(zip(members, map(float, row), strict=True)) for row in rows]
    return keys


def vector_of(kind: str, keys: Mapping[str, Any]) -> Real:
    """Return the vector of values that the keys stand for."""
    group, members = _GROUPS[kind]
    single = [keys.get(name, np.inf if name in _NONE else 0.0) for name in _NAMES[kind]]
    return np.array([*single, *(row[member] for row in keys.get(group, ()) for member in members)], np.float64)


def _confidence(kind: str, fit: Polished, known: Sequence[int]) -> dict[str, tuple[float, float]]:
    deviation = log_deviation(fit, known)
    intervals = {}
    for name, value, wide in zip(_value_names(kind, fit.values.size), fit.values, deviation, strict=True):
        if 0 < value < np.inf:
            factor = float(np.exp(1.96 * wide)) if wide < 3 else np.inf
            intervals[name] = (float(value / factor), float(value * factor))
    return intervals


def _value_names(kind: str, size: int) -> list[str]:
    names, (group, members) = list(_NAMES[kind]), _GROUPS[kind]
    count = (size - len(names)) // max(len(members), 1)
    return names + [f"{group}[{row}].{member}" for row in range(count) for member in members]
