"""Unusual ways of writing a case, each of which reads as the plain one does."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.case.read import load_case, parse_case
from models.parts.capacitor import Capacitor
from models.sources.trapezoid import Trapezoid
from tests.files.cases.bad import GOOD

PLAIN = parse_case(GOOD)
INLINE = """
candidate = [
  { name = "Y", branch = [
    { parts = [ { kind = "capacitor", capacitance = "2.2 nF", esr = "0.2 ohm", tolerance = "20 %" } ] },
  ] },
  { name = "bead", branch = [ { between = ["primary", "secondary"], parts = [
    { kind = "bead", rdc = "0.3 ohm", cells = [ { resistance = "700 ohm", inductance = "1.39 uH" } ] },
  ] } ] },
]
"""


def blocks(text: str) -> list[str]:
    return [block + "\n" for block in text.split("\n\n")]


def without(kind: str) -> str:
    """Return the plain case without the tables of one kind."""
    return "\n".join(block for block in blocks(GOOD) if not block.startswith(f"[[{kind}]]"))


def capacitance_as(text: str) -> str:
    return GOOD.replace('"2.2 nF"', text)


SAME = {
    "line ends of DOS": GOOD.replace("\n", "\r\n"),
    "no last line end": GOOD.rstrip("\n"),
    "comments": GOOD.replace("\n", "  # why\n"),
    "indented": "\n".join("    " + line for line in GOOD.splitlines()),
    "tables in another order": "\n".join(
        blocks(GOOD)[:1] + sorted(blocks(GOOD)[1:], key=lambda block: block[1] != "[")
    ),
    "quoted keys": GOOD.replace("\na = ", '\n"a" = ').replace("\nname = ", "\n'name' = "),
    "escapes": GOOD.replace('"primary"', '"pr\\u0069mary"'),
    "literal strings": GOOD.replace('"primary"', "'primary'"),
    "a dotted pair": GOOD.replace(
        'title = "right"\n\n[pair]\na = "primary"\nb = "secondary"\nothers = ["chassis"]\n',
        'title = "right"\npair.a = "primary"\npair.b = "secondary"\npair.others = ["chassis"]\n',
    ),
    "an inline pair": GOOD.replace(
        'title = "right"\n\n[pair]\na = "primary"\nb = "secondary"\nothers = ["chassis"]\n',
        'title = "right"\npair = { b = "secondary", a = "primary", others = ["chassis"] }\n',
    ),
    "inline candidates": without("candidate").replace('title = "right"\n', 'title = "right"\n' + INLINE),
    "default surroundings": GOOD.replace('[surroundings]\nname = "earth"\n', ""),
    "defaults said": GOOD.replace("[mains]\n", '[mains]\ntolerance = "10 %"\n').replace(
        'esr = "0', 'count = 1, esr = "0'
    ),
    "a bare number": capacitance_as("2.2e-9"),
    "a trade form": capacitance_as('"2n2"'),
    "no unit": capacitance_as('"2.2n"'),
    "no space": capacitance_as('"2.2nF"'),
    "picofarad": capacitance_as('"2200 pF"'),
    "a power of ten": capacitance_as('"2.2e-9 F"'),
    "a comma": capacitance_as('"2,2 nF"'),
    "percent as share": GOOD.replace('"20 %"', "0.2"),
    "a whole number": GOOD.replace('"230 V"', "230"),
    "ohm sign": GOOD.replace('"700 ohm"', '"700 Ω"'),
    "other ohm sign": GOOD.replace('"700 ohm"', '"700 \u2126"'),
    "trade ohm": GOOD.replace('"700 ohm"', '"700R"'),
    "micro sign": GOOD.replace('"1.39 uH"', '"1.39 µH"'),
    "Greek mu": GOOD.replace('"1.39 uH"', '"1.39 \u03bcH"'),
    "underscores": GOOD.replace('"700 ohm"', "7_0_0.0"),
}


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
    assert case.candidates == case.sources == case.requirements == ()
    assert case.mains is None


def test_names_of_any_script() -> None:
    text = GOOD.replace('"primary"', '"première côté [a].b"').replace('"Y"', '"Ω 😀 = \\"Y\\""')
    case = parse_case(text)
    assert case.pair.a == "première côté [a].b"
    assert case.candidates[0].name == 'Ω 😀 = "Y"'


def test_a_candidate_with_nothing() -> None:
    case = parse_case(GOOD + '[[candidate]]\nname = "Nothing"\n[[candidate]]\nname = "Also"\nbranch = []\n')
    assert case.candidates[2].branches == case.candidates[3].branches == ()


def test_zero_and_tiny_values_stand() -> None:
    case = parse_case(GOOD.replace('esr = "0.2 ohm"', 'esr = 0, esl = "0 nH", dissipation_factor = 1e-9'))
    part = case.candidates[0].branches[0].parts[0]
    assert part == Capacitor(capacitance_f=2.2e-9, dissipation_factor=1e-9, rating=part.rating)


def test_edges_may_fill_the_wave() -> None:
    wave = parse_case(GOOD.replace('"1 ns"', '"50 ns"')).sources[1].wave
    assert wave == Trapezoid(frequency_hz=10e6, duty=0.5, rise_s=50e-9, fall_s=50e-9)
