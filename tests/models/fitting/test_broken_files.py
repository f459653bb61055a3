"""However a file is broken, reading ends in a measurement or in one sentence."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from models.errors import DataError
from models.fitting.data import Measurement
from models.fitting.table import read_table
from models.fitting.touchstone import read_touchstone
from tests.files.touchstone.make import Good, good_files
from tests.models.fitting.test_table import READ

SCRAPS = (
    b"",
    b"\0",
    b"\xff",
    b"!",
    b"#",
    b"[",
    b"]",
    b"\n",
    b" ",
    b",",
    b"-",
    b"1e999",
    b"nan",
    b"0",
    b"-1e300",
    b";",
    b'"',
)


def broken(data: bytes, rng: np.random.Generator) -> bytes:
    """Cut a few bytes out and put scraps in."""
    for _ in range(int(rng.integers(1, 4))):
        place = int(rng.integers(0, len(data) + 1))
        data = data[:place] + SCRAPS[rng.integers(len(SCRAPS))] + data[place + int(rng.integers(0, 6)) :]
    return data


def check(read: Callable[[], Measurement]) -> None:
    try:
        found = read()
    except DataError as error:
        message = str(error)
    else:
        message = ""
        assert np.isfinite(found.z_ohm).all()
        assert (np.diff(found.f_hz) > 0).all()
    assert "\n" not in message


@pytest.mark.parametrize("entry", good_files(), ids=lambda entry: entry.name)
def test_touchstone(tmp_path: Path, entry: Good) -> None:
    rng = np.random.default_rng(sum(entry.data))
    path = tmp_path / entry.name
    for _ in range(40):
        path.write_bytes(broken(entry.data, rng))
        check(lambda: read_touchstone(path, entry.connection))


@pytest.mark.parametrize("name", READ)
def test_table(tmp_path: Path, name: str) -> None:
    data = READ[name][0].encode()
    rng = np.random.default_rng(sum(data))
    path = tmp_path / "data.csv"
    for _ in range(40):
        path.write_bytes(broken(data, rng))
        check(lambda: read_table(path))
