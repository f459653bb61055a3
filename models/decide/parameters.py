"""Every value of a case that the network depends on, found by walking what the classes declare."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import attrs
from attrs import frozen

from models.case.document import Candidate, Case
from models.codec import KeyPath, ListOf
from models.declare import Table, get_path, keys_of, set_path
from models.network.edges import Edge, branch_edges

_NOT_ELECTRICAL = ("rating", "rated_current_a")


@frozen(kw_only=True)
class Parameter:
    """One value: where it stands and what it is.

    Attributes
    ----------
    owner : what it belongs to, in words
    of_candidate : whether the path starts at the candidate; else it starts at the case
    path : attribute names and indices to the value
    value, unit, label : SI value, its unit, and what the trade calls it
    edge : role and name of the edge of the network that it shapes
    part : number of the part within that edge
    """

    owner: str
    of_candidate: bool
    path: KeyPath
    value: float
    unit: str
    label: str
    edge: tuple[str, str]
    part: int = 0

    @property
    def key(self) -> str:
        """Name of the attribute."""
        return str(self.path[-1])

    @property
    def within_part(self) -> KeyPath:
        """Path from the part to the value; only for the values of parts."""
        return self.path[self.path.index("parts") + 2 :]

    def changed(self, case: Case, candidate: Candidate, value: float) -> tuple[Case, Candidate]:
        """Return the case and the candidate with another value here."""
        if self.of_candidate:
            return case, set_path(candidate, self.path, value)
        return set_path(case, self.path, value), candidate


def network_parameters(case: Case, candidate: Candidate) -> tuple[Parameter, ...]:
    """Return the values of every part, transformer and cable that stands in the network."""
    return (
        *_of_branches(case, candidate),
        *_of_couplings(case),
        *_of_named(case, "transformers", "transformer"),
        *_of_named(case, "cables", "cable"),
    )


def _of_branches(case: Case, candidate: Candidate) -> Iterator[Parameter]:
    for number, edge in enumerate(branch_edges(case, candidate)):
        yield from _of_parts(edge, ("branches", number), of_candidate=True)


def _of_couplings(case: Case) -> Iterator[Parameter]:
    for number, each in enumerate(case.couplings):
        edge = Edge(name=each.name, role="coupling", ends=each.between, parts=each.parts)
        yield from _of_parts(edge, ("couplings", number), of_candidate=False)


def _of_parts(edge: Edge, place: KeyPath, *, of_candidate: bool) -> Iterator[Parameter]:
    for number, part in enumerate(edge.parts):
        for path in _quantities(part):
            yield Parameter(
                owner=f"{edge.name}, {part.kind}",
                of_candidate=of_candidate,
                path=(*place, "parts", number, *path),
                edge=(edge.role, edge.name),
                part=number,
                **_known(part, path),
            )


def _of_named(case: Case, group: str, role: str) -> Iterator[Parameter]:
    for number, each in enumerate(getattr(case, group)):
        for path in _quantities(each):
            if path != ("tolerance",):
                yield Parameter(
                    owner=each.name,
                    of_candidate=False,
                    path=(group, number, *path),
                    edge=(role, each.name),
                    **_known(each, path),
                )


def _known(owner: Any, path: KeyPath) -> dict[str, Any]:
    holder = get_path(owner, path[:-1])
    key = next(key for key in keys_of(type(holder)).values() if key.path == (path[-1],))
    return {"value": get_path(owner, path), "unit": key.unit, "label": key.attribute.metadata["doc"]}


def _quantities(owner: Any) -> Iterator[KeyPath]:
    """Give the path to every quantity above 0 of an object, those of its lists and flat groups included."""
    for attribute in attrs.fields(type(owner)):
        name, held = attribute.name, getattr(owner, attribute.name)
        if name in _NOT_ELECTRICAL:
            continue
        codec = attribute.metadata.get("codec")
        if "flat" in attribute.metadata:
            yield from ((name, *path) for path in _quantities(held))
        elif isinstance(codec, ListOf) and isinstance(codec.item, Table):
            for number, item in enumerate(held):
                yield from ((name, number, *path) for path in _quantities(item))
        elif attribute.metadata.get("unit") is not None and isinstance(held, float) and held > 0.0:
            yield (name,)
