"""A wave or spectrum that was measured, from a table of two or three columns."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from attrs import frozen

from models.arrays import Complex
from models.codec import Place, describe
from models.errors import DataError, QuantityError
from models.file_names import seen_from
from models.sources.harmonics import MOST_HARMONICS, last_order

_MOST_ROWS = 200_000
_EVEN = 1e-3
"""Steps of time that differ by more than this are not even."""
_ON_ORDER = 0.02
"""How far off a multiple of the repetition frequency a line may stand, in parts of that frequency."""


class Table(NamedTuple):
    """The rows of a file, all of like length, the name it goes by in the case, and the folder that name starts in.

    A file that was not opened equals the same file opened: a case says no more of it than its name.
    """

    file: str
    rows: tuple[tuple[float, ...], ...] | None = None
    folder: str = ""

    def __eq__(self, other: object) -> bool:
        """Compare names, and rows where both were read."""
        if not isinstance(other, Table) or self.file != other.file:
            return False
        return self.rows is None or other.rows is None or self.rows == other.rows

    def __hash__(self) -> int:
        """Hash the name alone, since a file that was not opened is equal."""
        return hash(self.file)


@frozen(kw_only=True, cache_hash=True)
class TableFile:
    """Reads the name of a file and the numbers in it; a first line of names is passed over."""

    columns: tuple[int, ...]
    """How many columns it may have."""
    names: str

    def read(self, found: object, place: Place) -> Any:
        """Open the file, unless files are to stay closed."""
        if not isinstance(found, str) or not found.strip() or not found.isprintable():
            return place.reject(describe(found), f"the name of a file with the columns {self.names}")
        if place.folder is None:
            return Table(file=found)
        try:
            rows = read_rows(place.folder / found, self.columns, self.names)
        except DataError as error:
            return place.reject(*error.parts())
        return Table(file=found, rows=rows, folder=str(place.folder))

    def write(self, value: Table) -> str:
        """Return the name of the file."""
        return value.file


def table_in(table: Table, folder: Path) -> Table:
    """Return a table as a case in another folder has to name its file."""
    name = seen_from(table.file, Path(table.folder), folder)
    return table if name == table.file else Table(file=name, rows=table.rows, folder=str(folder))


def read_rows(path: Path, columns: tuple[int, ...], names: str) -> tuple[tuple[float, ...], ...]:
    """Return the rows of numbers of a text file with commas, semicolons, tabs or spaces between.

    Raises
    ------
    DataError
        Where the file cannot be read or its rows are not alike.
    """
    from models.fitting.data import fault
    from models.fitting.textfile import is_number, read_lines

    rows: list[tuple[float, ...]] = []
    for number, line in enumerate(read_lines(path), start=1):
        cells = [cell for cell in re.split(r"[,;\s]+", line.strip()) if cell]
        if not cells or line.lstrip().startswith(("#", "!", "%")):
            continue
        if not all(is_number(cell) for cell in cells):
            if rows:
                raise fault(path.name, number, describe(line.strip()), names)
            continue
        row = tuple(float(cell) for cell in cells)
        if len(row) not in columns or (rows and len(row) != len(rows[0])):
            raise fault(path.name, number, f"{len(row)} numbers", names)
        if not all(map(math.isfinite, row)):
            raise fault(path.name, number, describe(line.strip()), "finite numbers")
        rows.append(row)
        if len(rows) > _MOST_ROWS:
            raise fault(path.name, number, f"more than {_MOST_ROWS} rows", f"at most {_MOST_ROWS} rows")
    return tuple(rows)


@frozen(kw_only=True, cache_hash=True)
class RecordedWave:
    """One period of a wave, sampled in even steps; the samples' own Fourier coefficients, up to half their rate."""

    table: Table

    def __attrs_post_init__(self) -> None:
        """Refuse what is no evenly sampled period."""
        if self.table.rows is None:
            return
        if len(self.table.rows) < 4:
            raise QuantityError(
                f'"{self.table.file}" with {len(self.table.rows)} rows', "at least 4 samples of a period"
            )
        steps = np.diff([row[0] for row in self.table.rows])
        if steps.min() <= 0.0 or np.ptp(steps) > _EVEN * steps.mean():
            raise QuantityError(f'"{self.table.file}" with uneven steps of time', "one period, sampled in even steps")

    @property
    def frequency_hz(self) -> float:
        """One over the period, which ends one step after the last sample, Hz."""
        rows = _opened(self.table)
        return (len(rows) - 1) / (len(rows) * (rows[-1][0] - rows[0][0]))

    def harmonic_count(self, stop_hz: float) -> int:
        """Return how many harmonics lie at or below a frequency and half the rate of sampling; 0 if not opened."""
        if self.table.rows is None:
            return 0
        return min(last_order(self.frequency_hz, stop_hz), (len(self.table.rows) - 1) // 2)

    def coefficients(self, count: int) -> Complex:
        """Return c_0 to c_count, (count + 1,)."""
        samples = np.array([row[1] for row in _opened(self.table)])
        return np.asarray(np.fft.rfft(samples)[: count + 1] / samples.size, np.complex128)


@frozen(kw_only=True, cache_hash=True)
class RecordedSpectrum:
    """Lines of a periodic wave: frequency, rms, and phase in degrees where it was measured.

    Without phases the lines count as cosines: levels and rms are right, the waveform and its peak are an upper bound.
    """

    table: Table
    frequency_hz: float

    def __attrs_post_init__(self) -> None:
        """Refuse lines that are no harmonics, and levels below 0."""
        for row in self.table.rows or ():
            off = abs(row[0] / self.frequency_hz - round(row[0] / self.frequency_hz))
            if row[0] < 0.0 or off > _ON_ORDER:
                raise QuantityError(
                    f'a line at {row[0]:g} Hz in "{self.table.file}"', f"multiples of {self.frequency_hz:g} Hz"
                )
            if row[0] > self.frequency_hz * MOST_HARMONICS:
                raise QuantityError(f'a line at {row[0]:g} Hz in "{self.table.file}"', "lines of lower order")
            if row[1] < 0.0:
                raise QuantityError(f'a level of {row[1]:g} in "{self.table.file}"', "rms values, 0 or more")

    def harmonic_count(self, stop_hz: float) -> int:
        """Return the highest order that was measured and lies at or below a frequency."""
        last = max((round(row[0] / self.frequency_hz) for row in self.table.rows or ()), default=0)
        return min(last_order(self.frequency_hz, stop_hz), last)

    def coefficients(self, count: int) -> Complex:
        """Return c_0 to c_count, (count + 1,); lines that were not measured are 0."""
        found = np.zeros(count + 1, np.complex128)
        for row in _opened(self.table):
            order = round(row[0] / self.frequency_hz)
            if order <= count:
                turned = np.exp(1j * math.radians(row[2])) if len(row) > 2 else 1.0
                found[order] += row[1] * (math.sqrt(0.5) * turned if order else 1.0)
        return found


def _opened(table: Table) -> tuple[tuple[float, ...], ...]:
    if table.rows is None:
        raise DataError(f"{table.file}: found a file that was not opened; accepted: an opened one")
    return table.rows


WAVE_FILE = TableFile(columns=(2,), names="time in s, voltage or current")
SPECTRUM_FILE = TableFile(columns=(2, 3), names="frequency in Hz, rms, and if known phase in degrees")
