from __future__ import annotations

import pytest

from app.cli.main import main
from app.present.key_help import matching, tables
from models.case.requirement import DEMANDS
from models.declare import keys_of
from models.parts.registry import part_kinds
from models.sources.registry import source_kinds


def test_every_key_of_every_kind_is_described() -> None:
    by_name = {table.name: table for table in tables()}
    for what, kinds in (("part", part_kinds()), ("source", source_kinds())):
        for kind, of in kinds.items():
            listed = by_name[f"{what} {kind}"]
            assert [each.key for each in listed.keys] == list(keys_of(of))
            assert all(each.meaning for each in listed.keys)
    assert {each.key for each in by_name["kinds of requirement"].keys} == set(DEMANDS)


def test_a_name_picks_tables_kinds_and_keys() -> None:
    assert {table.name for table in matching("bead")} >= {"part bead", "cells of a bead"}
    assert "part capacitor" in {table.name for table in matching("esl")}


def test_defaults_and_accepted_forms_are_said() -> None:
    (capacitor,) = (table for table in tables() if table.name == "part capacitor")
    keys = {each.key: each for each in capacitor.keys}
    assert keys["capacitance"].default == "required"
    assert keys["esl"].default == "0 H"
    assert "inductance" in keys["esl"].accepted
    assert '"Y1"' in keys["safety_class"].accepted


def test_the_command_prints_them(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["keys", "mains"]) == 0
    assert "touched" in capsys.readouterr().out


def test_an_unknown_name_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["keys", "nonsense"]) == 2
    assert capsys.readouterr().err.count("\n") == 1
