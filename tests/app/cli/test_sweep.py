"""`isthmus sweep`: the table, errors, an interruption and its resume."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from app.cli import sweep as command
from app.cli.main import main
from app.sweep.here import Here, Kept
from models.assets import DEMO_CASE

C = "candidate[1].branch[0].parts[0].capacitance"


def run(*arguments: str | Path) -> int:
    return main(["sweep", str(DEMO_CASE), "--jobs", "1", *map(str, arguments)])


def table(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def test_a_grid_becomes_a_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "table.csv"
    assert run("--vary", f"{C}=1n..10n:E6", "--vary", "mains.voltage=120,230", "--at", "1MHz", "-o", path) == 0
    rows = table(path)
    assert len(rows) == 7 * 2 * 5
    assert {row["mains.voltage (V)"] for row in rows} == {"120.0", "230.0"}
    said = capsys.readouterr()
    assert said.out == ""
    assert "14 of 14 points" in said.err


def test_a_frequency_that_is_named_twice_has_one_column(tmp_path: Path) -> None:
    path = tmp_path / "table.csv"
    assert run("--vary", f"{C}=1n", "--what", "impedance", "--at", "1MHz,1000kHz,2MHz", "-o", path) == 0
    heads = path.read_text(encoding="utf-8").splitlines()[0].split(",")
    assert len(heads) == len(set(heads))
    assert "bridge_re_ohm at 2 MHz" in heads


def test_set_and_points_and_groups(tmp_path: Path) -> None:
    points, path = tmp_path / "points.csv", tmp_path / "table.csv"
    points.write_text(f"{C},candidate[1].branch[0].parts[0].esl\n1n,9nH\n2n2,20 nH\n", encoding="utf-8")
    assert run("--points", points, "--set", "mains.voltage=120 V", "--what", "touch-current", "-o", path) == 0
    rows = table(path)
    assert [row["candidate"] for row in rows] == ["Y-capacitor 1 nF"] * 2
    assert "bridge_dc_ohm" not in rows[0]
    plain = tmp_path / "plain.csv"
    assert run("--vary", f"{C}=1n", "--vary", "mains.voltage=120", "--what", "touch-current", "-o", plain) == 0
    same = next(row for row in table(plain) if row["candidate"] == "Y-capacitor 1 nF")
    assert rows[0]["touch_unweighted_a_rms"] == same["touch_unweighted_a_rms"]


def test_processes_write_the_same_bytes(tmp_path: Path) -> None:
    one, two = tmp_path / "one.csv", tmp_path / "two.csv"
    options = ("--vary", f"{C}=1n..2n:250", "--what", "impedance", "--at", "1MHz")
    assert run(*options, "-o", one) == 0
    assert main(["sweep", str(DEMO_CASE), "--jobs", "2", *options, "-o", str(two)]) == 0
    assert one.read_bytes() == two.read_bytes()


class Interrupted:
    """An executor during whose third call someone presses Ctrl-C."""

    def __init__(self) -> None:
        self._calls = 0

    def submit(self, fn: Callable[..., Any], /, *args: Any) -> Kept:
        self._calls += 1
        if self._calls == 3:
            raise KeyboardInterrupt
        return Here().submit(fn, *args)


def test_ctrl_c_keeps_what_is_done_and_resume_ends_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    @contextmanager
    def workers(_jobs: int | None, _cluster: str | None) -> Iterator[tuple[Interrupted, int]]:
        yield Interrupted(), 1

    path, whole = tmp_path / "table.csv", tmp_path / "whole.csv"
    options = ("--vary", f"{C}=1n..2n:450", "--what", "impedance")
    with monkeypatch.context() as patch:
        patch.setattr(command, "_workers", workers)
        assert run(*options, "-o", path) == 130
        assert "stopped at 200 of 450 points; --resume" in capsys.readouterr().err
        assert not path.exists()
        assert run(*options, "-o", path) == 2
        assert "unfinished" in capsys.readouterr().err
        assert run(*options, "-o", path, "--resume") == 130
        assert "stopped at 400" in capsys.readouterr().err
    assert run(*options, "-o", path, "--resume") == 0
    assert run(*options, "-o", whole) == 0
    assert path.read_bytes() == whole.read_bytes()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((), "--vary"),
        (("--vary", "mains.volts=1,2"), "voltage, frequency"),
        (("--vary", f"{C}=1 ohm,2"), C),
        (("--vary", f"{C}=1n,2n", "--set", "x"), "PATH=VALUE"),
        (("--vary", f"{C}=1n,2n", "--set", "mains.voltage=9 kV"), "mains.voltage"),
        (("--vary", f"{C}=1n,2n", "--set", "title=a", "--set", "title=b"), 'found "title" twice'),
        (("--vary", f"{C}=1n,2n", "--what", "all"), "touch-current"),
        (("--vary", f"{C}=1n,2n", "--candidate", "copper"), '"Copper"'),
        (("--vary", f"{C}=1n,2n", "--at", "1 V"), "--at"),
        (("--points", "missing.csv"), "missing.csv"),
        (("--vary", f"{C}=1n,2n", "--cluster", "tcp://x:1"), "pip install distributed"),
    ],
)
def test_what_is_wrong_ends_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], said: str
) -> None:
    assert run(*arguments, "-o", tmp_path / "table.csv") == 2
    text = capsys.readouterr().err
    assert said in text
    assert text.count("\n") == 1
    assert not (tmp_path / "table.csv").exists()
