"""A right case written in unusual ways."""

from __future__ import annotations

from models.case.read import parse_case
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
    "empty notes": 'notes = ""\n' + GOOD,
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
