"""Case files that are wrong in one way each, made from one that is right."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from attrs import frozen

GOOD = """isthmus = 1
title = "right"

[pair]
a = "primary"
b = "secondary"
others = ["chassis"]

[surroundings]
name = "earth"

[sweep]
start = "10 Hz"
stop = "100 MHz"
points_per_decade = 10

[[transformer]]
name = "T1"
between = ["primary", "secondary"]
interwinding_capacitance = "60 pF"
driven_fraction = 0.4

[[coupling]]
name = "gap"
between = ["primary", "secondary"]
parts = [ { kind = "capacitor", capacitance = "1.5 pF" } ]

[[coupling]]
name = "stray"
between = ["chassis", "earth"]
parts = [ { kind = "capacitor", capacitance = "80 pF" } ]

[[candidate]]
name = "Y"
[[candidate.branch]]
parts = [ { kind = "capacitor", capacitance = "2.2 nF", esr = "0.2 ohm", tolerance = "20 %" } ]

[[candidate]]
name = "bead"
[[candidate.branch]]
between = ["primary", "secondary"]
parts = [ { kind = "bead", rdc = "0.3 ohm", cells = [ { resistance = "700 ohm", inductance = "1.39 uH" } ] } ]

[[source]]
name = "switch"
kind = "switch-node"
through = "T1"
amplitude = "60 V"
frequency = "120 kHz"
duty = 0.35
rise = "30 ns"
fall = "50 ns"

[[source]]
name = "clock"
kind = "crossing-signal"
between = ["primary", "secondary"]
swing = "3.3 V"
impedance = "50 ohm"
frequency = "10 MHz"
duty = 0.5
rise = "4 ns"
fall = "4 ns"
count = 2

[mains]
voltage = "230 V"
frequency = "50 Hz"
feeds = "primary"
touched = "secondary"

[[requirement]]
kind = "touch-current"
limit = "0.25 mA"

[[requirement]]
kind = "return-impedance"
limit = "1 ohm"
band = ["1 MHz", "10 MHz"]
"""


@frozen(kw_only=True)
class Bad:
    """A file's bytes, and what its message has to say: where it is wrong, and what was found there."""

    id: str
    raw: bytes
    where: str = "file"
    found: str = ""


def _swap(name: str, old: str, new: str, where: str, found: str) -> Bad:
    assert GOOD.count(old) == 1, (old, GOOD.count(old))
    return Bad(id=name, raw=GOOD.replace(old, new).encode(), where=where, found=found)


def _after(name: str, text: str, where: str, found: str) -> Bad:
    return Bad(id=name, raw=(GOOD + text).encode(), where=where, found=found)


_STREAMS = (
    Bad(id="empty", raw=b"", where="isthmus", found="nothing"),
    Bad(id="only a comment", raw=b"# nothing here\n", where="isthmus", found="nothing"),
    Bad(id="binary", raw=bytes(range(256)) * 8, found="not UTF-8"),
    Bad(id="zeros", raw=b"\0" * 4096, found="broken TOML"),
    Bad(id="a picture", raw=b"\x89PNG\r\n\x1a\n" + b"\0\xff" * 500, found="not UTF-8"),
    Bad(id="UTF-16", raw=GOOD.encode("utf-16"), found="not UTF-8"),
    Bad(id="UTF-16 without mark", raw=GOOD.encode("utf-16-be"), found="broken TOML"),
    Bad(id="Latin-1", raw=GOOD.replace("right", "Prüfling").encode("latin-1"), found="not UTF-8"),
    Bad(id="half a file", raw=GOOD[: len(GOOD) // 2].encode(), found="broken TOML"),
    Bad(id="JSON", raw=b'{"isthmus": 1}', found="broken TOML"),
    Bad(id="a table twice", raw=(GOOD + '[pair]\na = "x"\n').encode(), found="broken TOML"),
    Bad(id="a key twice", raw=GOOD.replace('b = "sec', 'a = "x"\nb = "sec').encode(), found="broken TOML"),
    Bad(id="an open string", raw=(GOOD + 'title = "oh\n').encode(), found="broken TOML"),
    Bad(id="prose", raw=b"Dear all, please find the case attached.\n", found="broken TOML"),
    Bad(id="nested lists", raw=f"x = {'[' * 9000}{']' * 9000}".encode(), found="nested too deeply"),
    Bad(id="nested tables", raw=f"x = {'{a=' * 9000}1{'}' * 9000}".encode(), found="nested too deeply"),
    Bad(id="a dotted key without end", raw=b"a." * 500_000 + b"a = 1", found="dots on line 1"),
    Bad(id="five megabytes", raw=b"# x\n" * 1_250_000, found="more than 4 MB"),
    Bad(id="a number of 5000 digits", raw=(GOOD + f"x = {'9' * 5000}\n").encode(), found="thousands of digits"),
)

_VERSION = "isthmus = 1\n"
_VERSIONS = tuple(
    Bad(id=f"version {text}", raw=GOOD.replace(_VERSION, new).encode(), where="isthmus", found=found)
    for text, new, found in (
        ("missing", "", "nothing"),
        ("2", "isthmus = 2\n", "2"),
        ("as text", 'isthmus = "1"\n', '"1"'),
        ("true", "isthmus = true\n", "true"),
        ("1.0", "isthmus = 1.0\n", "1.0"),
        ("nan", "isthmus = nan\n", "nan"),
        ("a list", "isthmus = [1]\n", "a list of 1"),
        ("a table", "isthmus = {a = 1}\n", "a table"),
    )
)

_CAPACITANCE = 'capacitance = "2.2 nF"'
_HERE = "candidate[0].branch[0].parts[0].capacitance"
_QUANTITIES = tuple(
    _swap(f"capacitance {name}", _CAPACITANCE, f"capacitance = {text}", _HERE, found)
    for name, text, found in (
        ("in henry", '"2.2 nH"', '"2.2 nH"'),
        ("without number", '"nF"', '"nF"'),
        ("empty", '""', '""'),
        ("negative", '"-1 nF"', '"-1 nF"'),
        ("a negative number", "-1e-9", "-1e-09"),
        ("zero", '"0 nF"', '"0 nF"'),
        ("nan", "nan", "nan"),
        ("text nan", '"nan"', '"nan"'),
        ("infinite", "inf", "inf"),
        ("past any board", "1e300", "1e+300"),
        ("below any board", "1e-300", "1e-300"),
        ("past any float", '"1e999 F"', '"1e999 F"'),
        ("true", "true", "true"),
        ("a list", "[1e-9]", "a list"),
        ("a table", "{ value = 1e-9 }", "a table"),
        ("a date", "1979-05-27", "date"),
        ("a time", "1979-05-27T07:32:00Z", "datetime"),
        ("a whole number without end", "0x" + "f" * 4000, "more than 308 digits"),
        ("with a comma for thousands", '"2,200 nF"', '"2,200 nF"'),
        ("mega", '"2 MF"', '"2 MF"'),
        ("two numbers", '"2.2 nF 3 nF"', '"2.2 nF 3 nF"'),
        ("over two lines", '"2.2\\nnF"', '"2.2\\nnF"'),
    )
)

_PAIR = '[pair]\na = "primary"\nb = "secondary"\nothers = ["chassis"]\n'
_GAP = '[ { kind = "capacitor", capacitance = "1.5 pF" } ]'
_CELLS = 'cells = [ { resistance = "700 ohm", inductance = "1.39 uH" } ]'
_TOUCH = '"touch-current"\nlimit = "0.25 mA"'
_STRAY = '["chassis", "earth"]'
_BAND = '["1 MHz", "10 MHz"]'
_COUPLING = "coupling[1].between"
_BEAD = "candidate[1].branch[0].parts[0]"
_NEW = '[[candidate]]\nname = "new"\n[[candidate.branch]]\nparts = [ { kind = '
_NEW_PART = "candidate[2].branch[0].parts[0]"
_WAVE = '[[source]]\nname = "w"\nkind = "waveform"\nbetween = ["primary", "secondary"]\nfile = "FILE"\n'
_CABLE = '[[cable]]\nname = "lead"\nlength = 1\ndiameter = 1e-3\n'

_KEYS = (
    _after("unknown table", "[board]\nlayers = 4\n", "board", "an unknown key"),
    _swap("unknown key", 'esr = "0.2 ohm"', 'ers = "0.2 ohm"', "parts[0].ers", "an unknown key"),
    _swap("key of another kind", 'esr = "0.2 ohm"', 'rdc = "0.2 ohm"', "parts[0].rdc", "an unknown key"),
    _swap("a key over two lines", "driven_fraction = 0.4", '"a\\nb" = 0.4', "transformer[0].a\\nb", "unknown key"),
    _swap("no capacitance", _CAPACITANCE + ", ", "", _HERE, "nothing"),
    _swap("no pair", _PAIR, "", "pair", "nothing"),
    _swap("no region b", 'b = "secondary"\n', "", "pair.b", "nothing"),
    _swap("no name", 'name = "gap"\n', "", "coupling[0].name", "nothing"),
    _swap("no parts", f"parts = {_GAP}\n", "", "coupling[0].parts", "nothing"),
    _swap("empty parts", _GAP, "[]", "coupling[0].parts", "a list of 0"),
    _swap("a part as text", '{ kind = "capacitor", capacitance = "1.5 pF" }', '"1.5 pF"', "parts[0]", '"1.5 pF"'),
    _swap("unknown part", '"bead", rdc', '"ferrite", rdc', "candidate[1].branch[0].parts[0].kind", '"ferrite"'),
    _swap("part without kind", 'kind = "bead", ', "", "candidate[1].branch[0].parts[0].kind", "nothing"),
    _swap("kind as a list", 'kind = "bead"', 'kind = ["bead"]', "parts[0].kind", "a list of 1"),
    _swap("unknown source", '"crossing-signal"', '"clock"', "source[1].kind", '"clock"'),
    _swap("unknown requirement", '"touch-current"', '"touch"', "requirement[0].kind", '"touch"'),
    _swap("pair as text", _PAIR, 'pair = "p"\n', "pair", '"p"'),
    _swap("mains as a list", "[mains]", "[[mains]]", "mains", "a list of 1"),
    _swap("a part as number", f"parts = {_GAP}\n", "parts = [5]\n", "coupling[0].parts[0]", "5"),
    _swap("no cells", _CELLS, "cells = []", "cells", "a list of 0"),
    _swap("half a cell", ', inductance = "1.39 uH"', "", "parts[0].cells[0].inductance", "nothing"),
    _swap("title as number", 'title = "right"', "title = 5", "title", "5"),
    _swap("empty name", 'name = "gap"', 'name = "  "', "coupling[0].name", '"  "'),
    _swap("name over two lines", 'name = "gap"', 'name = "g\\nap"', "coupling[0].name", '"g\\nap"'),
    _swap("endless name", 'name = "gap"', f'name = "{"g" * 3000}"', "coupling[0].name", "ggg…"),
    _swap("count of nothing", "count = 2", "count = 0", "source[1].count", "0"),
    _swap("count with a fraction", "count = 2", "count = 2.5", "source[1].count", "2.5"),
    _swap("count true", "count = 2", "count = true", "source[1].count", "true"),
    _swap("count without end", "count = 2", "count = 0x" + "f" * 4000, "source[1].count", "more than 77 digits"),
    _swap("tolerance over one", 'tolerance = "20 %"', 'tolerance = "200 %"', "parts[0].tolerance", "2"),
    _swap("safety class", 'tolerance = "20 %"', 'safety_class = "Y7"', "parts[0].safety_class", '"Y7"'),
)  # fmt: skip

_CONTRADICTIONS = (
    _swap("one region twice", 'b = "secondary"', 'b = "primary"', "pair", '"primary" 2 times'),
    _swap("other is a", 'others = ["chassis"]', 'others = ["primary", "chassis"]', "pair", '"primary" 2 times'),
    _swap("surroundings are b", 'name = "earth"', 'name = "secondary"', "pair", '"secondary" 2 times'),
    _swap("a lonely region", 'others = ["chassis"]', 'others = ["chassis", "shield"]', "pair.others[1]", '"shield"'),
    _swap("unknown region of a coupling", _STRAY, '["chassis", "ground"]', _COUPLING, '"ground"'),
    _swap("from a region to itself", _STRAY, '["chassis", "chassis"]', _COUPLING, '["chassis", "chassis"]'),
    _swap("three ends", _STRAY, '["chassis", "earth", "primary"]', _COUPLING,
          '["chassis", "earth", "primary"]'),
    _swap("one end", _STRAY, '["chassis"]', _COUPLING, '["chassis"]'),
    _swap("ends as text", _STRAY, '"chassis"', _COUPLING, '"chassis"'),
    _swap("ends as numbers", _STRAY, "[1, 2]", _COUPLING, "[1, 2]"),
    _swap("no such transformer", 'through = "T1"', 'through = "T2"', "source[0].through", '"T2"'),
    _swap("two candidates of a name", 'name = "bead"', 'name = "Y"', "candidate[1].name", '"Y" a second time'),
    _swap("two couplings of a name", 'name = "stray"', 'name = "gap"', "coupling[1].name", '"gap" a second time'),
    _swap("two sources of a name", 'name = "clock"', 'name = "switch"', "source[1].name", '"switch" a second time'),
    _swap("edges longer than the wave", 'rise = "30 ns"', 'rise = "30 us"', "source[0]", "edges of"),
    _swap("duty of one", "duty = 0.35", "duty = 1.0", "source[0]", "duty 1"),
    _swap("duty of nothing", "duty = 0.35", "duty = 0", "source[0].duty", "0"),
    _swap("duty over one", "duty = 0.35", 'duty = "120 %"', "source[0]", "1.2"),
    _swap("frequency of nothing", '"120 kHz"', '"0 Hz"', "source[0].frequency", "0 Hz"),
    _swap("too many harmonics", '"120 kHz"', '"1 Hz"', "source[0].frequency", "1e+08 harmonics"),
    _swap("sweep backwards", 'stop = "100 MHz"', 'stop = "1 Hz"', "sweep", "stop 1 Hz"),
    _swap("sweep from nothing", 'start = "10 Hz"', 'start = "0 Hz"', "sweep.start", "0 Hz"),
    _swap("sweep from below any frequency", 'start = "10 Hz"', "start = 5e-324", "sweep.start", "5e-324"),
    _swap("sweep without end", "points_per_decade = 10", "points_per_decade = 1e9",
          "sweep.points_per_decade", "1000000000.0"),
    _swap("sweep of too many points", 'start = "10 Hz"\nstop = "100 MHz"\npoints_per_decade = 10',
          'start = 1e-20\npoints_per_decade = 10000', "sweep", "290001 points"),
    _swap("mains touch what they feed", 'touched = "secondary"', 'touched = "primary"', "mains.touched", '"primary"'),
    _swap("mains feed the earth", 'feeds = "primary"', 'feeds = "earth"', "mains.feeds", '"earth"'),
    _swap("mains feed a stranger", 'feeds = "primary"', 'feeds = "line"', "mains.feeds", '"line"'),
    _swap("mains of a power line", 'voltage = "230 V"', 'voltage = "110 kV"', "mains.voltage", "110 kV"),
    _swap("no limit", 'limit = "0.25 mA"\n', "", "requirement[0]", "no limit"),
    _swap("limit in another unit", 'limit = "0.25 mA"', 'limit = "0.25 mV"', "requirement[0].limit", '"0.25 mV"'),
    _swap("limit that means nothing", _TOUCH, '"blocks-dc"\nlimit = 5', "requirement[0].limit", "5"),
    _swap("band that means nothing", _TOUCH, f"{_TOUCH}\nband = [1, 2]", "requirement[0]", "the key band"),
    _swap("no band", 'band = ["1 MHz", "10 MHz"]\n', "", "requirement[1]", "no band"),
    _swap("band backwards", _BAND, '["10 MHz", "1 MHz"]', "requirement[1]", "runs backwards"),
    _swap("band of one", _BAND, '["1 MHz"]', "requirement[1].band", "a list of 1"),
    _swap("band beyond a circuit", _BAND, '["1 MHz", "2 THz"]', "requirement[1].band[1]", "2 THz"),
    _swap("band from nothing", _BAND, '["0 Hz", "1 MHz"]', "requirement[1].band[0]", "0 Hz"),
    _after("no limit line", '[[requirement]]\nkind = "conducted-emission"\n', "requirement[2]", "no limit_line"),
    _after("a file of no name", f'{_NEW}"measured", file = "a\\u0000b" }} ]\n', f"{_NEW_PART}.file", '"a\\x00b"'),
    _after("a waveform of no name", _WAVE.replace("FILE", "a\\u0000b"), "source[2].file", '"a\\x00b"'),
    _after("a waveform that is not there", _WAVE.replace("FILE", "no.csv"), "source[2].file", "no such file"),
    _after("candidates without end", "".join(f'[[candidate]]\nname = "{n}"\n' for n in range(999)),
           "candidate", "a list of 1001"),
    _after("half a bar", f'{_NEW}"copper", length = "3 mm" }} ]\n', _NEW_PART, "a part of a geometry"),
    _after("a bar and its values", f'{_NEW}"copper", length = 1, width = 1, thickness = 1, inductance = 1 }} ]\n',
           _NEW_PART, "values and a geometry"),
    _after("no such catalogue id", f'{_NEW}"catalogue", part = "nothing" }} ]\n', f"{_NEW_PART}.part", '"nothing"'),
    _after("catalogue without id", f'{_NEW}"catalogue" }} ]\n', f"{_NEW_PART}.part", "nothing"),
    _after("catalogue id as number", f'{_NEW}"catalogue", part = 5 }} ]\n', f"{_NEW_PART}.part", "5"),
    _after("far end of a cable", f'{_CABLE}region = "primary"\nfar_end = "loose"\n', "cable[0].far_end", '"loose"'),
    _after("far end true", f'{_CABLE}region = "primary"\nfar_end = true\n', "cable[0].far_end", "true"),
    _after("cable too thin", f'{_CABLE.replace("1e-3", "1e-9")}region = "primary"\n', "cable[0].diameter", "1 nm"),
    _after("cable from a stranger", f'{_CABLE}region = "box"\n', "cable[0].region", '"box"'),
)  # fmt: skip

BAD: tuple[Bad, ...] = (*_STREAMS, *_VERSIONS, *_QUANTITIES, *_KEYS, *_CONTRADICTIONS)


def odd_paths(folder: Path) -> Iterator[tuple[Path, str]]:
    """Yield paths at which no case can be read, with what the message says was found."""
    empty = folder / "empty"
    empty.mkdir()
    yield empty, "found "
    yield folder / "missing.toml", "No such file"
    yield folder / "missing" / "folder.toml", "No such file"
    sparse = folder / "sparse.toml"
    with sparse.open("wb") as stream:
        stream.truncate(100_000_000)
    yield sparse, "more than 4 MB"
    link = folder / "link.toml"
    link.symlink_to(link)
    yield link, "symbolic links"
    yield folder / ("n" * 300 + ".toml"), "File name too long"
    strange = folder / "two\nlines.toml"
    strange.write_text("")
    yield strange, "nothing"
