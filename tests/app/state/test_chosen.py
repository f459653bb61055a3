"""What the choices of the view come to for a case."""

from __future__ import annotations

import pytest
from attrs import evolve

from app.state.chosen import asked_emission, change_of, chosen_event, required_line
from app.state.view import View
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.limits import limits
from models.outcomes.event import KINDS

SUPPLY = load_case(CASES / "earthed-or-floating.toml")


def changed(view: View, name: str, value: str) -> View:
    return evolve(view, **change_of(view, name, value))


def line_name(case: Case, view: View) -> str:
    line = asked_emission(case, view).line
    return "" if line is None else line.name


def test_the_cases_own_line_comes_first_then_the_chosen_one_then_none() -> None:
    view = View(mode="conducted")
    assert line_name(SUPPLY, view) == "CISPR 32 class B, mains port"
    other = next(name for name in limits().names("conducted") if "class A" in name)
    chosen = changed(view, "line", other)
    assert line_name(SUPPLY, chosen) == other
    assert chosen.radiated_line is None
    assert line_name(SUPPLY, changed(view, "line", "")) == ""
    assert required_line(evolve(SUPPLY, requirements=()), "conducted") is None
    assert line_name(evolve(SUPPLY, requirements=()), view) == "CISPR 32 class B, mains port"


def test_another_distance_takes_the_line_of_the_same_class_there() -> None:
    view = View(mode="radiated")
    assert asked_emission(SUPPLY, view).distance_m == 10.0
    nearer = changed(view, "distance", "3.0")
    assert line_name(SUPPLY, nearer) == "CISPR 32 class B, field at 3 m"
    assert asked_emission(SUPPLY, nearer).distance_m == 3.0
    back = changed(nearer, "line", "CISPR 32 class A, field at 10 m")
    assert asked_emission(SUPPLY, back).distance_m == 10.0
    lone = changed(changed(view, "line", "FCC 15.109 class B, field at 3 m"), "distance", "10.0")
    assert asked_emission(SUPPLY, lone).line is None


def test_a_detector_is_chosen_or_the_deciding_one() -> None:
    view = changed(View(mode="conducted"), "detector", "average")
    assert asked_emission(SUPPLY, view).detector == "average"
    assert asked_emission(SUPPLY, changed(view, "detector", "")).detector is None


def test_an_event_hits_the_second_region_until_another_is_chosen() -> None:
    view = View(mode="event")
    event = chosen_event(SUPPLY, view)
    assert (event.kind, event.into, event.level_v) == ("discharge", "output", 4e3)
    there = changed(view, "into", "inlet")
    assert chosen_event(SUPPLY, there).into == "inlet"
    assert chosen_event(evolve(SUPPLY, pair=evolve(SUPPLY.pair, others=())), there).into == "output"


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_another_kind_keeps_the_nearest_level_that_it_has(kind: str) -> None:
    view = changed(changed(View(mode="event"), "level", "8000.0"), "kind", kind)
    event = chosen_event(SUPPLY, view)
    assert event.level_v in KINDS[kind].levels_v
    assert event.level_v == max(KINDS[kind].levels_v)


def test_the_source_is_chosen_by_its_place() -> None:
    assert changed(View(), "source", "2").source == 2
    assert changed(View(), "shows", "ratings").event.shows == "ratings"
