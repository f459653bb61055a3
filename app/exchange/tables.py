"""Results as plain tables, one row a frequency or instant, candidates below each other: what every program reads."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.limits import DETECTORS
from models.network.grid import sweep_grid
from models.network.solver import drive_of
from models.outcomes.conducted import Conducted
from models.outcomes.evaluation import Evaluation, Evaluator
from models.outcomes.radiated import DISTANCES_M
from models.outcomes.reading import Emission

Row = tuple[Any, ...]


@frozen(kw_only=True)
class Results:
    """A table: its headings and its rows, made while they are written."""

    headings: tuple[str, ...]
    rows: Iterable[Row]


def csv_text(table: Results) -> Iterator[str]:
    """Yield the lines of a table as CSV: numbers in full, ``inf`` for infinite, nothing for what is not read."""
    yield _line(table.headings)
    for row in table.rows:
        yield _line([_cell(value) for value in row])


def _line(cells: Iterable[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerow(cells)
    return out.getvalue()


def _cell(value: Any) -> str:
    if isinstance(value, float):
        return "" if value == -math.inf or math.isnan(value) else repr(value)
    return str(value)


def impedance(_evaluator: Evaluator, evaluation: Evaluation) -> Results:
    """Return the impedance of every bridge alone and in circuit, over the sweep."""
    names = [f"{what}_{part}_ohm" for what in ("bridge", "in_circuit") for part in ("re", "im")]
    return Results(
        headings=("candidate", "frequency_hz", *names),
        rows=(
            (each.name, *row)
            for each in evaluation.outcomes
            for row in _columns(evaluation.f_hz, *_parts(each.bridge_ohm), *_parts(each.in_circuit_ohm))
        ),
    )


def transfer(evaluator: Evaluator, evaluation: Evaluation) -> Results:
    """Return v(b) − v(a) per unit of every source over the sweep, in V per V or V per A."""
    case, solver = evaluation.case, evaluator.solver
    grid = sweep_grid(case.sweep)
    units = ["V/V" if drive_of(case, each).is_voltage else "V/A" for each in case.sources]
    return Results(
        headings=("candidate", "source", "frequency_hz", "transfer_re", "transfer_im", "transfer_unit"),
        rows=(
            (each.name, source.name, *row, unit)
            for each in evaluation.outcomes
            for source, unit in zip(case.sources, units, strict=True)
            for row in _columns(evaluation.f_hz, *_parts(solver.transfer(case, each.candidate, source, grid)))
        ),
    )


def spectrum(_evaluator: Evaluator, evaluation: Evaluation) -> Results:
    """Return the common-mode voltage, every source alone, line by line, the mean at order 0."""
    return Results(
        headings=("candidate", "source", "order", "frequency_hz", "v_rms"),
        rows=(
            (each.name, wave.source, int(order), *row)
            for each in evaluation.outcomes
            for wave in each.common_mode
            for order, *row in _columns(wave.orders, wave.orders * wave.frequency_hz, wave.v_rms)
        ),
    )


def waveform(_evaluator: Evaluator, evaluation: Evaluation) -> Results:
    """Return one period of the common-mode voltage, every source alone, from the start of its rising edge."""
    return Results(
        headings=("candidate", "source", "time_s", "voltage_v"),
        rows=(
            (each.name, wave.source, *row)
            for each in evaluation.outcomes
            for wave in each.common_mode
            for row in _columns(_instants(wave.waveform_v, wave.frequency_hz), wave.waveform_v)
        ),
    )


def conducted(_evaluator: Evaluator, evaluation: Evaluation) -> Results:
    """Return what a receiver reads at every LISN, every source alone, in dBµV."""
    return Results(
        headings=("candidate", "cable", "source", "frequency_hz", *_readings("dbuv")),
        rows=(
            (each.name, lead.cable, emission.source, *row)
            for each in evaluation.outcomes
            for lead in each.conducted
            for emission in _sources(lead)
            for row in _read(emission)
        ),
    )


def radiated(_evaluator: Evaluator, evaluation: Evaluation) -> Results:
    """Return what a receiver reads of the field of all cables, every source alone, in dBµV/m; ±6 dB."""
    return Results(
        headings=("candidate", "distance_m", "source", "frequency_hz", *_readings("dbuv_per_m")),
        rows=(
            (each.name, distance_m, field.source, *row)
            for each in evaluation.outcomes
            for field in each.radiated
            for distance_m in DISTANCES_M
            for row in _read(field.at(distance_m))
        ),
    )


TABLES: Mapping[str, Callable[[Evaluator, Evaluation], Results]] = MappingProxyType(
    {
        "impedance": impedance,
        "transfer": transfer,
        "spectrum": spectrum,
        "waveform": waveform,
        "conducted": conducted,
        "radiated": radiated,
    }
)
"""Every table by the name of what it holds."""


def _columns(*columns: Real) -> Iterator[tuple[float, ...]]:
    return zip(*(column.tolist() for column in columns), strict=True)


def _parts(z: Complex) -> tuple[Real, Real]:
    return z.real, z.imag


def _instants(wave: Real, frequency_hz: float) -> Real:
    return np.arange(wave.size, dtype=np.float64) / (wave.size * frequency_hz)


def _readings(unit: str) -> tuple[str, ...]:
    return tuple(f"{detector.replace('-', '_')}_{unit}" for detector in DETECTORS)


def _sources(lead: Conducted) -> tuple[Emission, ...]:
    return lead.each


def _read(emission: Emission) -> Iterator[tuple[float, ...]]:
    return _columns(emission.f_hz, *(emission.level_db(detector) for detector in DETECTORS))
