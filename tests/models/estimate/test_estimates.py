from __future__ import annotations

import math
import re
from typing import Any

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from models.codec import Count, Quantity, Text
from models.declare import Key, get_path, keys_of, set_path
from models.errors import QuantityError
from models.estimate.estimate import Estimate
from models.estimate.flat import Detour, Strap
from models.estimate.lead import ALONG, Lead, LeadOverPlane, LeadToLead, WirePair
from models.estimate.neck import Neck
from models.estimate.registry import ESTIMATES, estimates_for
from models.estimate.stray import BodyOverPlane, FreeBody, Pad
from models.estimate.winding import BOTH_ENDS, HOT, OPPOSITE, SHIELD, DrivenShare, Interwinding
from models.quantity import format_quantity


def first(made: Estimate) -> float:
    return made.result().amounts[0].value


@pytest.mark.parametrize("of", ESTIMATES.values(), ids=lambda of: of.name)
def test_every_value_is_declared_with_meaning_default_and_usual_range(of: type[Estimate]) -> None:
    for key in keys_of(of).values():
        assert key.doc
        assert not key.required
        if isinstance(key.codec, Quantity):
            low, high = key.attribute.metadata["usual"]
            assert key.default() is None or key.default() == 0.0 or low <= key.default() <= high
    assert set(of.symbols) <= set(keys_of(of))


@pytest.mark.parametrize("of", ESTIMATES.values(), ids=lambda of: of.name)
def test_the_result_says_all_that_is_needed_to_judge_it(of: type[Estimate]) -> None:
    result = of().result()
    for sign in of.symbols.values():
        assert sign in result.equation or sign in ("t", "h", "δ", "m", "n"), f"{sign} is in no equation"
    for amount in result.amounts:
        assert amount.key in of.suits
        assert amount.low <= amount.value <= amount.high
        assert format_quantity(amount.value, amount.unit, digits=3) in result.working
    assert result.assumes.endswith(".")
    assert result.source.endswith(".")
    assert all(note.endswith(".") for note in result.notes)


def test_every_sort_of_value_has_estimates() -> None:
    assert estimates_for("interwinding_capacitance") == (Interwinding,)
    assert estimates_for("driven_fraction") == (DrivenShare,)
    assert set(estimates_for("capacitance")) == {BodyOverPlane, FreeBody, Pad, LeadOverPlane, LeadToLead}
    assert estimates_for("esr") == ()


def _typed(key: Key) -> st.SearchStrategy[Any]:
    if isinstance(key.codec, Quantity):
        values: st.SearchStrategy[Any] = st.floats(1e-6, min(key.codec.high, 1e3))
        values = values if key.codec.positive else values | st.just(0.0)
        return values | st.none() if key.default() is None else values
    if isinstance(key.codec, Count):
        return st.integers(key.codec.low, key.codec.high)
    assert isinstance(key.codec, Text)
    return st.sampled_from(key.codec.choices)


@pytest.mark.parametrize("of", ESTIMATES.values(), ids=lambda of: of.name)
@given(data=st.data())
def test_whatever_is_accepted_gives_a_number_and_its_range(of: type[Estimate], data: st.DataObject) -> None:
    values = {key.path[0]: data.draw(_typed(key), label=key.key) for key in keys_of(of).values()}
    try:
        made = of(**values)
    except QuantityError:
        return
    for amount in made.result().amounts:
        assert 0.0 <= amount.low <= amount.value <= amount.high < float("inf")


@pytest.mark.parametrize(
    ("made", "key", "grows"),
    [
        (Interwinding(), "insulation", False),
        (Interwinding(), "interfaces", True),
        (Interwinding(), "wire", False),
        (BodyOverPlane(), "height", False),
        (BodyOverPlane(), "thickness", True),
        (FreeBody(), "width", True),
        (Pad(), "permittivity", True),
        (LeadToLead(), "spacing", False),
        (Lead(), "length", True),
        (Lead(), "diameter", False),
        (Strap(), "width", False),
        (WirePair(), "spacing", True),
        (WirePair(current=ALONG), "spacing", False),
        (Detour(), "distance", True),
        (Detour(), "gap", True),
        (Detour(), "ends", False),
        (Neck(), "width", False),
        (Neck(), "reach", True),
    ],
    ids=lambda each: getattr(each, "name", str(each)),
)
def test_each_dimension_acts_in_its_sense(made: Estimate, key: str, grows: bool) -> None:
    path = keys_of(type(made))[key].path
    more = set_path(made, path, 2 * get_path(made, path))
    assert (first(more) > first(made)) is grows


def test_a_strap_close_over_its_return_has_a_fraction_of_that_alone() -> None:
    assert first(Strap(height_m=1e-3)) < 0.2 * first(Strap())


def test_a_strap_alone_agrees_with_the_equation_that_is_shown() -> None:
    result = Strap().result()
    long, breadth = 0.1, 0.011
    shown = 2e-7 * long * (math.log(2.0 * long / breadth) + 0.5 + breadth / (4.5 * long))
    assert result.amounts[0].value == pytest.approx(shown, rel=0.01)


def test_two_wires_that_share_a_current_have_between_half_and_all_of_one() -> None:
    alone = first(Lead(length_m=50e-3))
    assert 0.5 * alone < first(WirePair(current=ALONG)) < alone


def test_lead_over_plane_gives_a_line_of_the_speed_of_light() -> None:
    capacitance, inductance = (each.value for each in LeadOverPlane(length_m=1.0).result().amounts)
    assert (capacitance * inductance) ** -0.5 == pytest.approx(299_792_458.0)


def test_two_leads_in_air_are_a_line_of_the_speed_of_light_too() -> None:
    between = first(LeadToLead(length_m=1.0, permittivity=1.0))
    loop = first(WirePair(length_m=1.0, diameter_m=4e-3, spacing_m=10e-3))
    assert (between * loop) ** -0.5 == pytest.approx(299_792_458.0)


def test_both_ends_that_swing_leave_what_is_uneven() -> None:
    assert first(DrivenShare(swing=BOTH_ENDS, imbalance=0.0)) == 0.0
    assert first(DrivenShare(swing=BOTH_ENDS)) == pytest.approx(0.05)
    assert first(DrivenShare(swing=BOTH_ENDS, layers=2)) > 0.5


def test_a_shield_holds_back_the_primary_and_not_the_secondary() -> None:
    assert first(DrivenShare(shield=SHIELD)) == pytest.approx(0.015)
    swinging = DrivenShare(shield=SHIELD, secondary_swing=0.4, sense=OPPOSITE)
    assert first(swinging) == pytest.approx(0.215)


def test_the_error_of_a_difference_is_that_of_its_terms() -> None:
    quiet = DrivenShare().result().amounts[0]
    matched = DrivenShare(secondary_swing=0.9).result().amounts[0]
    assert matched.value == pytest.approx(0.05)
    assert matched.high - matched.value > quiet.high - quiet.value


def test_a_secondary_that_swings_more_says_so() -> None:
    result = DrivenShare(layers=3, secondary_swing=0.8).result()
    assert result.amounts[0].value == pytest.approx(0.2333, abs=1e-4)
    assert any("the other way" in note for note in result.notes)


def test_more_than_the_whole_says_what_a_case_holds() -> None:
    result = DrivenShare(layers=3, nearest=HOT, secondary_swing=1.0, sense=OPPOSITE).result()
    assert result.amounts[0].value > 1.0
    assert any("100 % at most" in note for note in result.notes)


@pytest.mark.parametrize(
    ("made", "word"),
    [
        (Interwinding(width_m=2e-3, insulation_m=1e-3), "edges"),
        (Pad(width_m=3e-3, thickness_m=1e-3), "edges"),
        (BodyOverPlane(length_m=2.0), "rod"),
        (FreeBody(width_m=0.01, thickness_m=0.01), "rod"),
        (Lead(length_m=2e-3), "10 diameters"),
        (LeadOverPlane(length_m=0.1), "3 heights"),
        (LeadToLead(length_m=20e-3), "3 spacings"),
        (WirePair(length_m=10e-3), "3 spacings"),
    ],
    ids=lambda each: getattr(each, "name", ""),
)
def test_beyond_its_limits_an_estimate_says_so_and_within_does_not(made: Estimate, word: str) -> None:
    assert any(word in note for note in made.result().notes)
    assert not any(word in note for note in type(made)().result().notes)


@pytest.mark.parametrize(
    ("made", "change", "key"),
    [
        (LeadOverPlane(), {"height_m": 1e-3}, "height"),
        (Lead(), {"length_m": 1e-3}, "length"),
        (LeadToLead(), {"spacing_m": 4e-3}, "spacing"),
        (WirePair(), {"spacing_m": 0.5e-3}, "spacing"),
        (WirePair(), {"length_m": 1e-3}, "length"),
    ],
)
def test_what_cannot_be_built_is_refused(made: Any, change: dict[str, float], key: str) -> None:
    with pytest.raises(QuantityError) as caught:
        evolve(made, **change)
    assert caught.value.key == key
    assert re.match("more than", caught.value.accepted)


def test_what_goes_through_insulation_is_cautioned() -> None:
    cautioned = {name for name, of in ESTIMATES.items() if of().result().caution}
    assert cautioned == {"interwinding", "pad"}


def test_a_neck_costs_more_than_its_own_squares_and_is_refused_where_nothing_spreads() -> None:
    """35 µm: 0.4926 mΩ a square; 1 mm wide, fed within 20 mm, the planes alone make 1.374 mΩ."""
    assert first(Neck(length_m=0.0, width_m=1e-3)) == pytest.approx(1.374e-3, rel=1e-3)
    assert first(Neck()) == pytest.approx(0.4926e-3 * (5.0 / 3.0 + 2.0 / math.pi * math.log(80.0 / 3.0)), rel=1e-3)
    with pytest.raises(QuantityError, match="reach 1 mm"):
        Neck(reach_m=1e-3)
