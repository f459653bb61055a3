from __future__ import annotations

import pytest
from attrs import evolve

from app.state.estimable import targets
from app.state.estimating import (
    amount_for,
    begun,
    suited,
    taken,
    target_of,
    with_target,
    with_typed,
    with_value,
)
from models.assets import CASES
from models.case.document import Case, Coupling, Pair
from models.case.read import load_case
from models.codec import KeyPath
from models.declare import get_path
from models.errors import QuantityError
from models.estimate.registry import ESTIMATES
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.resistor import Resistor

CASE = load_case(CASES / "class-ii-supply.toml")
EMPTY = Case(pair=Pair(a="A", b="B"))
STRAY, DAMPED = Capacitor(capacitance_f=1e-12), Resistor(resistance_ohm=10.0)


def test_windings_come_first_then_couplings_then_the_copper_of_bridges() -> None:
    assert [(each.of, each.key) for each in targets(CASE)] == [
        (("T1",), "interwinding_capacitance"),
        (("T1",), "driven_fraction"),
        (("optocoupler",), "capacitance"),
        (("output stray",), "capacitance"),
        (("Copper", "branch 1"), "inductance"),
        (("Copper", "branch 1"), "resistance"),
    ]


def test_every_target_leads_to_its_value() -> None:
    for each in targets(CASE):
        assert isinstance(get_path(CASE, each.path), float)
        assert str(each.path[-1]).startswith(each.key)


def test_parts_in_series_are_told_apart_and_geometry_is_left_alone() -> None:
    bar = Copper(length_m=0.01, width_m=1e-3, thickness_m=35e-6)
    case = evolve(EMPTY, couplings=(Coupling(name="sink", between=("A", "earth"), parts=(STRAY, DAMPED, bar)),))
    assert [each.of for each in targets(case)] == [("sink", "capacitor 1"), ("sink", "resistor 2")]


@pytest.mark.parametrize(
    ("near", "names"), [((), "T1"), (("transformers", 0), "T1"), (("couplings", 1, "parts", 0), "output stray")]
)
def test_it_begins_with_what_is_near(near: KeyPath, names: str) -> None:
    target = target_of(begun(CASE, near), CASE)
    assert target is not None
    assert target.of == (names,)


def test_without_a_value_that_suits_everything_can_be_worked_out() -> None:
    draft = begun(EMPTY)
    assert target_of(draft, EMPTY) is None
    assert len(suited(None)) == len(ESTIMATES)


def test_another_value_keeps_an_estimate_that_suits_it() -> None:
    sink, stray = targets(CASE)[2:4]
    draft = evolve(with_target(begun(CASE), sink), name="pad")
    assert with_target(draft, stray).name == "pad"
    assert with_target(draft, targets(CASE)[0]).name == "interwinding"


def test_dimensions_are_typed_as_the_trade_types_them_and_stay_with_their_estimate() -> None:
    draft = evolve(begun(EMPTY), name="strap")
    draft = with_typed(draft, ("height_m",), "1mm")
    draft = with_typed(draft, ("length_m",), "5 cm")
    other = evolve(draft, name="lead")
    back = evolve(other, name="strap").made
    assert (get_path(back, ("length_m",)), get_path(back, ("height_m",))) == (0.05, 1e-3)
    assert get_path(with_typed(draft, ("height_m",), "").made, ("height_m",)) is None


@pytest.mark.parametrize("text", ["abc", "-1 mm", "0", "0.5 mm"])
def test_what_cannot_be_is_refused(text: str) -> None:
    draft = evolve(begun(EMPTY), name="lead")
    with pytest.raises(QuantityError):
        with_typed(draft, ("length_m",), text)


def test_the_amount_is_that_of_the_value_meant() -> None:
    draft = evolve(begun(CASE), name="lead-over-plane")
    bridge = targets(CASE)[-2]
    assert amount_for(bridge, draft.result()).key == "inductance"
    assert amount_for(targets(CASE)[2], draft.result()).key == "capacitance"


def test_the_value_goes_to_its_place_alone() -> None:
    stray = targets(CASE)[3]
    changed = taken(CASE, stray, 12e-12)
    assert get_path(changed, stray.path) == 12e-12
    assert evolve(changed, couplings=CASE.couplings) == CASE


def test_a_share_beyond_the_whole_is_refused_by_the_case() -> None:
    with pytest.raises(QuantityError):
        taken(CASE, targets(CASE)[1], 1.3)


def test_a_dragged_value_is_taken_as_it_is() -> None:
    draft = with_value(begun(CASE), ("width_m",), 0.0123)
    assert get_path(draft.made, ("width_m",)) == 0.0123
