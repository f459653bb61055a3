from __future__ import annotations

import pytest
from attrs import evolve

from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case, parse_case
from models.case.write import case_text
from models.catalogue.shelf import catalogue
from models.decide.judges import judge
from models.decide.offers import catalogue_offers
from models.decide.quick_peaks import quick_peaks
from models.decide.search import search
from models.decide.structures import Offer, Structure, grown_structures, plain_structures
from models.decide.subject import Subject
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Rating
from models.parts.resistor import Resistor


def _y(farad: float, safety_class: str = "Y1", price: float = 1.0) -> Offer:
    rating = Rating(safety_class=safety_class, tolerance=0.2)
    part = Capacitor(capacitance_f=farad, esr_ohm=0.2, esl_h=8e-9, rating=rating)
    return Offer(name=f"{safety_class} {farad * 1e9:g} nF", part=part, price=price)


OFFERS = (
    *(_y(farad) for farad in (0.47e-9, 1e-9, 1.5e-9, 2.2e-9, 3.3e-9)),
    *(_y(farad, "Y2", 0.5) for farad in (2.2e-9, 3.3e-9)),
    Offer(name="plain 1.5 nF", part=Capacitor(capacitance_f=1.5e-9), price=0.1),
    Offer(name="10 Ω", part=Resistor(resistance_ohm=10.0), price=0.1),
    Offer(name="10 MΩ", part=Resistor(resistance_ohm=1e7), price=0.1),
    Offer(name="bead", part=Bead(cells=(Cell(resistance_ohm=60.0, inductance_h=1e-7),)), price=0.1),
    Offer(name="copper", part=Copper(resistance_ohm=1e-3), price=0.0),
    Offer(name="coil", part=Inductor(inductance_h=1e-3)),
)


def _class_ii() -> Case:
    return load_case(CASES / "class-ii-supply.toml")


def _fresh(case: Case, name: str) -> set[str]:
    """Return the outcomes of a candidate from a new evaluator, the case written and read again."""
    again = parse_case(case_text(case))
    evaluator = Evaluator()
    outcome = evaluator.evaluate(again).outcome(name)
    return {verdict.outcome for verdict in judge(evaluator, again, outcome)}


def test_no_offer_fails_when_evaluated_afresh() -> None:
    case = _class_ii()
    result = search(case, OFFERS)
    assert result is not None
    assert result.found
    for found in result.found:
        alone = evolve(case, candidates=(found.candidate,))
        assert "fail" not in _fresh(alone, found.candidate.name), found.candidate.name


def test_nothing_that_passes_is_left_out() -> None:
    """Brute force over the same bridges, without any short cut, finds the same ones."""
    case = _class_ii()
    result = search(case, OFFERS)
    assert result is not None
    plain = list(plain_structures(each for each in OFFERS if each.name != "coil"))
    every = [*plain, *(grown for each in plain for grown in grown_structures(each, OFFERS))]
    evaluator = Evaluator()
    passed = set()
    for structure in every:
        tried = evolve(case, candidates=(structure.candidate(),))
        verdicts = judge(evaluator, tried, evaluator.evaluate(tried).outcomes[0])
        if all(each.outcome != "fail" for each in verdicts):
            passed.add(structure.name)
    assert passed == {each.structure.name for each in result.found}
    assert "Y1 1.5 nF" in passed


def test_fewest_parts_first_then_price_then_margin() -> None:
    result = search(_class_ii(), OFFERS)
    assert result is not None
    keys = [(each.structure.count, each.structure.price, -each.margin_db) for each in result.found]
    assert keys == sorted(keys)
    assert result.found[0].structure.count == 1


def test_the_front_is_beaten_by_none() -> None:
    case = evolve(_class_ii(), requirements=())
    result = search(case, OFFERS)
    assert result is not None
    front = result.pareto()
    for each in front:
        assert not any(
            other.peak_v <= each.peak_v and other.touch_a < each.touch_a for other in result.found if other is not each
        )
    touches = [each.touch_a for each in front]
    assert touches == sorted(touches, reverse=True)
    assert len(front) > 3


def test_the_best_is_that_of_a_brute_force_with_emission_judged_too() -> None:
    """All bridges evaluated without a short cut, against a conducted limit line: the quietest and the front agree."""
    lead = load_case(CASES / "earthed-or-floating.toml").cables[0]
    base = _class_ii()
    case = evolve(base, cables=(evolve(lead, region=base.pair.a),), requirements=base.requirements[:3])
    result = search(case, OFFERS)
    assert result is not None
    plain = list(plain_structures(each for each in OFFERS if each.name != "coil"))
    every = [*plain, *(grown for each in plain for grown in grown_structures(each, OFFERS))]
    points = {}
    for structure in every:
        evaluator = Evaluator()
        tried = evolve(case, candidates=(structure.candidate(),))
        outcome = evaluator.evaluate(tried).outcomes[0]
        if all(each.outcome != "fail" for each in judge(evaluator, tried, outcome)):
            (own,) = outcome.conducted[0].each
            inside = (own.f_hz >= 150e3) & (own.f_hz <= 30e6)
            assert outcome.touch is not None
            points[structure.name] = (max(own.read("quasi-peak")[inside]), outcome.touch.worst_unweighted_a)
    unbeaten = {
        name
        for name, (loud, touch) in points.items()
        if not any(other[0] < loud and other[1] < touch for other in points.values())
    }
    front = result.pareto()
    assert {each.structure.name for each in result.found} == set(points)
    assert {each.structure.name for each in front} <= unbeaten
    assert len(front) > 1
    assert front[0].structure.name == min(points, key=lambda name: points[name])


def test_a_bleed_and_damping_are_added_only_to_capacitors() -> None:
    capacitor, copper = Structure(branches=((OFFERS[0],),)), Structure(branches=((OFFERS[11],),))
    assert [each.name for each in grown_structures(capacitor, OFFERS)] == [
        "Y1 0.47 nF + 10 Ω",
        "Y1 0.47 nF ∥ 10 MΩ",
        "Y1 0.47 nF + bead",
    ]
    assert list(grown_structures(copper, OFFERS)) == []


def test_it_stops_when_told_and_reports_progress() -> None:
    seen: list[float] = []
    assert search(_class_ii(), OFFERS, progress=seen.append) is not None
    assert seen == sorted(seen)
    assert seen[-1] == 1.0
    assert search(_class_ii(), OFFERS, cancelled=lambda: True) is None


def test_where_no_candidate_can_isolate_none_is_offered() -> None:
    shield = 'name = "USB shield"\nbetween = ["hot side", "output"]\nparts = [{ kind = "copper", resistance = 0.02 }]\n'
    case = parse_case(case_text(_class_ii()) + f"\n[[coupling]]\n{shield}")
    result = search(case, OFFERS)
    assert result is not None
    assert result.found == ()
    assert result.tried >= len(OFFERS)


@pytest.mark.parametrize("name", ["gateway", "class-ii-supply", "sensor-board"])
def test_the_quick_peak_never_contradicts_the_verdict(name: str) -> None:
    case = load_case(CASES / f"{name}.toml")
    solver = Solver()
    quick = quick_peaks(solver, case)
    for structure in plain_structures(OFFERS[:12]):
        subject = Subject(solver=solver, case=case, candidate=structure.candidate())
        peak = max(each.peak_v for each in subject.worst_common_mode)
        assert not quick.exceeds(structure, peak * (1.0 + 1e-9))


def test_the_catalogue_is_offered_without_isolators() -> None:
    offers = catalogue_offers(catalogue())
    assert len(offers) > 80
    assert not any("isolator" in offer.name.lower() for offer in offers)


def test_the_whole_catalogue_over_the_shipped_cases() -> None:
    offers = catalogue_offers(catalogue())
    for name in ("gateway", "class-ii-supply"):
        case = load_case(CASES / f"{name}.toml")
        result = search(case, offers)
        assert result is not None
        assert result.tried > 500
        for found in result.found[:5]:
            assert "fail" not in _fresh(evolve(case, candidates=(found.candidate,)), found.candidate.name)
