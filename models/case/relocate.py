"""A case moved to another folder: the files that it names are named from there."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

from attrs import evolve

from models.case.document import Branch, Case, Coupling
from models.parts.measured_file import relocated

Owner = TypeVar("Owner", Branch, Coupling)


def case_in(case: Case, folder: Path) -> Case:
    """Return the case as it has to stand in a folder; names that hold there already are kept to the letter."""

    def moved(owner: Owner) -> Owner:
        return evolve(owner, parts=tuple(relocated(part, folder) for part in owner.parts))

    candidates = tuple(evolve(each, branches=tuple(map(moved, each.branches))) for each in case.candidates)
    return evolve(case, couplings=tuple(map(moved, case.couplings)), candidates=candidates)
