"""The case as edges between nodes: what always stands there, and what a candidate adds."""

from __future__ import annotations

import math
from collections.abc import Iterable

from attrs import frozen

from models.case.document import Cable, Candidate, Case
from models.network.cable import common_mode_line
from models.parts.capacitor import Capacitor
from models.parts.part import Part, Rating


@frozen(kw_only=True, cache_hash=True)
class Edge:
    """Parts in series between two nodes, and what they are called on the screen."""

    name: str
    role: str
    """``transformer``, ``coupling``, ``cable`` or ``branch``."""
    ends: tuple[str, str]
    parts: tuple[Part, ...]


def standing_edges(case: Case) -> tuple[Edge, ...]:
    """Return what joins nodes whatever the candidate: transformers with their whole capacitance, and couplings.

    The cables, which join nodes as well, stand apart in `cable_edges`: touch current and separation leave them out.
    """
    windings = [
        Edge(
            name=each.name,
            role="transformer",
            ends=each.between,
            parts=(Capacitor(capacitance_f=each.interwinding_capacitance_f, rating=Rating(tolerance=each.tolerance)),),
        )
        for each in case.transformers
    ]
    couplings = [Edge(name=each.name, role="coupling", ends=each.between, parts=each.parts) for each in case.couplings]
    return (*windings, *couplings)


def cable_edges(case: Case) -> tuple[Edge, ...]:
    """Return the cables, each from its region to the surroundings."""
    return tuple(cable_edge(case, cable) for cable in case.cables)


def cable_edge(case: Case, cable: Cable) -> Edge:
    """Return a cable as an edge from its region to the surroundings."""
    ends = (cable.region, case.surroundings.name)
    return Edge(name=cable.name, role="cable", ends=ends, parts=(common_mode_line(cable),))


def earth_edges(case: Case, region: str) -> tuple[Edge, ...]:
    """Return the cables and couplings that join a region to the surroundings for direct current."""
    ends = {region, case.surroundings.name}
    return tuple(
        edge
        for edge in (*standing_edges(case), *cable_edges(case))
        if set(edge.ends) == ends and math.isfinite(sum(part.dc_ohm() for part in edge.parts))
    )


def branch_edges(case: Case, candidate: Candidate) -> tuple[Edge, ...]:
    """Return what a candidate adds."""
    return tuple(
        Edge(name=f"branch {number}", role="branch", ends=case.ends_of(branch), parts=branch.parts)
        for number, branch in enumerate(candidate.branches, start=1)
    )


def across_edges(case: Case, candidate: Candidate) -> tuple[Edge, ...]:
    """Return the candidate's branches that stand directly across the pair."""
    return tuple(edge for edge in branch_edges(case, candidate) if case.pair.is_joined_by(edge.ends))


def islands(joined: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Return for every node that is joined to another the name of its island: nodes joined to each other share it."""
    leader: dict[str, str] = {}

    def find(node: str) -> str:
        while leader.setdefault(node, node) != node:
            node = leader[node]
        return node

    for one, other in joined:
        leader[find(one)] = find(other)
    return {node: find(node) for node in list(leader)}
