"""Touch current against the whole network with the body in it, and against worked numbers."""

from __future__ import annotations

import math

import pytest
from attrs import evolve
from hypothesis import given, settings

from models.case.document import Branch, Candidate, Case, Coupling, Mains, Pair, Transformer
from models.network.solver import Solver
from models.outcomes.touch import TouchCurrent, touch_current
from models.parts.capacitor import Capacitor
from models.parts.part import Part, Rating
from models.parts.resistor import Resistor
from tests.laws.strategies import EARTH, RandomChoose, cases, random_case
from tests.reference.elements import Element, case_elements, merged
from tests.reference.exact import driven_by_voltage

BODY = (("touched", "skin", "R", 1500.0), ("touched", "skin", "C", 0.22e-6), ("skin", EARTH, "R", 500.0))
FILTER = (("skin", "filter", "R", 10e3), ("filter", EARTH, "C", 0.022e-6))


def body(touched: str, *, weighted: bool) -> tuple[Element, ...]:
    """Return the body network of IEC 60990 from a region to earth."""
    rows = BODY + (FILTER if weighted else ())
    return tuple(
        Element(ends=(touched if one == "touched" else one, other), kind=kind, value=value)
        for one, other, kind, value in rows
    )


def reference(case: Case, candidate: Candidate, mains: Mains, *, weighted: bool) -> float:
    """Return U1/500 Ω or U2/500 Ω for 1 V of mains, the body solved with the network."""
    elements = (*case_elements(case, candidate), *body(mains.touched, weighted=weighted))
    solved = driven_by_voltage(elements, 2.0 * math.pi * mains.frequency_hz, EARTH, mains.feeds)
    assert solved is not None
    return abs(solved.across("filter" if weighted else "skin", EARTH) or 0.0) / 500.0


def at_upper_tolerance(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    return tuple(part.scaled(1.0 + part.rating.tolerance) if part.blocks_dc() else part for part in parts)


def worst(case: Case, candidate: Candidate) -> tuple[Case, Candidate]:
    transformers = tuple(
        evolve(each, interwinding_capacitance_f=each.interwinding_capacitance_f * (1.0 + each.tolerance))
        for each in case.transformers
    )
    couplings = tuple(evolve(each, parts=at_upper_tolerance(each.parts)) for each in case.couplings)
    branches = tuple(evolve(each, parts=at_upper_tolerance(each.parts)) for each in candidate.branches)
    return evolve(case, transformers=transformers, couplings=couplings), evolve(candidate, branches=branches)


def check(case: Case, candidate: Candidate) -> None:
    found, mains = touch_current(Solver(), case, candidate), case.mains
    assert found is not None
    assert mains is not None
    upper_v = mains.voltage_v * (1.0 + mains.tolerance)
    values = ((found.unweighted_a, False), (found.weighted_a, True))
    for value, weighted in values:
        wanted = mains.voltage_v * reference(case, candidate, mains, weighted=weighted)
        assert value == pytest.approx(wanted, rel=1e-6, abs=1e-30)
    for value, weighted in ((found.worst_unweighted_a, False), (found.worst_weighted_a, True)):
        wanted = upper_v * reference(*worst(case, candidate), mains, weighted=weighted)
        assert value == pytest.approx(wanted, rel=1e-6, abs=1e-30)


def mains_shorted(case: Case, candidate: Candidate) -> bool:
    """Return whether 0 Ω joins the fed region to earth, where an ideal mains source contradicts itself."""
    assert case.mains is not None
    leader = merged(case_elements(case, candidate), 2.0 * math.pi * case.mains.frequency_hz)
    return leader.get(case.mains.feeds, case.mains.feeds) == leader.get(EARTH, EARTH)


@given(case=cases(ratings=True))
@settings(max_examples=30)
def test_touch_current_of_random_networks(case: Case) -> None:
    for candidate in case.candidates:
        if not mains_shorted(case, candidate):
            check(case, candidate)


@pytest.mark.parametrize("seed", range(60))
def test_touch_current_of_many_networks(seed: int) -> None:
    case = random_case(RandomChoose(9000 + seed), sources=0)
    check(case, case.candidates[1])


def class_two(*parts: Part, mains: Mains, extra_f: float | None = None) -> TouchCurrent:
    coupling = Coupling(name="c", between=("hot", "out"), parts=(Capacitor(capacitance_f=extra_f or 1e-18),))
    candidate = Candidate(name="it", branches=(Branch(parts=parts),) if parts else ())
    case = Case(pair=Pair(a="hot", b="out"), couplings=(coupling,), candidates=(candidate,), mains=mains)
    found = touch_current(Solver(), case, candidate)
    assert found is not None
    return found


def mains_of(voltage_v: float, frequency_hz: float, tolerance: float = 0.0) -> Mains:
    return Mains(voltage_v=voltage_v, frequency_hz=frequency_hz, tolerance=tolerance, feeds="hot", touched="out")


def test_worst_case_exceeds_a_quarter_of_a_milliampere() -> None:
    """physics, 9.2: 2.2 nF + 20 % at 264 V and 60 Hz are 0.2627 mA, over the limit that nominal values keep."""
    part = Capacitor(capacitance_f=2.2e-9, rating=Rating(tolerance=0.2))
    found = class_two(part, mains=mains_of(240.0, 60.0, 0.1))
    assert found.worst_unweighted_a == pytest.approx(0.2627e-3, rel=4e-4)
    assert found.unweighted_a < 0.25e-3 < found.worst_unweighted_a


@pytest.mark.parametrize(("capacitance_f", "taken_off"), [(2.2e-9, 1.1e-4), (20e-9, 1.1e-3), (100e-9, 7.5e-3)])
def test_the_person_takes_little_off_the_current_of_the_capacitor_alone(capacitance_f: float, taken_off: float) -> None:
    """I = 2πfCV without the person."""
    alone = 2.0 * math.pi * 50.0 * capacitance_f * 230.0
    found = class_two(Capacitor(capacitance_f=capacitance_f), mains=mains_of(230.0, 50.0)).unweighted_a
    assert alone * (1.0 - taken_off) < found < alone


def test_interwinding_capacitance_adds_to_the_bridge() -> None:
    alone = class_two(Capacitor(capacitance_f=2.2e-9), mains=mains_of(230.0, 50.0)).unweighted_a
    both = class_two(Capacitor(capacitance_f=2.1e-9), mains=mains_of(230.0, 50.0), extra_f=100e-12).unweighted_a
    assert both == pytest.approx(alone, rel=1e-9)


def test_transformers_worst_is_its_own_tolerance() -> None:
    winding = Transformer(name="T", between=("hot", "out"), interwinding_capacitance_f=1e-9, tolerance=0.5)
    case = Case(
        pair=Pair(a="hot", b="out"),
        transformers=(winding,),
        candidates=(Candidate(name="none"),),
        mains=mains_of(230.0, 50.0),
    )
    found = touch_current(Solver(), case, case.candidates[0])
    assert found is not None
    assert found.worst_unweighted_a == pytest.approx(1.5 * found.unweighted_a, rel=1e-3)


def test_bleed_resistor_adds_its_own_current() -> None:
    """physics, 10.2: 264 V over 1 MΩ are 0.2640 mA."""
    found = class_two(Resistor(resistance_ohm=1e6), mains=mains_of(264.0, 60.0))
    assert found.unweighted_a == pytest.approx(0.2640e-3, rel=3e-3)


def test_copper_puts_the_person_on_the_mains() -> None:
    found = class_two(Resistor(resistance_ohm=0.0), mains=mains_of(230.0, 50.0))
    assert found.unweighted_a == pytest.approx(230.0 / 1990.0, rel=3e-4)


def test_no_mains_no_touch_current() -> None:
    case = evolve(random_case(RandomChoose(1)), mains=None)
    assert touch_current(Solver(), case, case.candidates[1]) is None
