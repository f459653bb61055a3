"""Ranges, standard values, lists, and tables of points."""

from __future__ import annotations

import itertools
import math
from pathlib import Path
from typing import Any

import pytest

from app.sweep.faults import SweepError
from app.sweep.values import axis, listed
from models.assets import DEMO_CASE
from models.case.read import load_case

DEMO = load_case(DEMO_CASE)
C = "candidate[1].branch[0].parts[0].capacitance"


def values(text: str) -> list[Any]:
    return [row[0] for row in axis(DEMO, text).rows]


def test_a_range_is_even_over_the_logarithm() -> None:
    found = values(f"{C}=100pF..10nF:41")
    assert (found[0], found[-1], len(found)) == (100e-12, 10e-9, 41)
    ratios = [b / a for a, b in itertools.pairwise(found)]
    assert ratios == pytest.approx([math.pow(100.0, 1 / 40)] * 40)


def test_a_range_can_be_even_itself() -> None:
    assert values("source[0].duty=0.1..0.5:5:lin") == pytest.approx([0.1, 0.2, 0.3, 0.4, 0.5])
    assert values("source[0].rise=0..4n:3:lin") == pytest.approx([0.0, 2e-9, 4e-9])


def test_standard_values_lie_within() -> None:
    assert values(f"{C}=1n..5n:E6") == [1e-9, 1.5e-9, 2.2e-9, 3.3e-9, 4.7e-9]


def test_lists_of_quantities_numbers_and_words() -> None:
    assert values(f"{C}=1n5, 2.2 nF,3.3e-9") == [1.5e-9, 2.2e-9, 3.3e-9]
    assert values("coupling[1].parts[0].count=2..5") == [2, 3, 4, 5]
    assert values("candidate[1].branch[0].parts[0].safety_class=Y1,Y2") == ["Y1", "Y2"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (C, "no values"),
        (f"{C}=", "no values"),
        (f"{C}=10nF..100pF:4", "does not rise"),
        (f"{C}=1nF..10nF", "count"),
        (f"{C}=1nF..10nF:1", "count"),
        (f"{C}=1nF..10nF:٤", "count"),
        (f"{C}=1nF..10nF:4:cubic", "count"),
        ("coupling[0].parts[0].esl=0..10nH:4", "from 0 over a logarithm"),
        (f"{C}=0..10nF:4", "more than 0"),
        (f"{C}=1nF..10nF:E7", "E3, E6"),
        (f"{C}=1.01nF..1.02nF:E3", "wider range"),
        (f"{C}=1mH,2mH", "1mH"),
        (f"{C}=1nF,-1nF", "0 or more"),
        ("mains.voltage=230..2000:3", "at most 1 kV"),
        ("mains.feeds=a..b:2", "a list"),
        ("coupling[1].parts[0].count=5..2", "backwards"),
        ("coupling[1].parts[0].count=1.5", "whole number"),
        ("candidate[1].branch[0].parts[0].safety_class=Y9", "Y1"),
    ],
)
def test_a_wrong_axis_says_what_is_accepted(text: str, said: str) -> None:
    with pytest.raises(SweepError) as error:
        axis(DEMO, text)
    assert said in str(error.value)


def test_a_table_of_points(tmp_path: Path) -> None:
    table = tmp_path / "points.csv"
    table.write_text(f"{C},mains.voltage\n1 nF,120\n2.2 nF,230\n", encoding="utf-8")
    found = listed(DEMO, table)
    assert [each.unit for each in found.addresses] == ["F", "V"]
    assert found.rows == ((1e-9, 120.0), (2.2e-9, 230.0))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "0 lines"),
        (f"{C}\n", "1 lines"),
        (f"{C}\n1 nF\n1 ohm\n", "points.csv, line 3, candidate"),
        (f"{C},mains.voltage\n1 nF\n", "line 2: found 1 values"),
        ("mains.volts\n1\n", "mains.volts"),
    ],
)
def test_a_wrong_table_says_the_line(tmp_path: Path, text: str, said: str) -> None:
    table = tmp_path / "points.csv"
    table.write_text(text, encoding="utf-8")
    with pytest.raises(SweepError) as error:
        listed(DEMO, table)
    assert said in str(error.value)


def test_a_table_that_is_no_text_is_told_in_words(tmp_path: Path) -> None:
    table = tmp_path / "points.csv"
    table.write_bytes(b"\xff\xfe\0")
    with pytest.raises(SweepError, match=r"points\.csv: found a byte that is not UTF-8; accepted: a table in CSV"):
        listed(DEMO, table)


def test_a_missing_table_is_named(tmp_path: Path) -> None:
    with pytest.raises(SweepError, match=r"no\.csv: found No such file or directory; accepted: a table in CSV"):
        listed(DEMO, tmp_path / "no.csv")
