"""From the file of a measured part to its curve; read anew only when the file changes."""

from __future__ import annotations

import hashlib
import math
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from attrs import evolve

from models.errors import DataError
from models.file_names import seen_from
from models.parts.measured import Curve, Measured
from models.parts.part import Part

if TYPE_CHECKING:
    from models.fitting.data import Measurement

_QUARTER_TURN = 0.5 * np.pi
_FILES_KEPT = 32


def opened(part: Measured, folder: Path | None = None) -> Measured:
    """Return a measured part with what its file holds now.

    Parameters
    ----------
    part : with the file's name and the connection
    folder : where a relative name starts; the part's own by default

    Returns
    -------
    Measured

    Raises
    ------
    DataError
        Where the file cannot be read, or not as that connection.
    QuantityError
        Where the data contradicts the part's other keys.
    """
    start = Path(part.folder) if folder is None else folder
    return evolve(part, folder=str(start), curve=read_curve(start / part.file, part.connection))


def read_curve(path: Path, connection: str) -> Curve:
    """Read a measurement and fit what goes on beyond it; raises DataError where that cannot be done."""
    try:
        stat = path.stat()
    except OSError as error:
        raise DataError(
            f"{path.name}: found {(error.strerror or 'an error').lower()}; accepted: a file that can be read"
        ) from None
    return _read(path.resolve(), connection, stat.st_mtime_ns, stat.st_size)


def relocated(part: Part, folder: Path) -> Part:
    """Return a measured part as a case in another folder has to name its file; any other part as it is."""
    if not isinstance(part, Measured):
        return part
    name = seen_from(part.file, Path(part.folder), folder)
    return part if name == part.file else evolve(part, file=name, folder=str(folder))


@lru_cache(maxsize=_FILES_KEPT)
def _read(path: Path, connection: str, changed_ns: int, size: int) -> Curve:  # noqa: ARG001
    """Read a file in one state; the time of its last change and its size tell states apart."""
    from models.fitting.load import load_measurement

    return curve_of(load_measurement(path, connection))


def curve_of(measurement: Measurement) -> Curve:
    """Return the curve of a measurement, with its fit; a magnitude alone takes the phase of the fit.

    Raises
    ------
    DataError
        Where it cannot be fitted.
    """
    from models.fitting.as_part import fitted_part
    from models.fitting.checks import guess_kind
    from models.fitting.fit import fit_part

    result = fit_part(measurement, guess_kind(measurement))
    model = fitted_part(result)
    z = measurement.z_ohm
    phase = np.angle(z if measurement.has_phase else model.impedance(math.tau * measurement.f_hz))
    log_z = np.log(np.abs(z)) + 1j * np.clip(phase, -_QUARTER_TURN, _QUARTER_TURN)
    digest = hashlib.sha256(measurement.f_hz.tobytes() + log_z.tobytes()).hexdigest()
    return Curve(
        digest=digest,
        model=model,
        log_f=np.log(measurement.f_hz),
        log_z=np.asarray(log_z, np.complex128),
        error_db=result.rms_error_db,
        warnings=result.warnings,
    )
