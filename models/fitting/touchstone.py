"""From a Touchstone file to the impedance of the part that was connected."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from models.arrays import Complex, Real
from models.errors import DataError
from models.fitting.connection import CONNECTIONS
from models.fitting.data import Measurement, fault, make_measurement
from models.fitting.touchstone_text import Matrices, read_matrices

_ISOLATED = 1e-2
"""Transmission below which port 1 of a two-port file is taken by itself (-40 dB)."""


def read_touchstone(path: str | Path, connection: str, *, lines: Sequence[str] | None = None) -> Measurement:
    """Read the impedance of a part from a Touchstone file of version 1.0 to 2.1.

    one-port: Z = R(1 + S11)/(1 - S11); series-thru: Z = 2√(R1·R2)/S21 - R1 - R2, which is 2·R(1 - S21)/S21 for equal
    references; shunt-thru: Z = R1·R2/(2√(R1·R2)/S21 - R1 - R2), which is R/2·S21/(1 - S21).

    Parameters
    ----------
    path : file with S, Y, Z, G or H parameters of one or two ports
    connection : one-port, series-thru or shunt-thru
    lines : what stands in it, where it was read already

    Returns
    -------
    Measurement

    Raises
    ------
    DataError
        In one sentence with the line, for anything that cannot be read right.

    Notes
    -----
    With an analyser that is right to 0.05 dB at 50 Ω, Z is right to 10 % series-thru from 6 Ω up, shunt-thru from 410 Ω
    down, one-port from 1.5 Ω to 1.7 kΩ. Source: definition of S parameters, K. Kurokawa (1965).
    """
    if connection not in CONNECTIONS:
        raise DataError(f"connection: found {connection}; accepted: {', '.join(CONNECTIONS)}")
    data = read_matrices(path, lines)
    notes = list(data.warnings)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        z = _port_one(data, notes) if connection == "one-port" else _through(data, connection, notes)
    return make_measurement(data.f_hz, z, source=data.source, warnings=notes)


def _port_one(data: Matrices, notes: list[str]) -> Complex:
    if data.values.shape[1] == 2:
        s = _scattering(data)
        through = float(np.nanmax(np.abs([s[:, 0, 1], s[:, 1, 0]]), initial=0.0))
        if through > _ISOLATED:
            found = f"two ports that pass a signal (|S21| up to {through:.2g})"
            raise fault(data.source, None, found, "a one-port file, or the connection series-thru or shunt-thru")
        notes.append("the file has two ports; port 1 is read by itself")
        return _reflection_to_z(s[:, 0, 0], data.reference_ohm[0])
    value = data.values[:, 0, 0]
    if data.parameter == "s":
        return _reflection_to_z(value, data.reference_ohm[0])
    return value if data.parameter == "z" else np.asarray(1 / value, np.complex128)


def _reflection_to_z(s11: Complex, reference_ohm: float) -> Complex:
    return np.asarray(reference_ohm * (1 + s11) / (1 - s11), np.complex128)


def _through(data: Matrices, connection: str, notes: list[str]) -> Complex:
    if data.values.shape[1] != 2:
        raise fault(data.source, None, "one port", f"two ports for {connection}, or the connection one-port")
    s = _scattering(data)
    first, second = data.reference_ohm
    series = 2 * np.sqrt(first * second) / s[:, 1, 0] - first - second
    z = series if connection == "series-thru" else first * second / series
    notes.extend(_doubts(s, first, second, connection))
    return np.asarray(z, np.complex128)


def _scattering(data: Matrices) -> Complex:
    """Return S (F, 2, 2) of any parameters, NaN where there is none; also where a part alone has no Z or no Y matrix.

    Z and Y are converted by scikit-rf. G and H it takes by way of Z, which a part in series does not have.
    """
    if data.parameter == "s":
        return data.values
    m = data.values
    s = np.full(m.shape, np.nan, np.complex128)
    usable = np.flatnonzero(np.isfinite(m).all(axis=(1, 2)))
    if data.parameter in ("g", "h"):
        _from_hybrid(data, usable, s)
        return s
    root = np.sqrt(data.reference_ohm)
    ratios = m[usable] / np.outer(root, root) if data.parameter == "z" else m[usable] * np.outer(root, root)
    usable = usable[np.linalg.det(ratios + np.eye(2)) != 0]
    if usable.size:
        from skrf.network import y2s, z2s

        s[usable] = (z2s if data.parameter == "z" else y2s)(m[usable], np.array(data.reference_ohm))
    return s


def _from_hybrid(data: Matrices, usable: NDArray[np.intp], s: Complex) -> None:
    """Fill in S of G- or H-parameters: A·V = B·I; with v = V/√R = a + b and i = I·√R = a - b, S = (A + B)⁻¹(B - A)."""
    m = data.values[usable]
    a, b = np.zeros_like(m), np.zeros_like(m)
    one, other = (a, b) if data.parameter == "h" else (b, a)
    one[:, 0, 0] = other[:, 1, 1] = 1
    one[:, 0, 1], other[:, 0, 0] = -m[:, 0, 1], m[:, 0, 0]
    other[:, 1, 0], one[:, 1, 1] = -m[:, 1, 0], m[:, 1, 1]
    root = np.sqrt(data.reference_ohm)
    a, b = a * root, b / root
    good = np.linalg.det(a + b) != 0
    s[usable[good]] = np.linalg.solve((a + b)[good], (b - a)[good])


def _doubts(s: Complex, first: float, second: float, connection: str) -> list[str]:
    """Hold the reflection at port 1 against what each connection would give with the S21 that was measured."""
    usable = np.isfinite(s).all(axis=(1, 2)) & (np.abs(s[:, 1, 0]) > 0)
    through, back, reflected = s[usable, 1, 0], s[usable, 0, 1], s[usable, 0, 0]
    said = []
    if (
        usable.any()
        and np.abs(back).max() > 0
        and np.median(np.abs(through - back)) > 0.05 * np.median(np.abs(through))
    ):
        said.append("S21 and S12 differ by more than 5 %: a passive part has them equal; S21 is used")
    if not usable.any() or np.abs(reflected).max() == 0:
        return said
    root = np.sqrt(first * second)
    as_series = _misfit(reflected, 1 - through * np.sqrt(first / second))
    as_shunt = _misfit(reflected, through * np.sqrt(second / first) - 1)
    chosen, other = (as_series, as_shunt) if connection == "series-thru" else (as_shunt, as_series)
    if chosen > 0.1 and other < 0.5 * chosen and root > 0:
        name = "shunt-thru" if connection == "series-thru" else "series-thru"
        said.append(f"S11 does not go with {connection} but with {name}: check the connection")
    return said


def _misfit(found: Complex, expected: Complex) -> float:
    error: Real = np.abs(found - expected)
    return float(np.sqrt(np.mean(error**2)))
