"""A measured impedance over frequency, cleaned once so that every fit can rely on it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Self, TypeVar

import numpy as np
from attrs import evolve, frozen
from numpy.typing import ArrayLike, NDArray

from models.arrays import Complex, Real
from models.errors import DataError
from models.quantity import hertz, ohms

Scalar = TypeVar("Scalar", bound=np.generic)

_LEAST_OHM, _MOST_OHM = 1e-15, 1e15
_LEAST_HZ, _MOST_HZ = 1e-6, 1e15
"""Beyond these a number is a fault of the file and not a measurement."""


def fault(source: str | Path, line: int | None, found: str, accepted: str) -> DataError:
    """Return the one sentence about a file that cannot be used: where, what was found, what is accepted."""
    where = str(source) if line is None else f"{source}, line {line}"
    return DataError(f"{where}: found {found}; accepted: {accepted}")


@frozen(kw_only=True, eq=False)
class Measurement:
    """Impedance over frequency as it was measured: ascending frequencies above 0, finite values, no duplicates."""

    f_hz: Real
    """(F,) Hz."""
    z_ohm: Complex
    """(F,) Ω; where the phase is not known, the magnitude with phase 0."""
    source: str
    """Where the data came from, for messages and notes."""
    warnings: tuple[str, ...] = ()
    """What was set aside or merged on the way, one sentence each."""
    dc_ohm: float | None = None
    """Resistance of a point at 0 Hz, Ω."""
    has_phase: bool = True

    def within(self, from_hz: float | None = None, to_hz: float | None = None) -> Self:
        """Return the part of the measurement between two frequencies, both counted in.

        Raises
        ------
        DataError
            Where no point lies in the range.
        """
        low, high = from_hz or 0.0, np.inf if to_hz is None else to_hz
        keep = (self.f_hz >= low) & (self.f_hz <= high)
        if not keep.any():
            have = f"a range that meets {hertz(self.f_hz[0])} to {hertz(self.f_hz[-1])}"
            where = f"between {hertz(low)} and {hertz(high)}" if to_hz is not None else f"from {hertz(low)} on"
            raise fault(self.source, None, f"no point {where}", have)
        return evolve(self, f_hz=_frozen(self.f_hz[keep]), z_ohm=_frozen(self.z_ohm[keep]))


def make_measurement(
    f_hz: ArrayLike, z_ohm: ArrayLike, *, source: str, warnings: Sequence[str] = (), has_phase: bool = True
) -> Measurement:
    """Clean raw points into a measurement: sorted, finite, one value a frequency, DC apart.

    Parameters
    ----------
    f_hz : (F,) Hz, in any order
    z_ohm : (F,) complex, Ω; the magnitude alone with ``has_phase=False``
    source : name for messages
    warnings : sentences that the reader already has to say

    Returns
    -------
    Measurement

    Raises
    ------
    DataError
        For lengths that differ, a frequency that cannot be, or when no usable point is left.
    """
    f, z = np.array(f_hz, np.float64).ravel(), np.array(z_ohm, np.complex128).ravel()
    if f.shape != z.shape:
        raise fault(source, None, f"{f.size} frequencies and {z.size} impedances", "one impedance a frequency")
    notes = list(warnings)
    f, z = _finite(f, z, notes)
    strange = (f != 0) & ((f < _LEAST_HZ) | (f > _MOST_HZ))
    if strange.any():
        accepted = f"0 Hz, or {hertz(_LEAST_HZ)} to {hertz(_MOST_HZ)}"
        raise fault(source, None, f"the frequency {hertz(f[strange][0])}", accepted)
    f, z, dc_ohm = _without_dc(f, z, notes)
    f, z = _ascending(f, z, notes)
    if not f.size:
        raise fault(source, None, "no usable point", "finite impedances at frequencies above 0 Hz")
    return Measurement(
        f_hz=_frozen(f),
        z_ohm=_frozen(z),
        source=source,
        warnings=tuple(notes),
        dc_ohm=dc_ohm,
        has_phase=has_phase,
    )


def points(count: int) -> str:
    """Return "1 point" or "7 points"."""
    return "1 point" if count == 1 else f"{count} points"


def log_share(f_hz: Real) -> Real:
    """Weight of each point by the stretch of log frequency it stands for, mean 1: each decade counts alike."""
    if f_hz.size < 3:
        return np.ones(f_hz.size)
    share = np.gradient(np.log(f_hz))
    return np.asarray(share * (f_hz.size / share.sum()), np.float64)


def log_resampled(measurement: Measurement, limit: int = 300) -> tuple[Real, Complex]:
    """Thin dense data to at most ``limit`` points, spread evenly over log frequency.

    Each point is the median (of the real and of the imaginary part) of those it stands for, which quietens noise and
    drops single outliers.

    Returns
    -------
    (F',) Hz, (F',) complex Ω
    """
    f, z = measurement.f_hz, measurement.z_ohm
    if f.size <= limit:
        return f, z
    x = np.log(f)
    bins = np.minimum(((x - x[0]) / (x[-1] - x[0]) * limit).astype(np.intp), limit - 1)
    edges = np.flatnonzero(np.diff(bins, prepend=-1))
    real, imag = (_medians(part, bins, edges) for part in (z.real, z.imag))
    return _medians(f, bins, edges), np.asarray(real + 1j * imag, np.complex128)


def _medians(values: Real, bins: NDArray[np.intp], edges: NDArray[np.intp]) -> Real:
    """Return the median of the values of each bin; bins ascend and start at the edges."""
    ordered = values[np.lexsort((values, bins))]
    counts = np.diff(edges, append=values.size)
    return np.asarray((ordered[edges + (counts - 1) // 2] + ordered[edges + counts // 2]) / 2, np.float64)


def _frozen(array: NDArray[Scalar]) -> NDArray[Scalar]:
    array.flags.writeable = False
    return array


def _finite(f: Real, z: Complex, notes: list[str]) -> tuple[Real, Complex]:
    with np.errstate(over="ignore", invalid="ignore"):
        size = np.abs(z)
    keep = np.isfinite(f) & np.isfinite(z) & (((size >= _LEAST_OHM) & (size <= _MOST_OHM)) | (f == 0))
    if dropped := int(f.size - keep.sum()):
        notes.append(f"{points(dropped)} without a finite impedance above 0 set aside")
    return f[keep], z[keep]


def _without_dc(f: Real, z: Complex, notes: list[str]) -> tuple[Real, Complex, float | None]:
    at_dc = f == 0
    if not at_dc.any():
        return f, z, None
    dc_ohm = float(np.median(z[at_dc].real))
    if dc_ohm < 0:
        notes.append(f"the point at 0 Hz has a negative resistance ({ohms(dc_ohm)}) and is set aside")
        return f[~at_dc], z[~at_dc], None
    notes.append(f"the point at 0 Hz is kept as the DC resistance, {ohms(dc_ohm)}")
    return f[~at_dc], z[~at_dc], dc_ohm


def _ascending(f: Real, z: Complex, notes: list[str]) -> tuple[Real, Complex]:
    if (np.diff(f) < 0).any():
        notes.append("frequencies were not in ascending order and are sorted")
    order = np.argsort(f, kind="stable")
    f, z = f[order], z[order]
    unique, first, count = np.unique(f, return_index=True, return_counts=True)
    if unique.size == f.size:
        return f, z
    notes.append(f"{points(int(f.size - unique.size))} at a frequency that stands twice, averaged")
    return unique, np.asarray(np.add.reduceat(z, first) / count, np.complex128)
