"""The table: whole or not there, and after any interruption the same to the last digit."""

from __future__ import annotations

import csv
import importlib.util
import json
import math
from pathlib import Path

import pytest

from app.sweep.columns import Columns
from app.sweep.faults import SweepError
from app.sweep.here import Here
from app.sweep.plan import Plan, make_plan
from app.sweep.run import run
from app.sweep.table import Table
from app.sweep.values import axis
from models.assets import DEMO_CASE
from models.case.read import load_case

DEMO = load_case(DEMO_CASE)
C = "candidate[1].branch[0].parts[0].capacitance"


def plan(values: str = "100p..10n:350", groups: tuple[str, ...] = ("impedance", "touch-current")) -> Plan:
    return make_plan(DEMO, (axis(DEMO, f"{C}={values}"),), Columns(groups=groups))


def write(asked: Plan, path: Path, *, chunks: int = 10_000, resume: bool = False) -> None:
    """Write a table, or only so many chunks of it."""
    with Table(path, asked.headings, asked.fingerprint(), resume=resume) as table:
        for number, done in enumerate(run(asked, Here(), start=table.done, ahead=1), start=1):
            table.add(done)
            if number == chunks:
                return
        table.finish()


def whole(asked: Plan, tmp_path: Path) -> bytes:
    path = tmp_path / "whole.csv"
    write(asked, path)
    return path.read_bytes()


def test_the_table_has_every_number_in_full(tmp_path: Path) -> None:
    asked = plan()
    lines = list(csv.reader(whole(asked, tmp_path).decode().splitlines()))
    assert tuple(lines[0]) == asked.headings
    expected = [row for done in run(asked, Here()) for row in done.rows]
    assert len(lines) == 351
    for line, row in zip(lines[1:], expected, strict=True):
        for cell, value in zip(line, row, strict=True):
            assert cell == "" if value is None else str(value).lower() == cell.lower()
    assert float(lines[5][1]) == expected[4][1]
    assert list(tmp_path.iterdir()) == [tmp_path / "whole.csv"]


def test_two_at_once_do_not_write_the_same_table(tmp_path: Path) -> None:
    pytest.importorskip("fcntl")
    asked = plan()
    path = tmp_path / "table.csv"
    with Table(path, asked.headings, asked.fingerprint(), resume=False) as table:
        table.add(next(run(asked, Here())))
        before = {each: each.read_bytes() for each in tmp_path.iterdir()}
        with pytest.raises(SweepError, match="another sweep that is writing it now"):
            Table(path, asked.headings, asked.fingerprint(), resume=True)
        (tmp_path / "table.csv.part.json").unlink()
        with pytest.raises(SweepError, match="another sweep that is writing it now"):
            Table(path, asked.headings, asked.fingerprint(), resume=False)
        assert (tmp_path / "table.csv.part").read_bytes() == before[tmp_path / "table.csv.part"]
        table.add(list(run(asked, Here()))[1])
    write(asked, path, resume=True)
    assert path.read_bytes() == whole(asked, tmp_path)


def test_until_it_is_whole_it_has_no_name(tmp_path: Path) -> None:
    path = tmp_path / "table.csv"
    write(plan(), path, chunks=2)
    assert not path.exists()
    journal = json.loads((tmp_path / "table.csv.part.json").read_text())
    assert journal["points"] == 200
    assert (tmp_path / "table.csv.part").stat().st_size == journal["bytes"]


@pytest.mark.parametrize("torn", [b"", b"200,1e-", b"garbage\n" * 500])
def test_resumed_is_the_same_to_the_last_digit(tmp_path: Path, torn: bytes) -> None:
    asked, path = plan(), tmp_path / "table.csv"
    for _ in range(2):
        write(asked, path, chunks=1, resume=True)
        with path.with_name("table.csv.part").open("ab") as stream:
            stream.write(torn)
    write(asked, path, resume=True)
    assert path.read_bytes() == whole(asked, tmp_path)
    assert sorted(each.name for each in tmp_path.iterdir()) == ["table.csv", "whole.csv"]


def test_an_unfinished_table_is_not_overwritten_by_accident(tmp_path: Path) -> None:
    path = tmp_path / "table.csv"
    write(plan(), path, chunks=1)
    with pytest.raises(SweepError, match=r"unfinished sweep.*--resume"):
        write(plan(), path)


def test_only_the_same_sweep_goes_on(tmp_path: Path) -> None:
    path = tmp_path / "table.csv"
    write(plan(), path, chunks=1)
    with pytest.raises(SweepError, match="another sweep"):
        write(plan("100p..10n:351"), path, resume=True)
    with pytest.raises(SweepError, match="another sweep"):
        write(plan(groups=("impedance",)), path, resume=True)


@pytest.mark.parametrize("text", ["", "{}", "[]", '{"fingerprint": 1, "points": "x", "bytes": 2}'])
def test_a_broken_journal_is_said_to_be_one(tmp_path: Path, text: str) -> None:
    path = tmp_path / "table.csv"
    write(plan(), path, chunks=1)
    path.with_name("table.csv.part.json").write_text(text)
    with pytest.raises(SweepError, match="no journal"):
        write(plan(), path, resume=True)


def test_a_part_that_lost_its_end_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "table.csv"
    write(plan(), path, chunks=1)
    part = path.with_name("table.csv.part")
    part.write_bytes(part.read_bytes()[:-10])
    with pytest.raises(SweepError, match="less than was written"):
        write(plan(), path, resume=True)


def test_other_endings_and_closed_folders_are_refused(tmp_path: Path) -> None:
    with pytest.raises(SweepError, match=r"\.csv or \.parquet"):
        write(plan(), tmp_path / "table.xls")
    with pytest.raises(SweepError, match="No such file"):
        write(plan(), tmp_path / "nowhere" / "table.csv")


@pytest.mark.skipif(importlib.util.find_spec("pyarrow") is not None, reason="pyarrow is here")
def test_parquet_without_its_library_is_refused_before_any_work(tmp_path: Path) -> None:
    with pytest.raises(SweepError, match="pip install pyarrow"):
        write(plan(), tmp_path / "table.parquet")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(importlib.util.find_spec("pyarrow") is None, reason="pyarrow is an extra")
def test_parquet_holds_the_same_numbers(tmp_path: Path) -> None:
    import pyarrow.parquet

    asked, path = plan(), tmp_path / "table.parquet"
    write(asked, path, chunks=1)
    write(asked, path, resume=True)
    found = pyarrow.parquet.read_table(path).to_pydict()
    expected = [row for done in run(asked, Here()) for row in done.rows]
    for place, name in enumerate(asked.headings):
        wanted = [row[place] if row[place] != "" else None for row in expected]
        assert all(a == b or (a is None and b is None) for a, b in zip(found[name], wanted, strict=True)), name
    assert not any(math.isnan(value) for value in found[f"{C} (F)"])
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(importlib.util.find_spec("pyarrow") is None, reason="pyarrow is an extra")
def test_names_of_digits_stay_names_in_parquet(tmp_path: Path) -> None:
    import pyarrow.parquet

    asked = make_plan(DEMO, (axis(DEMO, "candidate[1].name=007,12"),), Columns(groups=("impedance",)))
    write(asked, tmp_path / "table.parquet")
    found = pyarrow.parquet.read_table(tmp_path / "table.parquet").to_pydict()
    assert found["candidate"] == found["candidate[1].name"] == ["007", "12"]
    assert found["problem"] == [None, None]
