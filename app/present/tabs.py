"""The header: which case this is and its candidates as tabs; and the ink that each keeps everywhere."""

from __future__ import annotations

from app.present.specs import CandidateTabSpec, HeaderSpec, Ink
from app.state.store import Store
from models.case.document import Case

SLOTS = 6
"""Colours of candidates; a colour that comes again comes with another dash."""


def ink(index: int) -> Ink:
    """Return the ink of the candidate at an index: no two that a window can hold look alike."""
    return Ink(slot=index)


def header(store: Store, selected: int) -> HeaderSpec:
    """Return the header of the present document."""
    title, _, subtitle = store.case.title.partition(": ")
    return HeaderSpec(
        title=f"{title} •" if store.changed else title,
        subtitle=subtitle,
        tabs=tabs(store.case, selected),
        undo=store.undo_name or "",
        redo=store.redo_name or "",
    )


def tabs(case: Case, selected: int) -> tuple[CandidateTabSpec, ...]:
    """Return the candidates of a case as tabs."""
    return tuple(
        CandidateTabSpec(label=candidate.name, ink=ink(index), selected=index == selected)
        for index, candidate in enumerate(case.candidates)
    )
