"""The guided start under way: answers, limits that were changed, and the edit that takes the requirements."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from attrs import evolve, field, frozen

from app.state import edits
from app.state.additions import usual_mains
from app.state.usual import BRIDGES
from models.case.document import Case, Mains
from models.case.requirement import Requirement
from models.codec import KeyPath
from models.decide.purpose import Purpose, purpose
from models.parts.copper import Copper

_NOTHING: Mapping[str, tuple[str, ...]] = MappingProxyType({})


@frozen(kw_only=True)
class Draft:
    """What was answered, and for each kind of requirement what was changed: the default it was, and what it is."""

    answers: Mapping[str, tuple[str, ...]] = field(default=_NOTHING)
    changed: Mapping[str, tuple[Requirement, Requirement]] = field(factory=dict)

    def answered(self, question: str, keys: tuple[str, ...]) -> Draft:
        """Return the draft with another answer; an empty one is none."""
        answers = {**self.answers, question: keys}
        return evolve(self, answers={key: chosen for key, chosen in answers.items() if chosen})


def begun(case: Case) -> Draft:
    """Return the draft with what a case without requirements says already: what mains feed, and what is touched."""
    if case.mains is None or case.requirements:
        return Draft()
    known = {case.mains.touched: ("touchable",), case.mains.feeds: ("mains",)}
    regions = {"first": case.pair.a, "second": case.pair.b}
    return Draft(answers={question: known[region] for question, region in regions.items() if region in known})


def outcome(draft: Draft, case: Case) -> Purpose:
    """Return what the answers lead to, each requirement with its reason as note, and as it was changed since."""
    found = purpose(draft.answers, case)
    return evolve(
        found,
        reasoned=tuple(
            evolve(each, requirement=_present(draft, _noted(each.requirement, each.reason))) for each in found.reasoned
        ),
    )


def as_case(draft: Draft, case: Case) -> Case:
    """Return a case with the requirements of the draft alone, so that their values are typed as anywhere else."""
    return evolve(case, requirements=outcome(draft, case).requirements)


def with_value(draft: Draft, case: Case, path: KeyPath, value: object) -> Draft:
    """Return the draft with one value of a requirement changed.

    Raises
    ------
    QuantityError
        the requirement refuses the value
    """
    number = path[1]
    assert isinstance(number, int)
    changed = edits.set_value(as_case(draft, case), path, value).requirements[number]
    default = outcome(evolve(draft, changed={}), case).requirements[number]
    return evolve(draft, changed={**draft.changed, changed.kind: (default, changed)})


def applied(draft: Draft, case: Case) -> Case:
    """Return the case with the requirements of the draft in place of those of the same kinds; others stay.

    Mains that the answers tell of are added where the case has none. Where the draft recommends continuous copper, a
    candidate of copper is added unless there is one.
    """
    found = outcome(draft, case)
    kinds = {each.kind for each in found.requirements}
    kept = tuple(each for each in case.requirements if each.kind not in kinds)
    changed = evolve(case, requirements=(*found.requirements, *kept), mains=case.mains or mains_told(draft, case))
    if not found.recommendation or has_copper(case):
        return changed
    return edits.add_candidate(changed, next(each for each in BRIDGES if each.name == "Copper"))


def mains_told(draft: Draft, case: Case) -> Mains | None:
    """Return the mains without which a touch current that the answers limit could not be judged; None where it can."""
    fed = [draft.answers.get(question) == ("mains",) for question in ("first", "second")]
    limited = any(each.kind == "touch-current" for each in purpose(draft.answers, case).requirements)
    if case.mains is not None or not limited or fed[0] == fed[1]:
        return None
    return usual_mains(*case.pair.ends) if fed[0] else usual_mains(*reversed(case.pair.ends))


def has_copper(case: Case) -> bool:
    """Return whether a candidate is nothing but copper across the pair."""
    return any(
        all(isinstance(part, Copper) for part in branch.parts) and case.is_across(branch)
        for candidate in case.candidates
        for branch in candidate.branches
    )


def _present(draft: Draft, default: Requirement) -> Requirement:
    """Return a requirement as it was changed, unless another answer has given it another default since."""
    before, changed = draft.changed.get(default.kind, (None, default))
    return changed if before == default else default


def _noted(requirement: Requirement, reason: str) -> Requirement:
    return requirement if requirement.note else evolve(requirement, note=reason)
