"""Commands on several files and folders."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.cli.main import main
from models.assets import CASES, DEMO_CASE
from tests.files.cases.bad import GOOD

SENSOR = CASES / "sensor-board.toml"
CLASS_II = CASES / "class-ii-supply.toml"


def test_one_file_keeps_the_object_of_the_contract(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["evaluate", str(DEMO_CASE), "--json", "--at", "1MHz"]) == 0
    found = set(json.loads(capsys.readouterr().out))
    assert found == {"case", "warnings", "candidates", "purpose", "recommendation"}


def test_several_files_come_as_a_list_in_their_order(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["evaluate", str(SENSOR), str(DEMO_CASE), "--json", "--at", "1MHz"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert set(found) == {"cases"}
    assert [each["file"] for each in found["cases"]] == [str(SENSOR), str(DEMO_CASE)]
    assert main(["evaluate", str(DEMO_CASE), "--json", "--at", "1MHz"]) == 0
    alone = json.loads(capsys.readouterr().out)
    assert {name: value for name, value in found["cases"][1].items() if name != "file"} == alone


def test_a_folder_is_a_list_even_of_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("b.toml", "a.TOML"):
        (tmp_path / name).write_text(DEMO_CASE.read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "notes.txt").write_text("no case")
    assert main(["evaluate", str(tmp_path), "--json", "--at", "1MHz", "--candidate", "Copper"]) == 0
    found = json.loads(capsys.readouterr().out)["cases"]
    assert [Path(each["file"]).name for each in found] == ["a.TOML", "b.toml"]
    (tmp_path / "b.toml").unlink()
    assert main(["evaluate", str(tmp_path), "--json", "--at", "1MHz", "--candidate", "Copper"]) == 0
    assert len(json.loads(capsys.readouterr().out)["cases"]) == 1


def test_tables_of_several_files_carry_their_names(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["evaluate", str(SENSOR), str(DEMO_CASE)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines.index(str(SENSOR)) < lines.index(str(DEMO_CASE))


def test_check_fails_where_one_of_several_fails(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    good = tmp_path / "good.toml"
    good.write_text(
        'isthmus = 1\n[pair]\na = "x"\nb = "y"\n[[candidate]]\nname = "Copper"\n'
        '[[candidate.branch]]\nparts = [ { kind = "copper", resistance = "1 mohm" } ]\n'
    )
    assert main(["check", str(good)]) == 0
    assert main(["check", str(good), str(CLASS_II)]) == 1
    printed = capsys.readouterr().out
    assert str(good) in printed
    assert str(CLASS_II) in printed
    assert main(["check", str(good), str(good)]) == 0


@pytest.mark.parametrize("command", ["check", "evaluate"])
def test_every_broken_file_is_told_and_nothing_is_done(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, second = tmp_path / "first.toml", tmp_path / "second.toml"
    first.write_text("isthmus = 1\n[pair]\na = 3\n")
    second.write_text("isthmus = 2\n")
    assert main([command, str(first), str(DEMO_CASE), str(second)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert f"{first}: line 3, pair.a: found 3" in said.err
    assert f"{second}: line 1, isthmus: found 2" in said.err


@pytest.mark.parametrize("command", ["check", "evaluate"])
def test_a_folder_without_a_case_is_bad_usage(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, str(tmp_path)]) == 2
    assert "no .toml file" in capsys.readouterr().err
    assert main([command]) == 2
    assert "CASES" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["evaluate", "check", "size", "export --what impedance", "sweep"])
def test_every_command_tells_what_a_reader_of_its_numbers_has_to_know(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "wire\n.toml"
    wire = 'name = "lead"\nregion = "primary"\nlength = 1\ndiameter = 1e-3\nfar_end = "earthed"\n'
    path.write_text(f"{GOOD}[[cable]]\n{wire}", encoding="utf-8")
    name, *options = command.split()
    more = ("--vary", "mains.voltage=120,230", "-o", str(tmp_path / "t.csv"), "--jobs", "1") if name == "sweep" else ()
    assert main([name, str(path), *options, *more]) in (0, 1)
    said = capsys.readouterr().err.splitlines()
    assert sum('cable "lead" has no height' in line for line in said) == 1
    assert all(line.startswith("isthmus: ") for line in said)
