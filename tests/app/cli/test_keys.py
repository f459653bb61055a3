"""`isthmus keys`: all that a case file can have."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from app.cli.main import main
from app.present.key_help import matching, tables
from models.case.document import Case
from models.case.requirement import DEMANDS, Requirement, RequirementTable
from models.codec import ListOf
from models.declare import Table, keys_of
from models.parts.measured import Measured
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


def reached(of: type) -> Iterator[type]:
    """Yield the class and every class that its keys hold, so far as no kind decides."""
    yield of
    for key in keys_of(of).values():
        inner = key.codec.item if isinstance(key.codec, ListOf) else key.codec
        if isinstance(inner, Table):
            yield from reached(inner.of)
        elif isinstance(inner, RequirementTable):
            yield Requirement


def test_every_table_that_a_file_can_have_is_listed_and_every_key_says_what_it_accepts() -> None:
    listed = [[each.key for each in table.keys] for table in tables()]
    for of in (Case, Measured, *part_kinds().values(), *source_kinds().values()):
        for inner in reached(of):
            head = ["isthmus"] if inner is Case else []
            assert head + list(keys_of(inner)) in listed, inner
    names = {table.name for table in tables()}
    assert {"part measured", "part catalogue"} <= names
    assert all(each.accepted for table in tables() for each in table.keys if table.name != "kinds of requirement")


def test_what_is_accepted_is_said_in_words() -> None:
    said = {(table.name, each.key): each.accepted for table in tables() for each in table.keys}
    assert said["[[cable]]", "far_end"] == '"open" or "earthed" or "lisn" or a resistance'
    assert said["source crossing-signal", "count"] == "a whole number, 1 to 1000"
    assert said["[[requirement]]", "limit"] == "a value in the unit of its kind"
    assert said["[sweep]", "points_per_decade"] == said["source switch-node", "ringing_q"] == "a number"
    assert said["[[transformer]]", "driven_fraction"].startswith("a ratio")


def test_a_key_stands_whole_on_its_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["keys"]) == 0
    words = {line.split()[0] for line in capsys.readouterr().out.splitlines() if line.strip()}
    assert {each.key for table in tables() for each in table.keys} <= words


def test_a_name_picks_tables_kinds_and_keys() -> None:
    assert {table.name for table in matching("bead")} >= {"part bead", "cells of a bead or a choke"}
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
