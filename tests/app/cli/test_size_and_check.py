from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.cli.main import main
from models.assets import CASES

CLASS_II = str(CASES / "class-ii-supply.toml")


def test_size_prints_the_contract(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", CLASS_II, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert {"least_f", "most_f", "standard_values_f", "interwinding_f", "why"} <= set(found)
    assert found["least_f"] < found["most_f"]
    assert found["standard_values_f"] == [1.5e-9]
    assert found["interwinding_f"] == 110e-12


def test_size_as_text_carries_its_caution(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", CLASS_II]) == 0
    printed = capsys.readouterr().out
    assert "1.5 nF" in printed
    assert "not a certification" in printed


def test_size_of_an_unfit_candidate_is_bad_usage(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", CLASS_II, "--candidate", "Copper"]) == 2
    assert "exactly one capacitor" in capsys.readouterr().err


def test_check_fails_where_a_requirement_is_not_met(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", CLASS_II]) == 1
    printed = capsys.readouterr().out
    assert "FAIL  Touch current" in printed
    assert "only at nominal values" in printed


def test_check_passes_for_the_candidate_that_meets_all(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", CLASS_II, "--candidate", "Y-capacitor 1.5 nF"]) == 0
    assert "FAIL" not in capsys.readouterr().out


@pytest.mark.parametrize("command", ["check", "size"])
def test_bad_input_is_status_2(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text("isthmus = 1\n[pair]\na = 3\n", encoding="utf-8")
    assert main([command, str(broken)]) == 2
    assert "pair.a" in capsys.readouterr().err


def test_check_of_an_unknown_candidate_names_the_known(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", CLASS_II, "--candidate", "x"]) == 2
    assert '"Nothing"' in capsys.readouterr().err
