"""Working out a value of the case from geometry: which value, by which estimate, from which dimensions. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from attrs import evolve, frozen

from app.state import edits
from app.state.typed import value_typed
from models.case.document import Case
from models.codec import KeyPath
from models.declare import get_path, keys_of, set_path
from models.estimate.estimate import Amount, Estimate, Result
from models.estimate.registry import ESTIMATES, estimates_for
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.resistor import Resistor

_OF_PARTS: tuple[tuple[type[Part], str], ...] = (
    (Capacitor, "capacitance"),
    (Copper, "inductance"),
    (Copper, "resistance"),
    (Inductor, "inductance"),
    (Resistor, "inductance"),
)


@frozen(kw_only=True)
class Target:
    """A value of the case that an estimate can stand for."""

    path: KeyPath
    key: str
    of: tuple[str, ...]
    """Names of what has it, from the outside in."""

    @property
    def words(self) -> str:
        """The key as a person reads it."""
        return self.key.replace("_", " ")


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


def targets(case: Case) -> tuple[Target, ...]:
    """Return every value of the case that an estimate can stand for: what couples first, then the bridges."""
    return (*_of_transformers(case), *_of_couplings(case), *_of_candidates(case))


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


def _of_transformers(case: Case) -> Iterator[Target]:
    for index, each in enumerate(case.transformers):
        for key in ("interwinding_capacitance", "driven_fraction"):
            path = keys_of(type(each))[key].path
            yield Target(path=("transformers", index, *path), key=key, of=(each.name,))


def _of_couplings(case: Case) -> Iterator[Target]:
    for index, coupling in enumerate(case.couplings):
        yield from _of_parts(case, ("couplings", index), (coupling.name,))


def _of_candidates(case: Case) -> Iterator[Target]:
    """Yield what the copper of bridges has; their capacitors are parts that are bought, not strays."""
    for index, candidate in enumerate(case.candidates):
        for number in range(len(candidate.branches)):
            where = (candidate.name, f"branch {number + 1}")
            found = _of_parts(case, ("candidates", index, "branches", number), where)
            yield from (each for each in found if each.key != "capacitance")


def _of_parts(case: Case, path: KeyPath, names: tuple[str, ...]) -> Iterator[Target]:
    parts = get_path(case, (*path, "parts"))
    for place, part in enumerate(parts):
        for of, key in _OF_PARTS:
            # copper given by its geometry has its values from there
            if isinstance(part, of) and getattr(part, "length_m", None) is None:
                where = names if len(parts) == 1 else (*names, f"{part.kind} {place + 1}")
                yield Target(path=(*path, "parts", place, *keys_of(of)[key].path), key=key, of=where)
