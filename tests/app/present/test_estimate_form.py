from __future__ import annotations

import pytest
from attrs import evolve

from app.present.estimate import error_text
from app.present.estimate_form import NO_TARGET, EstimateSpec, estimate_spec, step_name
from app.state.estimable import targets
from app.state.estimating import Draft, begun, taken, with_target, with_typed
from models.assets import CASES
from models.case.document import Case, Pair
from models.case.read import load_case
from models.estimate.estimate import Amount

CASE = load_case(CASES / "class-ii-supply.toml")
EMPTY = Case(pair=Pair(a="A", b="B"))


def spec_of(draft: Draft, case: Case = CASE) -> EstimateSpec:
    return estimate_spec(draft, case, lambda text, _: 6.5 * len(text))


def test_it_offers_the_estimates_that_suit_the_value() -> None:
    spec = spec_of(with_target(begun(CASE), targets(CASE)[3]))
    assert spec.targets[spec.target] == "output stray, capacitance"
    assert spec.names == ("body-over-plane", "free-body", "pad", "lead-over-plane", "lead-to-lead")
    assert spec.now == "output stray, capacitance is 100 pF in the case."


def test_it_shows_value_error_equation_and_numbers() -> None:
    spec = spec_of(begun(CASE))
    assert (spec.name, spec.value) == ("Interwinding capacitance", "51.3 pF")
    assert spec.error.replace("\N{NO-BREAK SPACE}", " ") == "usually ±30 %: 36 pF to 67 pF"
    assert spec.equation == "C = n·ε0·εr·lt·w/(d + 0.11·D)"
    assert "200\N{NO-BREAK SPACE}µm" in spec.working
    assert "standard" in spec.caution
    assert spec.use == "Use 51.3 pF"


def test_fields_carry_the_sign_of_the_equation_and_their_meaning() -> None:
    (section,) = spec_of(begun(CASE)).form.sections
    labels = [each.label for each in section.fields]
    assert labels == ["Mean turn, lt", "Width, w", "Insulation, d", "Wire, D", "Permittivity, εr", "Interfaces, n"]
    assert section.fields[2].note == "insulation from metal to metal, enamel counted in"


def test_a_meaning_that_only_repeats_the_name_is_not_said_twice() -> None:
    (section,) = spec_of(evolve(begun(EMPTY), name="strap"), EMPTY).form.sections
    assert [each.note for each in section.fields[:3]] == ["", "", ""]


def test_the_other_value_of_a_lead_stands_beside() -> None:
    draft = evolve(with_target(begun(CASE), targets(CASE)[3]), name="lead-over-plane")
    assert spec_of(draft).limits.startswith("Inductance 921\N{NO-BREAK SPACE}nH.")


def test_what_stands_in_the_case_already_need_not_be_used() -> None:
    draft = begun(CASE)
    changed = taken(CASE, targets(CASE)[0], 51.3e-12)
    assert spec_of(draft).use
    assert spec_of(draft, changed).use == ""


def test_without_a_value_of_the_case_there_is_nothing_to_use() -> None:
    spec = spec_of(begun(EMPTY), EMPTY)
    assert spec.targets == (NO_TARGET,)
    assert (spec.use, spec.now, spec.refused) == ("", "", "")


def test_a_value_that_is_gone_leaves_the_estimate() -> None:
    draft = with_target(begun(CASE), targets(CASE)[0])
    spec = spec_of(draft, evolve(CASE, transformers=(), sources=()))
    assert spec.targets[spec.target] == NO_TARGET
    assert spec.names[spec.chosen] == "interwinding"


def test_what_the_case_refuses_says_why() -> None:
    draft = with_target(begun(CASE), targets(CASE)[1])
    for key, text in (("layers", "3"), ("nearest", "hot end"), ("secondary_swing", "1"), ("sense", "opposite sense")):
        draft = with_typed(draft, (key,), text)
    spec = spec_of(draft)
    assert spec.use == ""
    assert spec.refused == "The case takes 0 or more and at most 100 %."


def test_the_step_of_undo_names_the_value() -> None:
    assert step_name(targets(CASE)[1]) == "Work out T1, driven share"


@pytest.mark.parametrize(
    ("low", "value", "high", "said"),
    [
        (0.7e-9, 1e-9, 1.3e-9, "usually ±30 %: 700 pH to 1.3 nH"),
        (0.5e-9, 1e-9, 1.05e-9, "usually −50 % to +5 %: 500 pH to 1.1 nH"),
        (0.0, 0.0, 0.2e-9, "usually below 200 pH"),
    ],
)
def test_the_usual_error_is_said_as_share_and_range(low: float, value: float, high: float, said: str) -> None:
    assert error_text(Amount(key="inductance", unit="H", value=value, low=low, high=high)) == said
