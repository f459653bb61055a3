"""Working out a value of the case from geometry: by which estimate, from which dimensions. No Qt."""

from __future__ import annotations

from typing import Any

from attrs import evolve, frozen

from app.state import edits
from app.state.estimable import Target, targets
from app.state.typed import value_typed
from models.case.document import Case
from models.codec import KeyPath
from models.declare import set_path
from models.estimate.estimate import Amount, Estimate, Result
from models.estimate.registry import ESTIMATES, estimates_for


@frozen(kw_only=True)
class Draft:
    """What is worked out now: the value of the case, if one is, the estimate, and the geometry given to each."""

    path: KeyPath | None = None
    name: str
    given: tuple[Estimate, ...]

    @property
    def made(self) -> Estimate:
        """The estimate with its geometry."""
        return next(each for each in self.given if each.name == self.name)

    def result(self) -> Result:
        """Work it out."""
        return self.made.result()


def begun(case: Case, near: KeyPath = ()) -> Draft:
    """Return the draft to begin with: the first value at a place of the case, or else the first of all."""
    found = targets(case)
    there = [each for each in found if each.path[: len(near)] == near]
    first = next(iter((*there, *found)), None)
    draft = Draft(name=next(iter(ESTIMATES)), given=tuple(of() for of in ESTIMATES.values()))
    return draft if first is None else with_target(draft, first)


def suited(target: Target | None) -> tuple[type[Estimate], ...]:
    """Return the estimates for a value; all where none of the case is meant."""
    return tuple(ESTIMATES.values()) if target is None else estimates_for(target.key)


def target_of(draft: Draft, case: Case) -> Target | None:
    """Return the value that is worked out, where the case still has it."""
    return next((each for each in targets(case) if each.path == draft.path), None)


def with_target(draft: Draft, target: Target | None) -> Draft:
    """Return the draft for another value, by the same estimate where that suits it."""
    names = [each.name for each in suited(target)]
    name = draft.name if draft.name in names else names[0]
    return evolve(draft, path=None if target is None else target.path, name=name)


def with_typed(draft: Draft, path: KeyPath, text: str) -> Draft:
    """Return the draft with a dimension as it was typed or chosen; raises QuantityError where it cannot be."""
    return with_value(draft, path, value_typed(draft.made, path, text))


def with_value(draft: Draft, path: KeyPath, value: Any) -> Draft:
    """Return the draft with another dimension; raises QuantityError where it cannot be."""
    changed = set_path(draft.made, path, value)
    return evolve(draft, given=tuple(changed if each.name == draft.name else each for each in draft.given))


def amount_for(target: Target | None, result: Result) -> Amount:
    """Return which value of a result is meant."""
    return next((each for each in result.amounts if target is None or each.key == target.key), result.amounts[0])


def taken(case: Case, target: Target, value: float) -> Case:
    """Return the case with the value in its place; raises QuantityError where the case refuses it."""
    return edits.set_value(case, target.path, value)
