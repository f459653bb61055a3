"""Transients of the shown event: a drag computes one a frame, that of the selected candidate first."""

from __future__ import annotations

from collections.abc import Hashable

from attrs import frozen

from models.case.document import Candidate, Case
from models.network.solver import Solver
from models.outcomes.event import Event
from models.outcomes.transient import Transient, transient


@frozen(kw_only=True, eq=False)
class Shown:
    """The transients of every candidate, in their order.

    Attributes
    ----------
    transients : those of the present document, or the last ones known of it
    late : indices of candidates whose transient is still that of an earlier document
    """

    transients: tuple[Transient, ...]
    late: frozenset[int]


class Events:
    """Keeps the last transient of every candidate; `advance` brings one of them up to date, or the first ones all."""

    def __init__(self, solver: Solver) -> None:
        self._solver = solver
        self._known: dict[str, tuple[Hashable, Transient]] = {}

    def advance(self, case: Case, event: Event, selected: int) -> Shown:
        """Return what is known of the event after one step of work; call again while something is late."""
        scene = case.scene()
        keys: list[Hashable] = [(scene, each, event) for each in case.candidates]
        stale = [index for index, key in enumerate(keys) if self._held(case.candidates[index]) != key]
        unknown = [index for index in stale if not self._usable(case.candidates[index], event)]
        first = selected if selected in stale else next(iter(stale), None)
        for index in {*unknown, *([] if first is None else [first])}:
            candidate = case.candidates[index]
            self._known[candidate.name] = keys[index], transient(self._solver, case, candidate, event)
        names = [each.name for each in case.candidates]
        self._known = {name: self._known[name] for name in names}
        late = [index for index, name in enumerate(names) if self._known[name][0] != keys[index]]
        return Shown(transients=tuple(self._known[name][1] for name in names), late=frozenset(late))

    def _held(self, candidate: Candidate) -> Hashable:
        known = self._known.get(candidate.name)
        return None if known is None else known[0]

    def _usable(self, candidate: Candidate, event: Event) -> bool:
        known = self._known.get(candidate.name)
        return known is not None and known[1].event == event
