"""Import of a measurement: what is asked for, and what comes of it. No Qt; the work may run in another thread."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from attrs import frozen

from models.errors import DataError
from models.fitting.as_part import fitted_part
from models.fitting.checks import guess_kind
from models.fitting.data import Measurement
from models.fitting.fit import fit_part
from models.fitting.load import load_measurement
from models.fitting.result import FitResult
from models.parts.measured import Measured
from models.parts.measured_file import opened
from models.parts.part import Part


@frozen(kw_only=True)
class ImportRequest:
    """A measurement to be fitted: a file, or points that were read elsewhere."""

    source: Path | Measurement
    connection: str = "one-port"
    kind: str | None = None
    """None for what the data looks like."""
    from_hz: float | None = None
    to_hz: float | None = None
    rdc_ohm: float | None = None


@frozen(kw_only=True, eq=False)
class Imported:
    """A measurement and its fit."""

    request: ImportRequest
    measurement: Measurement
    """All of it; the fit is to the part inside the range that was asked for."""
    result: FitResult
    part: Part

    @property
    def file(self) -> Path | None:
        """The file it came from; None for points read elsewhere."""
        return self.request.source if isinstance(self.request.source, Path) else None


def run_import(request: ImportRequest, tell: Callable[[str], None]) -> Imported:
    """Read and fit, telling how far it is.

    Raises
    ------
    DataError
        where the data cannot be read or fitted
    """
    source = request.source
    if isinstance(source, Path):
        tell(f"Reading {source.name} …")
        source = load_measurement(source, request.connection)
    used = source.within(request.from_hz, request.to_hz)
    kind = request.kind or guess_kind(used)
    tell(f"Fitting {used.f_hz.size} points as {kind} …")
    result = fit_part(used, kind, rdc_ohm=request.rdc_ohm)
    part = fitted_part(result)
    tell("")
    return Imported(request=request, measurement=source, result=result, part=part)


def first_connection(path: Path) -> str:
    """Return the connection to begin with: a two-port file holds a part between or across its ports."""
    return "series-thru" if path.suffix.lower() == ".s2p" else "one-port"


def measured_part(imported: Imported, folder: Path | None) -> Part:
    """Return the data itself as a part, its file named from the case's folder where that is near.

    Raises
    ------
    DataError
        where the points came from no file
    """
    file = imported.file
    if file is None:
        raise DataError("found points that no file holds; accepted: a measurement file")
    whole = file.resolve()
    name = str(whole)
    if folder is not None and whole.is_relative_to(folder.resolve()):
        name = whole.relative_to(folder.resolve()).as_posix()
    part = Measured(file=name, connection=imported.request.connection, rdc_ohm=imported.request.rdc_ohm)
    return opened(part, folder or Path())
