from __future__ import annotations

import json
import shlex
import tomllib
from typing import Any

import pytest

from app.cli.main import main
from models.case.document import Transformer
from models.codec import Place
from models.declare import keys_of, read_object
from models.estimate.registry import ESTIMATES
from models.parts.registry import part_kinds


def run(line: str) -> int:
    return main(["estimate", *shlex.split(line)])


def test_without_a_name_all_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("") == 0
    out = capsys.readouterr().out
    assert all(name in out for name in ESTIMATES)


@pytest.mark.parametrize("name", ESTIMATES)
def test_a_name_shows_every_value_with_its_default(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(name) == 0
    out = capsys.readouterr().out
    assert all(key in out for key in keys_of(ESTIMATES[name]))
    assert ESTIMATES[name]().result().equation in out


def test_values_give_result_equation_numbers_and_usual_error(capsys: pytest.CaptureFixture[str]) -> None:
    assert run('lead length=30mm diameter="0.6 mm"') == 0
    out = capsys.readouterr().out
    assert "Inductance 25.8 nH, usually −50 % to +5 %: 13 nH to 27 nH" in out
    assert "L = (µ0/2π)·l·[ln(4l/d) − 1]" in out
    assert "30 mm · [ln(200) − 1]" in out
    assert 'inductance = "25.8 nH"' in out


def test_what_touches_insulation_is_cautioned(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("pad count=2") == 0
    assert "Caution: " in capsys.readouterr().out


@pytest.mark.parametrize("name", ESTIMATES)
def test_the_lines_to_paste_are_read_back_by_a_case(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(f"{name} --json") == 0
    told = json.loads(capsys.readouterr().out)
    assert len(told["paste"]) == len(told["results"])
    for each, result in zip(told["paste"], told["results"], strict=True):
        found = tomllib.loads(each["lines"])
        problems: list[Any] = []
        of: type[Any]
        if "parts" in found:
            (plain,) = found["parts"]
            of = part_kinds()[plain.pop("kind")]
        else:
            plain = {"name": "T1", "between": ["a", "b"], "interwinding_capacitance": "1 pF", **found}
            of = Transformer
        made = read_object(of, plain, Place((), problems))
        assert problems == []
        key = keys_of(of)[result["key"]]
        assert getattr(made, key.path[0]) == pytest.approx(result["value"], rel=0.005)


def test_json_has_what_was_given_in_si_units(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("strap length=5cm --json") == 0
    told = json.loads(capsys.readouterr().out)
    assert told["given"]["length"] == 0.05
    assert told["given"]["height"] is None
    assert told["results"][0]["low"] < told["results"][0]["value"] < told["results"][0]["high"]


def test_json_lists_them_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--json") == 0
    assert [each["name"] for each in json.loads(capsys.readouterr().out)["estimates"]] == list(ESTIMATES)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("nonsense", 'found "nonsense"; accepted: interwinding, '),
        ("pad 30mm", 'found "30mm"; accepted: KEY=VALUE, such as length=…'),
        ("pad length=30xx", 'estimate pad: length: found "30xx"; accepted: a length'),
        ("pad length=30mm length=3mm", 'found "length" twice; accepted: each once'),
        ("pad length=0", 'estimate pad: length: found "0"; accepted: more than 0'),
        ("pad depth=3mm", "estimate pad: depth: found an unknown key; accepted: length, width"),
        ("pad count=many", 'estimate pad: count: found "many"; accepted: a whole number'),
        ("lead length=1mm", "estimate lead: length: found length 1 mm; accepted: more than 2 diameters"),
        (
            "driven-share nearest=cold",
            'estimate driven-share: nearest: found "cold"; accepted: "hot end" or "quiet end"',
        ),
    ],
)
def test_a_mistake_is_one_line_that_says_what_is_accepted(
    line: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(line) == 2
    err = capsys.readouterr().err
    assert said in err
    assert err.count("\n") == 1


def test_every_mistake_is_told_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("pad length=long width=wide") == 2
    assert capsys.readouterr().err.count("\n") == 2
