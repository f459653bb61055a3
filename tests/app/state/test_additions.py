"""What can be added to a case, as a starting point that stands and computes at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve

from app.state import edits
from app.state.additions import ADDITIONS, measured_spectrum, measured_waveform, offered, usual_requirement
from app.state.results import Desk
from app.state.typed import value_typed
from app.state.usual import BRIDGES, COPPER, bridge_of
from models.assets import CASES, DEMO_CASE
from models.case.check import contradictions
from models.case.document import Case, Pair
from models.case.read import load_case, parse_case
from models.case.requirement import DEMANDS
from models.case.write import case_text
from models.catalogue.shelf import catalogue
from models.errors import DataError, QuantityError
from models.sources.registry import SOURCES

EMPTY = Case(pair=Pair(a="A", b="B"), candidates=(BRIDGES[0], BRIDGES[-1]))
SENSOR = load_case(CASES / "sensor-board.toml")
DEMO = load_case(DEMO_CASE)


@pytest.mark.parametrize("name", sorted(ADDITIONS))
@pytest.mark.parametrize("case", [EMPTY, SENSOR, DEMO], ids=["empty", "sensor board", "demo"])
def test_every_addition_stands_is_selected_computes_and_can_be_saved(name: str, case: Case) -> None:
    changed, (kind, index) = ADDITIONS[name].edit(case)
    assert contradictions(changed) == []
    assert (changed == case) is (name == "add-mains" and case.mains is not None)
    assert kind == "case" or index == len(getattr(case, f"{kind}s"))
    assert len(Desk().results(changed).evaluation.outcomes) == len(case.candidates)
    assert parse_case(case_text(changed)) == changed


def test_a_second_one_has_a_name_of_its_own() -> None:
    once, _ = ADDITIONS["add-mains-lead"].edit(EMPTY)
    twice, _ = ADDITIONS["add-mains-lead"].edit(once)
    assert [each.name for each in twice.cables] == ["mains lead", "mains lead 2"]


def test_the_mains_lead_leaves_what_the_mains_feed() -> None:
    assert DEMO.mains is not None
    turned = evolve(DEMO, mains=evolve(DEMO.mains, feeds=DEMO.pair.b, touched=DEMO.pair.a))
    added, _ = ADDITIONS["add-mains-lead"].edit(turned)
    assert added.cables[-1].region == DEMO.pair.b


def test_mains_are_offered_once() -> None:
    assert "add-mains" in offered(EMPTY)
    assert "add-mains" not in offered(DEMO)


def test_every_kind_of_requirement_and_every_source_that_needs_no_file_is_offered() -> None:
    assert {usual_requirement(kind).kind for kind in DEMANDS} == set(DEMANDS)
    added = {ADDITIONS[name].edit(EMPTY)[0].sources[0].kind for name in ADDITIONS if ADDITIONS[name].group == "Source"}
    assert added == set(SOURCES) - {"waveform", "measured-spectrum"}


def test_a_measured_period_becomes_a_source(tmp_path: Path) -> None:
    file = tmp_path / "probe.csv"
    file.write_text("time,current\n" + "".join(f"{k * 1e-7},{(-1) ** (k // 5)}\n" for k in range(10)))
    changed, subject = measured_waveform(EMPTY, file)
    assert subject == ("source", 0)
    assert changed.sources[0].name == "probe"
    assert changed.sources[0].wave.frequency_hz == pytest.approx(1e6)
    assert contradictions(changed) == []
    with_transformer, _ = ADDITIONS["add-transformer"].edit(EMPTY)
    assert getattr(measured_waveform(with_transformer, file)[0].sources[0], "through", None) == "T1"


def test_measured_lines_become_a_source_and_a_wrong_file_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "lines.csv"
    file.write_text("0,1\n1e5,0.5\n3e5,0.2\n")
    changed, _ = measured_spectrum(EMPTY, file)
    assert changed.sources[0].wave.frequency_hz == 1e5
    file.write_text("words only\n")
    with pytest.raises(DataError, match="no line above 0 Hz"):
        measured_spectrum(EMPTY, file)
    with pytest.raises((DataError, QuantityError)):
        measured_waveform(EMPTY, tmp_path / "nowhere.csv")


def test_a_region_goes_with_all_that_joins_it() -> None:
    wider, _ = ADDITIONS["add-region"].edit(EMPTY)
    assert wider.regions == ("A", "B", "chassis")
    assert edits.remove_region(wider, "chassis") == EMPTY
    left = edits.remove_region(SENSOR, "chassis")
    assert contradictions(left) == []
    assert "chassis" not in str(left)


@pytest.mark.parametrize(("feeds", "touched"), [("A", "B"), ("B", "A")])
def test_mains_stay_when_the_region_that_was_touched_goes(feeds: str, touched: str) -> None:
    housed, _ = ADDITIONS["add-region"].edit(ADDITIONS["add-mains"].edit(EMPTY)[0])
    assert housed.mains is not None
    reached = evolve(housed, mains=evolve(housed.mains, feeds=feeds, touched="chassis"))
    left = edits.remove_region(reached, "chassis").mains
    assert left is not None
    assert (left.feeds, left.touched) == (feeds, touched)
    fed = evolve(housed, mains=evolve(housed.mains, feeds="chassis", touched="B"))
    assert edits.remove_region(fed, "chassis").mains is None


def test_a_further_region_is_renamed_with_what_joins_it() -> None:
    wider, _ = ADDITIONS["add-region"].edit(EMPTY)
    path = ("pair", "others", 0)
    renamed = edits.set_value(wider, path, value_typed(wider, path, "shield"))
    assert renamed.regions == ("A", "B", "shield")
    assert renamed.couplings[-1].between == ("shield", "earth")
    with pytest.raises(QuantityError):
        value_typed(wider, path, "")


def test_the_far_end_of_a_cable_is_a_word_or_an_impedance() -> None:
    case, _ = ADDITIONS["add-mains-lead"].edit(EMPTY)
    path = ("cables", 0, "far_end")
    assert value_typed(case, path, "open") == "open"
    assert value_typed(case, path, "impedance") == 150.0
    assert value_typed(case, path, "47 ohm") == 47.0
    with pytest.raises(QuantityError):
        value_typed(case, path, "nowhere")


def test_a_heat_sink_is_screwed_to_the_chassis_where_there_is_one() -> None:
    bare, _ = ADDITIONS["add-heat-sink"].edit(EMPTY)
    assert bare.couplings[-1].between == ("A", "earth")
    housed, _ = ADDITIONS["add-heat-sink"].edit(ADDITIONS["add-region"].edit(EMPTY)[0])
    assert housed.couplings[-1].between == ("A", "chassis")


def test_a_bridge_of_one_part_is_called_by_its_value() -> None:
    shelf = catalogue().entries
    names = [bridge_of(shelf[id].part).name for id in ("y1-disc-4n7", "bead-0805-600r-general", "cmc-data-100u")]
    assert names == ["Y-capacitor 4.7 nF", "Bead 600 Ω", "Common-mode choke 615 Ω"]
    assert bridge_of(COPPER).name == "Copper"
