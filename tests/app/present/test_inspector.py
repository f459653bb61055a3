from __future__ import annotations

import pytest
from attrs import evolve

from app.present.inspector import inspector_form
from app.state.view import View
from models.assets import CASES
from models.case.document import Coupling
from models.case.read import load_case
from models.parts.copper import Copper
from models.parts.part import Part
from models.parts.plane_gap import PlaneGap

CASE = load_case(CASES / "class-ii-supply.toml")
GAP = PlaneGap(length_m=0.1, gap_m=1e-3, depth_m=0.05)
BAR = Copper(length_m=0.01, width_m=1e-3, thickness_m=35e-6)
STRAP = Copper(inductance_h=20e-9)


def offered(*parts: Part) -> list[tuple[tuple[str, str], ...]]:
    case = evolve(CASE, couplings=(Coupling(name="joint", between=("output", "earth"), parts=parts),))
    form = inspector_form(case, View(subject=("coupling", 0)))
    return [each.actions for each in form.sections[1:]]


def test_a_part_of_a_coupling_can_be_worked_out_from_geometry() -> None:
    assert offered(STRAP) == [(("work-out:couplings:0:parts:0", "From geometry…"),)]


@pytest.mark.parametrize("part", [GAP, BAR])
def test_what_is_given_by_its_geometry_has_no_need_of_it(part: Part) -> None:
    assert offered(part, STRAP) == [(), (("work-out:couplings:0:parts:1", "From geometry…"),)]


def test_a_transformer_is_worked_out_from_its_layers() -> None:
    form = inspector_form(CASE, View(subject=("transformer", 0)))
    assert form.sections[1].actions == (("wound-as:0", "Catalogue…"), ("work-out:transformers:0", "Geometry…"))
    assert form.sections[1].fields == ()


@pytest.mark.parametrize("kind", ["source", "requirement", "candidate", "case"])
def test_nothing_else_offers_it(kind: str) -> None:
    form = inspector_form(CASE, View(subject=(kind, 0)))
    assert not any(action.startswith("work-out") for each in form.sections for action, _ in each.actions)
