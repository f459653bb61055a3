"""Where a part can go in a candidate, as edits with names."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from attrs import frozen

from app.state import edits
from app.state.usual import bridge_of
from models.case.document import Case
from models.declare import set_path
from models.parts.part import Part


@frozen(kw_only=True)
class Target:
    """One place for a part: what a person reads, the name of the step, the edit."""

    label: str
    step: str
    edit: Callable[[Case, Part], Case]


def part_targets(case: Case, index: int) -> tuple[Target, ...]:
    """Return every place for a part in a candidate, or that of a new candidate; the likeliest first."""
    fresh = Target(label="As a new candidate", step="Add candidate", edit=_as_candidate)
    if index >= len(case.candidates):
        return (fresh,)
    branches = case.candidates[index].branches
    replaced = [
        Target(
            label=f"In place of {part.kind} in branch {number + 1}",
            step="Replace part",
            edit=partial(_in_place, at=(index, number, place)),
        )
        for number, branch in enumerate(branches)
        for place, part in enumerate(branch.parts)
    ]
    added = [
        Target(label=f"In series in branch {number + 1}", step="Add part", edit=partial(_in_series, at=(index, number)))
        for number in range(len(branches))
    ]
    beside = Target(label="As a new branch", step="Add branch", edit=partial(_as_branch, at=index))
    return (*replaced, *added, beside, fresh)


def _in_place(case: Case, part: Part, *, at: tuple[int, int, int]) -> Case:
    candidate, branch, place = at
    changed: Case = set_path(case, ("candidates", candidate, "branches", branch, "parts", place), part)
    return changed


def _in_series(case: Case, part: Part, *, at: tuple[int, int]) -> Case:
    return edits.add_part(case, *at, part)


def _as_branch(case: Case, part: Part, *, at: int) -> Case:
    return edits.add_branch(case, at, part)


def _as_candidate(case: Case, part: Part) -> Case:
    return edits.add_candidate(case, bridge_of(part))
