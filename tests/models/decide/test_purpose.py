from __future__ import annotations

import pytest
from attrs import evolve

from models.assets import CASES
from models.case.read import load_case, parse_case
from models.case.write import case_text
from models.decide.judges import judge_one
from models.decide.presets import origin_of, preset_of, presets, requirement_from
from models.decide.purpose import COPPER, NO_ISOLATION, purpose
from models.decide.questions import QUESTIONS
from models.decide.subject import Subject
from models.network.solver import Solver

GROUPS = {"household", "information technology", "medical", "laboratory", "lighting"}


def test_every_group_has_a_preset_with_edition_and_confidence() -> None:
    assert {each.group for each in presets()} == GROUPS
    assert len({each.id for each in presets()}) == len(presets())
    for each in presets():
        assert each.edition
        assert each.condition
        assert each.confidence in each.origin
        assert f"{each.test_factor:g} times the highest rated voltage" in each.origin
        assert each.fault_limit_a is None or each.fault_limit_a >= each.limit_a


@pytest.mark.parametrize(
    ("id", "limit_a", "fault_limit_a"),
    [
        ("household-class-ii", 0.25e-3, None),
        ("household-portable-class-i", 0.75e-3, None),
        ("information-technology", 0.5e-3, 5e-3),
        ("medical", 0.1e-3, 0.5e-3),
        ("medical-patient-cf", 10e-6, 50e-6),
        ("laboratory", 0.5e-3, 3.5e-3),
    ],
)
def test_limits_as_they_are_usually_quoted(id: str, limit_a: float, fault_limit_a: float | None) -> None:
    preset = preset_of(id)
    assert preset is not None
    assert (preset.limit_a, preset.fault_limit_a) == (limit_a, fault_limit_a)


def test_seven_tenths_of_a_milliampere_peak_is_half_of_one_rms() -> None:
    lighting = preset_of("lighting")
    assert lighting is not None
    assert lighting.limit_a == pytest.approx(0.7e-3 / 2**0.5, rel=1e-3)


def test_a_preset_becomes_a_requirement_that_a_file_keeps() -> None:
    medical = preset_of("medical")
    assert medical is not None
    case = evolve(load_case(CASES / "gateway.toml"), requirements=(requirement_from(medical),))
    assert parse_case(case_text(case)).requirements == case.requirements


def test_an_edited_preset_says_so_and_an_unknown_one_as_well() -> None:
    medical = preset_of("medical")
    assert medical is not None
    requirement = requirement_from(medical)
    assert "IEC 60601-1" in str(origin_of(requirement))
    assert "edited" not in str(origin_of(requirement))
    assert "edited" in str(origin_of(evolve(requirement, limit=2e-4)))
    assert "none of the presets" in str(origin_of(evolve(requirement, preset="old house rule")))
    assert origin_of(evolve(requirement, preset=None)) is None


def test_the_verdict_names_where_the_limit_comes_from() -> None:
    medical = preset_of("medical")
    assert medical is not None
    case = load_case(CASES / "gateway.toml")
    verdict = judge_one(Subject(solver=Solver(), case=case, candidate=case.candidates[0]), requirement_from(medical))
    assert any("IEC 60601-1" in text for text in verdict.assumed)
    assert verdict.outcome == "fail"


def test_no_reason_left_means_copper_and_says_why() -> None:
    for answers in ({}, {"first": ("digital",), "second": ("analogue",), "across": ("signals",)}):
        found = purpose(answers)
        assert found.recommendation == COPPER
        assert "least impedance" in found.recommendation
    assert [each.requirement.kind for each in found.reasoned] == ["return-impedance"]


def test_noise_alone_is_no_reason_for_a_gap() -> None:
    found = purpose({"first": ("power",), "second": ("analogue",), "apart": ("noise",)})
    assert found.recommendation == COPPER
    assert [(each.kind, each.limit) for each in found.requirements] == [("common-mode-voltage", 0.1)]


def test_a_person_at_the_mains_needs_reinforced_insulation() -> None:
    found = purpose(
        {
            "first": ("mains",),
            "second": ("touchable",),
            "apart": ("safety",),
            "touch": ("person",),
            "product": ("medical",),
        }
    )
    by = {each.kind: each for each in found.requirements}
    assert set(by) == {"separation", "withstand", "touch-current"}
    assert by["separation"].insulation == "reinforced"
    assert by["withstand"].limit == 4000.0
    assert (by["touch-current"].limit, by["touch-current"].fault_limit_a) == (1e-4, 5e-4)
    assert found.recommendation == ""
    assert all(each.reason and each.field for each in found.reasoned)


def test_mains_that_can_be_touched_are_a_reason_without_being_asked() -> None:
    found = purpose({"first": ("mains",), "second": ("touchable",), "touch": ("earthed",)})
    assert next(each for each in found.requirements if each.kind == "separation").insulation == "basic"
    assert purpose({"first": ("mains",), "second": ("power",), "touch": ("nobody",)}).recommendation == COPPER


@pytest.mark.parametrize("answers", [{"second": ("touchable",)}, {"second": ("digital",)}, {}, {"apart": ("safety",)}])
def test_until_it_is_answered_a_person_touches_what_the_mains_could_reach(answers: dict[str, tuple[str, ...]]) -> None:
    found = purpose({"first": ("mains",), **answers})
    assert [each.kind for each in found.requirements] == ["separation", "withstand", "touch-current"]
    assert found.recommendation == ""
    assert purpose({"first": ("mains",), "second": ("mains",)}).recommendation == COPPER


def test_a_limit_for_a_product_that_nobody_named_says_so() -> None:
    def reason(answers: dict[str, tuple[str, ...]]) -> str:
        return purpose({"first": ("mains",), **answers}).reasoned[-1].reason

    assert "until the kind of product is answered" in reason({})
    assert "until" not in reason({"product": ("medical",)})


def test_a_ground_loop_is_held_to_the_current_that_it_carries() -> None:
    """Two earthed boxes are joined for direct current whatever the bridge: how much gets round decides."""
    found = purpose({"apart": ("loop",)})
    assert [each.kind for each in found.requirements] == ["loop-current"]
    assert "ground loop" in found.reasoned[0].reason
    assert found.recommendation == ""


def test_surge_needs_a_withstand_and_a_bleed() -> None:
    assert [each.kind for each in purpose({"apart": ("surge",)}).requirements] == ["withstand", "static-bleed"]


def test_a_converter_with_one_ground_terminal_defeats_the_wish() -> None:
    assert purpose({"apart": ("dc",), "feed": ("common",)}).warnings == (NO_ISOLATION,)
    assert purpose({"apart": ("dc",), "feed": ("isolated",)}).warnings == ()
    case = load_case(CASES / "sensor-board.toml")
    (warning,) = purpose({"apart": ("dc",)}, case).warnings
    assert "No candidate can isolate" in warning


def test_every_choice_of_every_question_is_accepted_and_checkable() -> None:
    case = load_case(CASES / "gateway.toml")
    for question in QUESTIONS:
        for choice in question.choices:
            found = purpose(
                {question.key: (choice.key,), "apart": ("safety",), "touch": ("person",)}
                | {question.key: (choice.key,)}
            )
            for requirement in found.requirements:
                verdict = judge_one(Subject(solver=Solver(), case=case, candidate=case.candidates[0]), requirement)
                assert verdict.outcome in ("pass", "fail", "not-applicable")


@pytest.mark.parametrize(
    "answers",
    [{"colour": ("red",)}, {"apart": ("ghosts",)}, {"first": ("mains", "battery")}],
)
def test_a_wrong_answer_is_refused(answers: dict[str, tuple[str, ...]]) -> None:
    with pytest.raises(ValueError, match=r"accepted|no question"):
        purpose(answers)


def test_a_class_keeps_its_capitals_within_a_sentence() -> None:
    found = purpose({"apart": ("safety",), "touch": ("person",)})
    (reason,) = [each.reason for each in found.reasoned if each.requirement.kind == "touch-current"]
    assert "household appliance, class II, IEC 60335-1" in reason
