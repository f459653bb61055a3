"""The guided start: the questions, and the requirements that the answers lead to, each with its reason."""

from __future__ import annotations

from attrs import frozen

from app.present.answers import question
from app.present.fields import Walk
from app.present.specs import FormSpec, SectionSpec
from app.state.purpose import Draft, as_case, has_copper, mains_told, outcome
from models.case.document import Case
from models.decide.presets import origin_of
from models.decide.purpose import Purpose, Reasoned
from models.decide.questions import QUESTIONS, Question
from models.decide.verdict import SAFETY_CAUTION

_MAINS = "The case has no mains yet: 230 V at 50 Hz are added, to be changed in the case."
_INTRO = "Answer what you know. Each answer adds what has to hold, with its reason and a usual limit to change."


@frozen(kw_only=True)
class QuestionSpec:
    """One question: its words, its options as (key, words), and which of them hold."""

    key: str
    text: str
    several: bool
    options: tuple[tuple[str, str], ...]
    chosen: tuple[str, ...]


@frozen(kw_only=True, eq=False)
class PurposeSpec:
    """What the guided start shows; ``apply`` is empty where there is nothing to apply."""

    questions: tuple[QuestionSpec, ...]
    intro: str
    """What to do, until something is answered."""
    form: FormSpec
    recommendation: str
    warnings: tuple[str, ...]
    apply: str
    caution: str = SAFETY_CAUTION


def purpose_spec(draft: Draft, case: Case) -> PurposeSpec:
    """Return the questions and what the answers lead to."""
    found = outcome(draft, case)
    begun = bool(draft.answers)
    return PurposeSpec(
        questions=tuple(_question(each, draft, case) for each in QUESTIONS),
        intro="" if begun else _INTRO,
        form=FormSpec(
            title="What has to hold" if found.reasoned else "Nothing asked for yet",
            sections=tuple(_section(draft, case, number, each) for number, each in enumerate(found.reasoned)),
        ),
        recommendation=found.recommendation if begun else "",
        warnings=found.warnings,
        apply=_apply(draft, found, case) if begun else "",
    )


def _question(asked: Question, draft: Draft, case: Case) -> QuestionSpec:
    text = asked.text.replace("the first region", f"“{case.pair.a}”").replace("the second region", f"“{case.pair.b}”")
    return QuestionSpec(
        key=asked.key,
        text=text,
        several=asked.several,
        options=tuple((each.key, each.text[0].upper() + each.text[1:]) for each in asked.choices),
        chosen=draft.answers.get(asked.key, ()),
    )


def _section(draft: Draft, case: Case, number: int, each: Reasoned) -> SectionSpec:
    walk = Walk(case=as_case(draft, case), everything=True)
    only = () if each.field == "kind" else (each.field,)
    mains = _MAINS if each.requirement.kind == "touch-current" and mains_told(draft, case) else None
    return SectionSpec(
        title=question(each.requirement),
        fields=tuple(walk.fields(("requirements", number), only=only)),
        note=" ".join(filter(None, (each.reason, origin_of(each.requirement), mains))),
    )


def _apply(draft: Draft, found: Purpose, case: Case) -> str:
    count = len(found.reasoned)
    wanted = "" if not count else "Add 1 requirement" if count == 1 else f"Add {count} requirements"
    if mains_told(draft, case):
        wanted = f"{wanted} and mains"
    if not found.recommendation or has_copper(case):
        return wanted
    return f"{wanted} and copper" if wanted else "Add copper as a candidate"
