"""Parts that a case takes from the catalogue: read, changed, written, read again."""

from __future__ import annotations

import math
from typing import Any

import attrs
import pytest

from models.case.document import Case
from models.case.read import parse_case
from models.case.write import case_text
from models.catalogue.codec import PartKinds, is_reference
from models.catalogue.entry import Construction
from models.catalogue.shelf import catalogue, shipped
from models.codec import Place
from models.declare import get_path, set_path
from models.errors import CaseError
from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from tests.models.catalogue.conftest import Put

CASE = """isthmus = 1
[pair]
a = "quiet"
b = "noisy"

[[candidate]]
name = "bead"
[[candidate.branch]]
# the one on the drawing
parts = [
  { kind = "catalogue", part = "bead-0603-600r-signal", bias_current = "0.1 A" },  # with its load
  { kind = "copper", inductance = "1 nH" },
]
"""
PART = ("candidates", 0, "branches", 0, "parts", 0)
IDS = [entry.id for file in shipped() for entry in file.entries if not isinstance(entry.subject, Construction)]


def part_of(case: Case) -> Any:
    return get_path(case, PART)


def problem(text: str) -> str:
    with pytest.raises(CaseError) as caught:
        parse_case(text)
    return str(caught.value)


def test_a_part_of_the_catalogue_is_a_part_of_its_kind() -> None:
    part = part_of(parse_case(CASE))
    assert isinstance(part, Bead)
    assert part.bias_current_a == 0.1
    assert part.rated_current_a == 0.5
    assert is_reference(part)
    free = catalogue().entries["bead-0603-600r-signal"].part
    assert attrs.evolve(part, bias_current_a=0.0) == free


@pytest.mark.parametrize("id", IDS)
def test_every_entry_is_written_as_its_id(id: str) -> None:
    part = catalogue().entries[id].part
    written = PartKinds().write(part)
    assert written == {"kind": "catalogue", "part": id}
    assert PartKinds().read(written, Place((), [])) == part


def test_a_file_that_did_not_change_is_written_to_the_letter() -> None:
    assert case_text(parse_case(CASE), CASE) == CASE


@pytest.mark.parametrize(
    ("path", "value", "written"),
    [
        (("rdc_ohm",), 0.2, 'rdc = "200 mΩ"'),
        (("rdc_ohm",), 0.0, 'rdc = "0 Ω"'),
        (("bias_family",), "power", 'bias_family = "power"'),
        (("cells", 0, "resistance_ohm"), 800.0, 'resistance = "800 Ω"'),
        (("rating", "tolerance"), 0.0, "tolerance = 0"),
        (("rating", "rated_voltage_v"), 50.0, 'rated_voltage = "50 V"'),
        (("rating", "note"), "mine", 'note = "mine"'),
        (("rating", "note"), None, 'without = ["note"]'),
    ],
)
def test_what_is_changed_stands_beside_the_id(path: tuple[str, ...], value: Any, written: str) -> None:
    case = parse_case(CASE)
    changed: Case = set_path(case, (*PART, *path), value)
    text = case_text(changed, CASE)
    assert written in text
    assert 'part = "bead-0603-600r-signal"' in text
    assert "# with its load" in text
    assert 'bias_current = "0.1 A"' in text
    assert parse_case(text) == changed
    assert parse_case(case_text(changed)) == changed
    assert parse_case(case_text(case, text)) == case


def test_a_value_set_back_leaves_no_trace() -> None:
    case = parse_case(CASE)
    text = case_text(set_path(case, (*PART, "bias_current_a"), 0.0), CASE)
    assert "bias_current" not in text
    assert PartKinds().write(part_of(parse_case(text))) == {"kind": "catalogue", "part": "bead-0603-600r-signal"}


def test_another_entry_in_its_place() -> None:
    case = parse_case(CASE)
    for id in ("bead-1206-50r-power", "y1-disc-2n2"):
        changed: Case = set_path(case, PART, catalogue().entries[id].part)
        text = case_text(changed, CASE)
        assert f'part = "{id}"' in text
        assert parse_case(text) == changed


def test_a_part_can_be_cut_loose_from_its_entry() -> None:
    case = parse_case(CASE)
    changed: Case = set_path(case, (*PART, "rating", "catalogue"), None)
    text = case_text(changed, CASE)
    assert 'kind = "bead"' in text
    assert parse_case(text) == changed


def test_an_unknown_id_says_where_and_what_is_near() -> None:
    message = problem(CASE.replace("600r-signal", "600r-signl"))
    assert 'candidate[0].branch[0].parts[0].part: found "bead-0603-600r-signl"' in message
    assert "bead-0603-600r-signal" in message
    assert "line 10" in message


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('part = "bead-0603-600r-signal", ', "", "parts[0].part: found nothing"),
        ('"bead-0603-600r-signal"', "5", "parts[0].part: found 5"),
        ('"bead-0603-600r-signal"', '"transformer-planar"', "belong under [[transformer]]"),
        ('"bead-0603-600r-signal"', '"zzz"', "such as"),
        ("bias_current", "bias_curent", "parts[0].bias_curent: found an unknown key"),
        ('"0.1 A"', '"0.1 V"', 'parts[0].bias_current: found "0.1 V"'),
        ('bias_current = "0.1 A"', 'without = ["nothing"]', "parts[0].without"),
        ('bias_current = "0.1 A"', "without = 3", "parts[0].without: found 3"),
        ('bias_current = "0.1 A"', 'without = ["cells"]', "parts[0].cells: found nothing"),
        (
            'bias_current = "0.1 A"',
            'without = ["rated_current"], bias_current = "1 A"',
            "bias_current without a rated_current",
        ),
        ('"catalogue"', '"catalog"', ", catalogue"),
    ],
)
def test_a_wrong_reference_says_where_and_what(old: str, new: str, says: str) -> None:
    assert says in problem(CASE.replace(old, new))


def test_geometry_cannot_be_mixed_with_values() -> None:
    text = CASE.replace("bead-0603-600r-signal", "copper-tie-1x1").replace(
        'bias_current = "0.1 A"', 'inductance = "1 nH"'
    )
    assert "values and a geometry" in problem(text)
    freed = text.replace("copper-tie-1x1", 'copper-tie-1x1", without = ["length", "width", "thickness"], note = "x')
    assert math.isclose(part_of(parse_case(freed)).inductance_h, 1e-9)


OWN = """isthmus_catalogue = 1
[[entry]]
id = "mine"
title = "Mine"
kind = "capacitor"
capacitance = "1 nF"
esl = "2 nH"
"""


def test_own_parts_are_used_in_cases(put: Put) -> None:
    put("own.toml", OWN)
    text = CASE.replace("bead-0603-600r-signal", "mine").replace('bias_current = "0.1 A"', 'esr = "0.1 ohm"')
    part = part_of(parse_case(text))
    assert isinstance(part, Capacitor)
    assert (part.capacitance_f, part.esr_ohm, part.esl_h) == (1e-9, 0.1, 2e-9)


def test_a_case_outlives_the_entry_it_was_made_with(put: Put) -> None:
    path = put("own.toml", OWN)
    text = CASE.replace("bead-0603-600r-signal", "mine").replace('bias_current = "0.1 A"', 'esr = "0.1 ohm"')
    case = parse_case(text)
    path.unlink()
    saved = case_text(case, text)
    assert part_of(parse_case(saved)) == attrs.evolve(
        part_of(case), rating=attrs.evolve(part_of(case).rating, catalogue=None)
    )


def test_an_entry_that_changed_meanwhile_does_not_change_an_open_case(put: Put) -> None:
    put("own.toml", OWN)
    text = CASE.replace("bead-0603-600r-signal", "mine").replace('bias_current = "0.1 A"', 'esr = "0.1 ohm"')
    case = parse_case(text)
    put("own.toml", OWN.replace('"2 nH"', '"20 nH"'))
    assert part_of(parse_case(case_text(case, text))).esl_h == 2e-9


def test_a_broken_own_file_is_named_where_an_id_is_not_found(put: Put) -> None:
    put("own.toml", OWN.replace('"1 nF"', '"1 nH"'))
    message = problem(CASE.replace("bead-0603-600r-signal", "mine"))
    assert "own.toml" in message
    assert '"1 nH"' in message
