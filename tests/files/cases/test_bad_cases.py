"""Every broken case ends in messages of one line each: which file, where, what was found, what is accepted."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from app.cli.main import main
from tests.files.cases.bad import BAD, GOOD, Bad, odd_paths

LINE = re.compile(r"isthmus: .+?: ((line \d+, )?\S.*: )?found \S.*; accepted: \S.*")


def refused(path: Path, capsys: pytest.CaptureFixture[str], *options: str) -> list[str]:
    """Return the lines of the message, after checking that the file was refused as any bad file is."""
    assert main(["evaluate", str(path), *options]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    lines = said.err.splitlines()
    assert lines
    assert all(LINE.fullmatch(line) for line in lines), said.err
    return lines


def test_there_are_enough_of_them() -> None:
    assert len(BAD) >= 60
    assert len({bad.id for bad in BAD}) == len(BAD)


def test_what_they_are_made_from_is_right(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "good.toml"
    path.write_text(GOOD)
    assert main(["evaluate", str(path)]) == 0
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad.id)
def test_bad_case(bad: Bad, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(bad.raw)
    lines = refused(path, capsys)
    assert any(bad.where in _place(line) and bad.found in _found(line) for line in lines), lines
    assert all(line.startswith("isthmus: bad.toml: ") for line in lines)


def _place(line: str) -> str:
    return line.partition(": found ")[0]


def _found(line: str) -> str:
    return line.partition(": found ")[2].partition("; accepted: ")[0]


def test_no_case_at_odd_paths(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path, found in odd_paths(tmp_path):
        (line,) = refused(path, capsys)
        assert found in line


def test_every_problem_is_told_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(
        GOOD.replace('"0.2 ohm"', '"0.2 V"').replace("duty = 0.5", "duty = -1").replace("count = 2", "many = 2")
    )
    assert [_place(line).split(", ")[1] for line in refused(path, capsys)] == [
        "candidate[0].branch[0].parts[0].esr",
        "source[1].many",
        "source[1].duty",
    ]


def test_a_limit_of_no_known_kind_is_not_judged(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(GOOD.replace('"touch-current"', '"touch"'))
    (line,) = refused(path, capsys)
    assert "requirement[0].kind" in line


def test_many_problems_end_somewhere(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(GOOD + '[[coupling]]\nname = ""\n' * 190)
    assert len(refused(path, capsys)) == 50


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ('"2.2 nF"', '"2.2 nH"', 36),
        ('b = "secondary"', "b = 5", 6),
        ('name = "clock"', 'name = ""', 55),
        ('["1 MHz", "10 MHz"]', '["1 MHz", "10 V"]', 79),
        ('title = "right"', 'notes = """\n[pair]\na = 1\n"""\ntitle = 7', 6),
        ('title = "right"', "'quoted' = 1", 2),
    ],
)
def test_message_names_the_line(
    old: str, new: str, line: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(GOOD.replace(old, new))
    assert f"line {line}, " in refused(path, capsys)[0]


def test_bad_options_are_told_on_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "good.toml"
    path.write_text(GOOD)
    for options, says in (
        (["--at", "1 kV"], '"1 kV"'),
        (["--at", "1kHz,,2kHz"], '""'),
        (["--at", "2 THz"], "at most 1000 GHz"),
        (["--candidate", "nobody"], '"nobody"'),
        (["--colour"], "--colour"),
        (["more.toml"], "more.toml"),
    ):
        assert main(["evaluate", str(path), *options]) == 2
        said = capsys.readouterr()
        assert said.out == ""
        (line,) = said.err.splitlines()
        assert line.startswith("isthmus: ")
        assert says in line


def test_the_command_itself(tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(GOOD.replace('"2.2 nF"', '"2.2 nH"'))
    done = subprocess.run(
        [sys.executable, "-c", "from app.cli.main import run; run()", "evaluate", str(path)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert done.stdout == ""
    assert LINE.fullmatch(done.stderr.rstrip("\n"))
    assert "Traceback" not in done.stderr
