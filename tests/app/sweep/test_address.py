"""Values of a case by their path in the file."""

from __future__ import annotations

import pytest

from app.sweep.address import find, put_all
from app.sweep.faults import SweepError
from models.assets import CASES, DEMO_CASE
from models.case.read import load_case
from models.codec import KeyPath

DEMO = load_case(DEMO_CASE)


@pytest.mark.parametrize(
    ("text", "path", "unit", "typed", "value"),
    [
        (
            "candidate[1].branch[0].parts[0].capacitance",
            ("candidates", 1, "branches", 0, "parts", 0, "capacitance_f"),
            "F",
            "3n3",
            3.3e-9,
        ),
        (
            "candidate[0].branch[0].parts[0].tolerance",
            ("candidates", 0, "branches", 0, "parts", 0, "rating", "tolerance"),
            "",
            "10 %",
            0.1,
        ),
        (
            "candidate[2].branch[0].parts[0].cells[0].inductance",
            ("candidates", 2, "branches", 0, "parts", 0, "cells", 0, "inductance_h"),
            "H",
            "1u",
            1e-6,
        ),
        ("transformer[0].driven_fraction", ("transformers", 0, "driven_fraction"), "", "0.7", 0.7),
        ("coupling[1].parts[0].count", ("couplings", 1, "parts", 0, "count"), None, "4", 4),
        ("source[0].rise", ("sources", 0, "wave", "rise_s"), "s", "15 ns", 15e-9),
        ("mains.feeds", ("mains", "feeds"), None, "secondary", "secondary"),
        ("requirement[2].limit", ("requirements", 2, "limit"), "A", "0.5 mA", 0.5e-3),
        ("sweep.stop", ("sweep", "stop_hz"), "Hz", "300 MHz", 300e6),
    ],
)
def test_a_path_leads_to_the_value_and_its_unit(
    text: str, path: KeyPath, unit: str | None, typed: str, value: object
) -> None:
    address = find(DEMO, text)
    assert address.path == path
    assert address.unit == unit
    assert address.read(typed) == value
    assert address.text == text


def test_a_band_is_reached_by_its_ends() -> None:
    case = load_case(CASES / "sensor-board.toml")
    index = next(place for place, each in enumerate(case.requirements) if each.band_hz is not None)
    address = find(case, f"requirement[{index}].band[1]")
    band_hz = address.put(case, 2e9).requirements[index].band_hz
    assert band_hz is not None
    assert band_hz[1] == 2e9


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no path"),
        ("candidate[1]..branch", "no path"),
        ("candidate[1] .name", "no path"),
        (".mains.voltage", "no path"),
        ("candidates[0].name", "candidate"),
        ("candidate.name", "such as [0]"),
        ("candidate[9].name", "from 0 to 4"),
        ("candidate[4].branch[0].parts[0].esr", "list is empty"),
        ("mains[0]", "no list"),
        ("mains.voltage.high", "nothing after it"),
        ("mains.volts", "voltage, frequency"),
        ("candidate[0].branch[0].parts", "one value in it"),
        ("candidate[0].branch[0].parts[0]", "capacitance, esr"),
        ("transformer[0].between", "one value in it"),
        ("x" * 400, "accepted"),
    ],
)
def test_a_wrong_path_says_where_and_what_there_is(text: str, said: str) -> None:
    with pytest.raises(SweepError) as error:
        find(DEMO, text)
    assert said in str(error.value)
    assert "\n" not in str(error.value)


def test_a_table_that_the_case_lacks_is_named() -> None:
    bare = load_case(CASES / "sensor-board.toml")
    assert bare.mains is None
    with pytest.raises(SweepError, match="nothing at mains"):
        find(bare, "mains.voltage")


def test_settings_follow_each_other_and_refuse_what_cannot_stand() -> None:
    changed = put_all(DEMO, {"mains.voltage": "120 V", "mains.frequency": "60"})
    assert changed.mains is not None
    assert (changed.mains.voltage_v, changed.mains.frequency_hz) == (120.0, 60.0)
    with pytest.raises(SweepError, match=r"mains\.voltage: found .*2 kV"):
        put_all(DEMO, {"mains.voltage": "2 kV"})
    with pytest.raises(SweepError, match=r"sweep\.start: found .*more than start"):
        put_all(DEMO, {"sweep.start": "2 GHz"})
