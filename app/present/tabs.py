"""The candidates as tabs, and the ink that each keeps everywhere."""

from __future__ import annotations

from app.present.specs import CandidateTabSpec, Ink
from models.case.document import Case

SLOTS = 6


def ink(index: int) -> Ink:
    """Return the ink of the candidate at an index; colour and dash repeat only after six."""
    return Ink(slot=index % SLOTS)


def tabs(case: Case, selected: int) -> tuple[CandidateTabSpec, ...]:
    """Return the candidates of a case as tabs."""
    return tuple(
        CandidateTabSpec(label=candidate.name, ink=ink(index), selected=index == selected)
        for index, candidate in enumerate(case.candidates)
    )
