"""Every entry that ships: it loads, keeps the laws, says what is an estimate and what a rating, and its numbers fit."""

from __future__ import annotations

import math
import re
import tomllib
from collections import Counter
from typing import Any

import numpy as np
import pytest

from models.catalogue.entry import Construction, Entry
from models.catalogue.figures import key_figures
from models.catalogue.shelf import SHIPPED, catalogue, shipped
from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.choke import CommonModeChoke
from models.parts.copper import Copper
from models.parts.plane_gap import PlaneGap
from models.parts.plane_overlap import PlaneOverlap
from models.parts.via import Via

ENTRIES = [entry for file in shipped() for entry in file.entries]
PARTS = [entry for entry in ENTRIES if not isinstance(entry.subject, Construction)]
OMEGA = 2.0 * math.pi * np.geomspace(10.0, 3e9, 200)
named = pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.id)
parts = pytest.mark.parametrize("entry", PARTS, ids=lambda entry: entry.id)


def of(family: str) -> list[Entry]:
    return [entry for entry in ENTRIES if entry.family == family]


def test_nothing_that_ships_is_broken_or_there_twice() -> None:
    assert [file.message for file in shipped() if file.message] == []
    assert [id for id, count in Counter(entry.id for entry in ENTRIES).items() if count > 1] == []


@pytest.mark.parametrize(
    ("family", "least"),
    [
        ("bead", 24),
        ("safety-capacitor", 14),
        ("chip-capacitor", 16),
        ("film-capacitor", 6),
        ("resistor", 12),
        ("link", 6),
        ("inductor", 8),
        ("common-mode-choke", 8),
        ("copper", 8),
        ("via", 4),
        ("isolator", 8),
        ("plane-gap", 5),
        ("plane-overlap", 4),
        ("transformer", 10),
    ],
)
def test_there_is_enough_to_choose_from(family: str, least: int) -> None:
    assert len(of(family)) >= least


def test_beads_cover_sizes_and_uses() -> None:
    ids = " ".join(entry.id for entry in of("bead"))
    assert all(f"-{size}-" in ids for size in ("0402", "0603", "0805", "1206", "1812"))
    assert all(use in ids for use in ("signal", "power", "hf"))
    subjects = [entry.subject for entry in of("bead")]
    assert all(isinstance(subject, Bead) and subject.rated_current_a for subject in subjects)
    assert {subject.bias_family for subject in subjects if isinstance(subject, Bead)} == {"power", "mid", "signal"}


def test_safety_capacitors_cover_classes_and_values() -> None:
    subjects = [entry.subject for entry in of("safety-capacitor")]
    assert all(isinstance(each, Capacitor) and each.rating.withstand_v for each in subjects)
    y1 = [each.capacitance_f for each in subjects if isinstance(each, Capacitor) and each.rating.safety_class == "Y1"]
    assert (min(y1), max(y1)) == (33e-12, 4.7e-9)
    assert {each.rating.safety_class for each in subjects if isinstance(each, Capacitor)} == {"Y1", "Y2"}
    assert all("certification" in (entry.caution or "") for entry in of("safety-capacitor"))
    assert {bool(each.lead_length_m) for each in subjects if isinstance(each, Capacitor)} == {True, False}


def test_chip_capacitors_cover_sizes_voltages_and_dielectrics() -> None:
    subjects = [each.subject for each in of("chip-capacitor")]
    volts = [each.rating.rated_voltage_v or 0.0 for each in subjects if isinstance(each, Capacitor)]
    assert (min(volts), max(volts)) == (50.0, 3000.0)
    for entry in of("chip-capacitor"):
        assert isinstance(entry.subject, Capacitor)
        assert (entry.subject.bias_half_voltage_v is None) == ("c0g" in entry.id)


@named
def test_the_note_says_what_is_an_estimate_and_what_a_rating(entry: Entry) -> None:
    assert re.search(r"Rating: \S", entry.note)
    assert re.search(r"Estimate: \S", entry.note)
    assert len(entry.note.split("Rating:")[0]) > 15, "where it is used"
    assert entry.title
    assert re.fullmatch(r"[a-z0-9.-]+", entry.id)


@named
def test_it_has_key_figures(entry: Entry) -> None:
    figures = key_figures(entry.subject)
    assert figures
    assert all(math.isfinite(figure.value) and figure.value >= 0.0 for figure in figures)


@parts
def test_it_makes_no_power(entry: Entry) -> None:
    z = entry.part.impedance(OMEGA)
    assert np.all(np.isfinite(z))
    assert np.all(z.real >= -1e-12 * np.abs(z))


@parts
def test_dc_is_the_limit_of_low_frequency(entry: Entry) -> None:
    part = entry.part
    low = complex(part.impedance(np.array([1e-12]))[0])
    if math.isinf(part.dc_ohm()):
        assert abs(low) > 1e15
        assert part.blocks_dc()
    else:
        assert low.real == pytest.approx(part.dc_ohm(), rel=1e-6)


@parts
def test_its_main_value_scales_its_impedance_at_low_frequency(entry: Entry) -> None:
    part = entry.part
    omega = 2.0 * math.pi * np.array([1e4])
    ratio = abs((part.scaled(1.01).impedance(omega) / part.impedance(omega))[0])
    if part.blocks_dc():
        assert ratio == pytest.approx(1.0 / 1.01, rel=1e-3)
    elif isinstance(part, Bead | CommonModeChoke):
        more = part.scaled(1.01).impedance(omega) - part.impedance(omega)
        assert more == pytest.approx(0.01 * (part.impedance(omega) - part.rdc_ohm), rel=1e-9)
    else:
        # a longer bar has a little more than its share of inductance
        assert 1.0 < ratio < (1.02 if isinstance(part, Copper | Via) else 1.0101)


@parts
def test_four_digits_say_all_of_it(entry: Entry) -> None:
    def numbers(value: Any) -> list[str]:
        if isinstance(value, dict):
            return [digits for key, each in value.items() if key not in _TEXTS for digits in numbers(each)]
        if isinstance(value, list):
            return [digits for each in value for digits in numbers(each)]
        return [] if isinstance(value, bool) else re.findall(r"\d+\.?\d*", str(value))[:1]

    for digits in numbers(RAW[entry.id]):
        assert len(digits.replace(".", "").strip("0")) <= 4


_TEXTS = ("id", "title", "note", "kind", "family", "caution", "bias_family", "safety_class", "shield")
RAW = {
    table["id"]: table
    for path in SHIPPED.glob("*.toml")
    for table in tomllib.loads(path.read_text(encoding="utf-8"))["entry"]
}


@pytest.mark.parametrize("entry", of("bead"), ids=lambda entry: entry.id)
def test_a_bead_has_the_impedance_of_its_name(entry: Entry) -> None:
    named_ohm = re.search(r"-(\d+)(r|k)(\d*)-", entry.id)
    assert named_ohm
    whole, letter, part = named_ohm.groups()
    ohm = float(f"{whole}.{part or 0}") * (1000.0 if letter == "k" else 1.0)
    z = entry.part.impedance(2.0 * math.pi * np.array([100e6]))
    assert abs(z[0]) == pytest.approx(ohm, rel=2e-3)


@pytest.mark.parametrize("entry", of("bead"), ids=lambda entry: entry.id)
def test_a_bead_peaks_where_its_note_says(entry: Entry) -> None:
    said = re.search(r"peak of (\S+) (k?)Ω at (\S+) (M|G)Hz", entry.note)
    if said is None:
        return
    peak_ohm = float(said[1]) * (1e3 if said[2] else 1.0)
    peak_hz = float(said[3]) * (1e6 if said[4] == "M" else 1e9)
    assert abs(entry.part.impedance(np.array([2.0 * math.pi * peak_hz]))[0]) == pytest.approx(peak_ohm, rel=0.01)


def test_leaded_safety_capacitors_have_a_usual_inductance() -> None:
    for entry in of("safety-capacitor"):
        if isinstance(entry.subject, Capacitor) and "disc" in entry.id and "long" not in entry.id:
            assert 6e-9 < entry.subject.inductance_h() < 10e-9


def test_gaps_and_overlaps_have_the_worked_capacitances() -> None:
    entries = catalogue().entries
    gap, overlap = entries["gap-8mm"].subject, entries["overlap-20x10-0.4"].subject
    assert isinstance(gap, PlaneGap)
    assert isinstance(overlap, PlaneOverlap)
    assert gap.capacitance_f() == pytest.approx(1.577e-12, abs=5e-16)
    assert overlap.capacitance_f() == pytest.approx(21.39e-12, abs=5e-15)


def test_choosing_by_family_kind_and_words() -> None:
    shelf = catalogue()
    assert {entry.family for entry in shelf.chosen(kind="capacitor")} >= {"safety-capacitor", "isolator"}
    assert {entry.kind for entry in shelf.chosen(kind="link")} == {"resistor"}
    assert [entry.id for entry in shelf.chosen(contains="0603 600r-signal")] == ["bead-0603-600r-signal"]
    assert shelf.chosen(contains="nothing like it") == ()


def test_a_transformer_is_plotted_as_its_whole_capacitance() -> None:
    entry = catalogue().entries["transformer-planar"]
    assert isinstance(entry.part, Capacitor)
    assert entry.part.capacitance_f == 350e-12
