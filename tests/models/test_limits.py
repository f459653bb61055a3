from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from models.case.read import parse_case
from models.errors import CaseError
from models.limits import LimitLine, limits, own_limits_folder, read_limit_file
from tests.files.cases.bad import GOOD

OWN = """
isthmus_limits = 1
[[line]]
name = "House limit"
kind = "conducted"
standard = "house rule"
edition = "2"
confidence = "high"
limits = [ { detector = "average", start = "10 kHz", stop = "1 MHz", level = 60, stop_level = 40 } ]
"""


def found(name: str, kind: str) -> LimitLine:
    line = limits(Path("nowhere")).find(name, kind)
    assert line is not None
    return line


@pytest.mark.parametrize(
    ("name", "kind", "detector", "points"),
    [
        ("CISPR 32 class B", "conducted", "quasi-peak", {150e3: 66, 200e3: 63.61, 300e3: 60.24, 1e6: 56, 10e6: 60}),
        ("CISPR 32 class B", "conducted", "average", {150e3: 56, 200e3: 53.61, 1e6: 46, 10e6: 50}),
        ("FCC 15 class B", "conducted", "quasi-peak", {200e3: 63.61}),
        ("CISPR 11 class A", "conducted", "average", {200e3: 66, 600e3: 60}),
        ("CISPR 11 group 1 class A over 20 kVA, mains port", "conducted", "quasi-peak", {1e6: 86, 30e6: 73}),
        ("CISPR 32 class B 3 m", "radiated", "quasi-peak", {100e6: 40, 300e6: 47}),
        ("CISPR 32 class A", "radiated", "quasi-peak", {100e6: 40, 300e6: 47}),
        ("FCC 15 class B", "radiated", "quasi-peak", {50e6: 40.00, 100e6: 43.52, 300e6: 46.02, 990e6: 53.98}),
        ("FCC 15 class A", "radiated", "quasi-peak", {50e6: 39.08, 100e6: 43.52, 300e6: 46.44, 990e6: 49.54}),
        ("CISPR 32 class B above 1 GHz, field at 3 m", "radiated", "peak", {2e9: 70, 4e9: 74}),
        ("CISPR 25 class 5", "conducted", "peak", {200e3: 70, 1e6: 54, 100e6: 38}),
        ("CISPR 25 class 4", "conducted", "peak", {200e3: 80, 1e6: 62, 100e6: 44}),
    ],
)
def test_the_figures_of_physics_7(name: str, kind: str, detector: str, points: dict[float, float]) -> None:
    limit = found(name, kind).limit_db(np.array(list(points)), detector)
    np.testing.assert_allclose(limit, list(points.values()), atol=0.006)


def test_the_lower_limit_holds_at_a_transition() -> None:
    line = found("CISPR 32 B", "conducted")
    at = line.limit_db(np.array([500e3, 5e6, 30e6]), "quasi-peak")
    np.testing.assert_allclose(at, [56.0, 56.0, 60.0])
    assert found("CISPR 32 B", "radiated").limit_db(np.array([230e6]), "quasi-peak")[0] == 30.0


def test_outside_its_stretches_a_line_limits_nothing() -> None:
    line = found("CISPR 25 class 5", "conducted")
    assert np.isnan(line.limit_db(np.array([100e3, 400e3, 3e6]), "peak")).all()
    assert line.detectors == ("quasi-peak", "average", "peak")


def test_every_shipped_line_says_where_it_comes_from() -> None:
    held = limits(Path("nowhere"))
    assert held.messages == ()
    assert len({(line.kind, line.name) for line in held.lines}) == len(held.lines)
    for line in held.lines:
        assert line.standard
        assert "believed" in line.edition
    owners = [(line.kind, alias) for line in held.lines for alias in line.aliases]
    assert len(set(owners)) == len(owners)


def test_a_persons_own_line_comes_first(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(OWN.replace("House limit", "CISPR 32 class B"), "utf-8")
    line = limits(tmp_path).find("cispr-32 CLASS b", "conducted")
    assert line is not None
    assert line.standard == "house rule"
    assert line.limit_db(np.array([100e3]), "average")[0] == pytest.approx(50.0)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            OWN.replace("isthmus_limits = 1", "isthmus_limits = 7"),
            "isthmus_limits: found 7; accepted: isthmus_limits = 1",
        ),
        (OWN.replace('"average"', '"rms"'), 'line[0].limits[0].detector: found "rms"; accepted: "quasi-peak" or'),
        (OWN.replace('"10 kHz"', '"10 MHz"'), "a stretch that runs backwards"),
        (OWN.replace("conducted", "radiated"), "a distance for a radiated limit"),
        (OWN.replace("[[line]]", "[line]"), "line: found a table"),
        (OWN + "limits = 3", "broken TOML"),
        (OWN.replace("edition", "editor"), "an unknown key"),
    ],
)
def test_a_broken_file_is_one_message(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(text, "utf-8")
    read = read_limit_file(path)
    assert read.lines == ()
    assert read.message is not None
    assert says in read.message
    assert "\n" not in read.message
    assert len(limits(tmp_path).lines) == len(limits(Path("nowhere")).lines)


def test_where_a_persons_own_lines_lie(tmp_path: Path) -> None:
    assert own_limits_folder({"ISTHMUS_LIMITS": str(tmp_path)}) == tmp_path
    beside = own_limits_folder({"XDG_DATA_HOME": str(tmp_path), "ISTHMUS_CATALOGUE": "elsewhere"})
    assert beside == tmp_path / "isthmus" / "limits"


def test_a_case_that_asks_for_a_line_of_a_broken_file_is_told_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "mine.toml").write_text("isthmus_limits = 2", "utf-8")
    monkeypatch.setenv("ISTHMUS_LIMITS", str(tmp_path))
    text = f'{GOOD}[[requirement]]\nkind = "conducted-emission"\nlimit_line = "Mine"\n'
    with pytest.raises(CaseError, match=r'found "Mine"; accepted: a conducted line: .*; limit file .*mine\.toml: '):
        parse_case(text)
