from __future__ import annotations

import pytest
from attrs import evolve

from app.present.purpose_form import purpose_spec
from app.state.purpose import Draft, applied, begun, outcome, with_value
from models.assets import CASES
from models.case.document import Case, Mains, Pair
from models.case.read import load_case
from models.decide.questions import QUESTIONS
from models.errors import QuantityError

BARE = Case(pair=Pair(a="hot", b="cold"))
SAFE = Draft().answered("first", ("mains",)).answered("apart", ("safety",)).answered("touch", ("person",))


def test_the_questions_name_the_regions() -> None:
    texts = [each.text for each in purpose_spec(Draft(), BARE).questions]
    assert texts[:2] == ["What is “hot”?", "What is “cold”?"]
    assert len(texts) == len(QUESTIONS)


def test_before_the_first_answer_nothing_is_recommended() -> None:
    spec = purpose_spec(Draft(), BARE)
    assert (spec.recommendation, spec.apply) == ("", "")
    assert spec.intro
    assert purpose_spec(SAFE, BARE).intro == ""


def test_what_the_case_says_of_its_mains_is_answered_already() -> None:
    stated = load_case(CASES / "class-ii-supply.toml")
    case = evolve(stated, requirements=())
    assert begun(case).answers == {"first": ("mains",), "second": ("touchable",)}
    assert {each.kind for each in outcome(begun(case), case).requirements} == {
        "separation",
        "withstand",
        "touch-current",
    }
    assert begun(BARE).answers == begun(stated).answers == {}


@pytest.mark.parametrize(("question", "feeds", "touched"), [("first", "hot", "cold"), ("second", "cold", "hot")])
def test_mains_that_were_told_of_are_added_where_there_are_none(question: str, feeds: str, touched: str) -> None:
    draft = Draft().answered(question, ("mains",))
    spec = purpose_spec(draft, BARE)
    assert spec.apply == "Add 3 requirements and mains"
    assert "no mains yet" in spec.form.sections[2].note
    mains = applied(draft, BARE).mains
    assert mains is not None
    assert (mains.feeds, mains.touched) == (feeds, touched)


def test_mains_that_are_there_stay_and_nobody_who_touches_needs_none() -> None:
    fed = evolve(BARE, mains=Mains(voltage_v=120.0, frequency_hz=60.0, feeds="cold", touched="hot"))
    draft = Draft().answered("first", ("mains",))
    assert applied(draft, fed).mains == fed.mains
    assert "mains" not in purpose_spec(draft, fed).apply
    alone = draft.answered("apart", ("noise",)).answered("touch", ("nobody",))
    assert applied(alone, BARE).mains is None


def test_an_answer_taken_back_is_no_answer() -> None:
    assert Draft().answered("apart", ("dc",)).answered("apart", ()).answers == {}


def test_each_requirement_stands_with_its_reason_and_the_field_that_changes_it() -> None:
    form = purpose_spec(SAFE, BARE).form
    titles = [section.title for section in form.sections]
    assert titles == ["Separates galvanically", "Withstands 4 kV", "Touch current under 250 µA"]
    assert [field.path for section in form.sections for field in section.fields] == [
        ("requirements", 0, "insulation"),
        ("requirements", 1, "limit"),
        ("requirements", 2, "limit"),
    ]
    assert all(section.note for section in form.sections)


def test_a_limit_of_a_standard_says_its_edition_and_how_sure_it_is() -> None:
    touch = purpose_spec(SAFE, BARE).form.sections[2]
    assert "edition" in touch.note
    assert "confidence" in touch.note
    assert "not a certification" in purpose_spec(SAFE, BARE).caution


def test_a_changed_limit_stays_while_other_questions_are_answered() -> None:
    draft = with_value(SAFE, BARE, ("requirements", 1, "limit"), 3000.0).answered("across", ("signals",))
    assert [each.limit for each in outcome(draft, BARE).requirements if each.kind == "withstand"] == [3000.0]


def test_an_answer_with_another_default_takes_the_place_of_a_changed_limit() -> None:
    draft = with_value(SAFE, BARE, ("requirements", 1, "limit"), 3000.0).answered("touch", ("earthed",))
    assert [each.limit for each in outcome(draft, BARE).requirements if each.kind == "withstand"] == [2000.0]


def test_a_limit_that_cannot_be_is_refused() -> None:
    with pytest.raises(QuantityError):
        with_value(SAFE, BARE, ("requirements", 1, "limit"), None)


def test_requirements_of_the_same_kind_are_replaced_and_others_stay() -> None:
    case = load_case(CASES / "class-ii-supply.toml")
    draft = Draft().answered("apart", ("noise", "dc"))
    before = {each.kind: each for each in case.requirements}
    after = {each.kind: each for each in applied(draft, case).requirements}
    assert after["common-mode-voltage"].limit == 1.0
    assert before["common-mode-voltage"].limit == 8.0
    assert after["touch-current"] == before["touch-current"]
    assert len(applied(draft, case).requirements) == len(after)


def test_each_requirement_keeps_its_reason_as_a_note() -> None:
    assert all(each.note for each in applied(SAFE, BARE).requirements)


def test_with_no_reason_left_copper_is_recommended_and_added_once() -> None:
    draft = Draft().answered("first", ("digital",))
    spec = purpose_spec(draft, BARE)
    assert "continuous copper" in spec.recommendation
    assert spec.apply == "Add copper as a candidate"
    with_copper = applied(draft, BARE)
    assert [each.name for each in with_copper.candidates] == ["Copper"]
    assert purpose_spec(draft, with_copper).apply == ""


def test_a_converter_with_one_ground_terminal_is_warned_of() -> None:
    spec = purpose_spec(SAFE.answered("feed", ("common",)), BARE)
    assert "No candidate can isolate" in spec.warnings[0]
    assert spec.apply == "Add 3 requirements and mains"
