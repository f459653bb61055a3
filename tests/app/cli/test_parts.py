"""`isthmus parts`: lists, filters, and stays light."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from app.cli.main import main
from models.case.read import parse_case


def test_everything_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts"]) == 0
    out = capsys.readouterr().out
    assert "bead-0603-600r-signal" in out
    assert "transformer-planar" in out
    assert "not a certification" in out.replace("\n", " ")


def test_only_one_kind_with_all_the_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "--kind", "safety-capacitor", "--contains", "disc 2.2", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["parts"]
    assert {each["id"] for each in found} == {"y1-disc-2n2", "y1-disc-2n2-long", "y2-disc-2n2"}
    assert all(each["caution"] and each["note"] and each["figures"] for each in found)


def test_what_json_gives_is_what_a_case_takes(capsys: pytest.CaptureFixture[str]) -> None:
    import tomlkit

    assert main(["parts", "--json"]) == 0
    for each in json.loads(capsys.readouterr().out)["parts"]:
        if "part" in each:
            branch = {"parts": [each["part"]]}
            case = {"isthmus": 1, "pair": {"a": "a", "b": "b"}, "candidate": [{"name": "x", "branch": [branch]}]}
            assert parse_case(tomlkit.dumps(case)).candidates[0].branches[0].parts[0].kind == each["kind"]
        else:
            assert each["transformer"]["interwinding_capacitance"]


def test_an_unknown_kind_is_bad_usage(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", "--kind", "valve"]) == 2
    error = capsys.readouterr().err
    assert 'found "valve"' in error
    assert "safety-capacitor" in error


def test_a_broken_own_file_is_said_and_the_rest_is_listed(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "broken.toml").write_text("x", encoding="utf-8")
    monkeypatch.setenv("ISTHMUS_CATALOGUE", str(tmp_path))
    assert main(["parts", "--kind", "bead"]) == 0
    captured = capsys.readouterr()
    assert captured.err.count("\n") == 1
    assert "broken.toml" in captured.err
    assert "bead-0603-600r-signal" in captured.out


def test_it_loads_neither_qt_nor_scipy() -> None:
    code = (
        "import sys; from app.cli.main import main; main(['parts', '--kind', 'bead', '--json']); "
        "bad = [name for name in ('PySide6', 'scipy', 'skrf', 'tomlkit') if name in sys.modules]; "
        "sys.exit(str(bad) if bad else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
