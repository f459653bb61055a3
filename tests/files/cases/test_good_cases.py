"""Unusual ways of writing a case, each of which reads as the plain one does."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.case.read import load_case, parse_case
from models.parts.capacitor import Capacitor
from models.sources.trapezoid import Trapezoid
from tests.files.cases.bad import GOOD
from tests.files.cases.good import PLAIN, SAME


@pytest.mark.parametrize("text", SAME.values(), ids=SAME.keys())
def test_reads_as_the_plain_case(text: str) -> None:
    assert text != GOOD
    assert parse_case(text) == PLAIN


def test_a_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "marked.toml"
    path.write_bytes(GOOD.encode("utf-8-sig"))
    assert load_case(path) == PLAIN


def test_the_least_case() -> None:
    case = parse_case('isthmus = 1\n[pair]\na = "x"\nb = "y"\n[[coupling]]\nname = "k"\nbetween = ["x", "y"]\n'
                      'parts = [ { kind = "copper" } ]\n')  # fmt: skip
    assert case.surroundings.name == "earth"
    assert (case.sweep.start_hz, case.sweep.stop_hz, case.sweep.points_per_decade) == (10.0, 1e9, 100.0)
    assert case.sweep.f_hz().size == 801
    assert (case.candidates, case.sources, case.requirements) == ((), (), ())
    assert case.mains is None


def test_names_of_any_script() -> None:
    text = GOOD.replace('"primary"', '"première côté [a].b"').replace('"Y"', '"Ω 😀 = \\"Y\\""')
    case = parse_case(text)
    assert case.pair.a == "première côté [a].b"
    assert case.candidates[0].name == 'Ω 😀 = "Y"'


def test_a_candidate_with_nothing() -> None:
    case = parse_case(GOOD + '[[candidate]]\nname = "Nothing"\n[[candidate]]\nname = "Also"\nbranch = []\n')
    assert case.candidates[2].branches == case.candidates[3].branches == ()


def test_a_thousand_candidates() -> None:
    case = parse_case(GOOD + "".join(f'[[candidate]]\nname = "{number}"\n' for number in range(998)))
    assert len(case.candidates) == 1000


def test_zero_and_tiny_values_stand() -> None:
    case = parse_case(GOOD.replace('esr = "0.2 ohm"', 'esr = 0, esl = "0 nH", dissipation_factor = 1e-9'))
    part = case.candidates[0].branches[0].parts[0]
    assert part == Capacitor(capacitance_f=2.2e-9, dissipation_factor=1e-9, rating=part.rating)


def test_edges_may_fill_the_wave() -> None:
    wave = parse_case(GOOD.replace('"4 ns"', '"50 ns"')).sources[1].wave
    assert wave == Trapezoid(frequency_hz=10e6, duty=0.5, rise_s=50e-9, fall_s=50e-9)


@pytest.mark.parametrize("word", ["lisn", "LISN"])
def test_the_word_for_a_network_may_stand_as_the_trade_writes_it(word: str) -> None:
    table = f'[[cable]]\nname = "lead"\nregion = "primary"\nlength = "1 m"\ndiameter = "7 mm"\nfar_end = "{word}"\n'
    assert parse_case(GOOD + table).cables[-1].far_end == "lisn"
