"""One door to measured data of any kind: Touchstone by its option line or name, anything else as a table."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from attrs import evolve

from models.fitting.data import Measurement
from models.fitting.table import read_table
from models.fitting.textfile import read_lines
from models.fitting.touchstone import read_touchstone

ONE_PORT = "one-port"
_NAME = re.compile(r"\.([syzgh]\d{1,3}p|ts)$", re.IGNORECASE)
_OPTION_LINE = re.compile(r"#(\s+([kmg]?hz|[syzgh]|ma|db|ri|r(\s+[\d.e+-]+)+))+\s*(!.*)?$", re.IGNORECASE)
_LINES_LOOKED_AT = 200


def load_measurement(path: str | Path, connection: str | None = None) -> Measurement:
    """Read measured impedance from a Touchstone file or from a table of numbers.

    Parameters
    ----------
    path : file
    connection : how the part was connected, for Touchstone; one-port by default. A table holds impedances, and one
        port is what it stands for

    Returns
    -------
    Measurement

    Raises
    ------
    DataError
        In one sentence, for anything that cannot be read right.

    Notes
    -----
    Source: the readers themselves, `read_touchstone` and `read_table`.
    """
    lines = read_lines(path)
    if is_touchstone(path, lines):
        return read_touchstone(path, connection or ONE_PORT, lines=lines)
    measurement = read_table(path, lines=lines)
    if connection in (None, ONE_PORT):
        return measurement
    said = f"a table holds impedances: the connection {connection} is not used"
    return evolve(measurement, warnings=(*measurement.warnings, said))


def is_touchstone(path: str | Path, lines: Sequence[str]) -> bool:
    """Return whether a file is Touchstone: by its name, or by the option line or version at its head."""
    if _NAME.search(Path(path).name):
        return True
    head = (line.strip() for line in lines[:_LINES_LOOKED_AT])
    return any(_OPTION_LINE.match(line) or line.lower().startswith("[version]") for line in head)
