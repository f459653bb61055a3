"""Odd Touchstone files are read right, or refused in one clear sentence."""

from __future__ import annotations

import io
import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from models.errors import DataError
from models.fitting.load import load_measurement
from models.fitting.touchstone import read_touchstone
from tests.files.touchstone.make import FOLDER, Bad, Good, bad_files, good_files

GOOD = good_files()
BAD = bad_files()
ALL: list[Good | Bad] = [*GOOD, *BAD]


def test_there_are_enough_and_no_name_twice() -> None:
    names = [entry.name.lower() for entry in ALL]
    assert len(names) == len(set(names))
    assert len(GOOD) >= 50
    assert len(BAD) >= 40


@pytest.mark.parametrize("entry", ALL, ids=lambda entry: entry.name)
def test_the_file_in_the_folder_is_the_one_made_here(entry: Good | Bad) -> None:
    assert (FOLDER / entry.name).read_bytes() == entry.data


@pytest.mark.parametrize("entry", GOOD, ids=lambda entry: entry.name)
def test_reads_right(entry: Good) -> None:
    measurement = read_touchstone(FOLDER / entry.name, entry.connection)
    np.testing.assert_allclose(measurement.f_hz, entry.f_hz, rtol=1e-12)
    np.testing.assert_allclose(measurement.z_ohm, entry.z_ohm, rtol=1e-6)
    if entry.says:
        assert entry.says in " | ".join(measurement.warnings)
    else:
        assert measurement.warnings == ()


@pytest.mark.parametrize("entry", BAD, ids=lambda entry: entry.name)
def test_refuses_in_one_sentence(entry: Bad) -> None:
    with pytest.raises(DataError) as caught:
        read_touchstone(FOLDER / entry.name, entry.connection)
    message = str(caught.value)
    assert message.startswith(entry.name)
    assert "\n" not in message
    assert ": found " in message
    assert "; accepted: " in message
    for words in entry.says:
        assert words in message


@pytest.mark.parametrize("entry", [entry for entry in GOOD if entry.plain], ids=lambda entry: entry.name)
def test_agrees_with_the_general_reader(entry: Good) -> None:
    from skrf import Network

    text = io.StringIO(entry.data.decode("utf-8-sig").replace("\r\n", "\n"))
    text.name = entry.name
    measurement = read_touchstone(FOLDER / entry.name, entry.connection)
    np.testing.assert_allclose(measurement.z_ohm, Network(text).z[:, 0, 0], rtol=1e-9)


def test_refuses_an_unknown_connection() -> None:
    with pytest.raises(DataError, match="accepted: one-port, series-thru, shunt-thru"):
        read_touchstone(FOLDER / "utf8.s1p", "thru")


def test_refuses_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(DataError, match=r"nothing\.s1p: found no such file"):
        read_touchstone(tmp_path / "nothing.s1p", "one-port")


def test_refuses_a_file_that_is_too_large(tmp_path: Path) -> None:
    path = tmp_path / "huge.s1p"
    with path.open("wb") as file:
        file.truncate(33 * 2**20)
    with pytest.raises(DataError, match=r"huge\.s1p: found more than 32 MB; accepted: files of at most 32 MB"):
        read_touchstone(path, "one-port")


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="needs a device without end")
def test_refuses_a_device_without_end(tmp_path: Path) -> None:
    path = tmp_path / "endless.s1p"
    path.symlink_to("/dev/zero")
    with pytest.raises(DataError, match=r"endless\.s1p: found more than 32 MB"):
        read_touchstone(path, "one-port")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes with a name")
@pytest.mark.parametrize(
    "text", ["# Hz Z RI R 1\n1e6 3 4\n2e6 3 8\n", "f (Hz),R (ohm),X (ohm)\n1e6,3,4\n2e6,3,8\n"], ids=["s1p", "csv"]
)
def test_reads_a_pipe_once(text: str, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with ThreadPoolExecutor() as writer:
        writer.submit(pipe.write_text, text)
        assert load_measurement(pipe).z_ohm.tolist() == [3 + 4j, 3 + 8j]


def test_refuses_a_name_that_no_file_can_have() -> None:
    with pytest.raises(DataError, match=r"found embedded null byte"):
        read_touchstone("a\0b.s1p", "one-port")
