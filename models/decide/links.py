"""Every way from one region to another: branches, couplings, windings, cables, and converters that share a ground.

The weakest way counts, whichever regions it leads over.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Iterable, Sequence

from attrs import frozen

from models.case.document import Candidate, Case
from models.decide.barrier import insulation_grade, series_withstand_v
from models.network.edges import Edge, branch_edges, standing_edges
from models.parts.part import Part


@frozen(kw_only=True)
class Link:
    """One way from a region straight to another.

    Attributes
    ----------
    name : as the case calls it
    role : ``transformer``, ``coupling``, ``branch``, ``cable`` or ``converter``
    standing : whether it is there whatever the candidate
    blocks : whether it blocks DC, insulation resistances left out
    rated : whether a part of it is stated or classed to withstand a voltage
    withstand_v : what it withstands, V; ``inf`` for what always stands and is not rated, which is taken as sound
    grade : 0 no insulation, 1 basic, 2 double or reinforced; 2 for what always stands, blocks DC and has no Y class
    by : what the grade rests on
    """

    name: str
    role: str
    ends: tuple[str, str]
    parts: tuple[Part, ...] = ()
    standing: bool = True
    blocks: bool = False
    rated: bool = False
    withstand_v: float = 0.0
    grade: int = 0
    by: str = ""

    @property
    def taken_as_sound(self) -> bool:
        """Whether its strength is an assumption."""
        return self.standing and self.blocks and not self.rated


def links_of(case: Case, candidate: Candidate | None) -> tuple[Link, ...]:
    """Return every link of a case with a candidate, or without one."""
    branches = () if candidate is None else branch_edges(case, candidate)
    mains_v = None if case.mains is None else case.mains.voltage_v
    return (
        *(_standing(edge, mains_v) for edge in standing_edges(case) if edge.role in ("transformer", "coupling")),
        *(_branch(edge, mains_v) for edge in branches),
        *_cables(case),
        *_converters(case),
    )


def _standing(edge: Edge, mains_v: float | None) -> Link:
    blocks = any(part.blocks_dc() for part in edge.parts)
    withstand = series_withstand_v(edge.parts)
    classed, by = insulation_grade(edge.parts, mains_v)
    if classed == 0:
        by = "taken as sound" if blocks else "it passes direct current"
    unrated = math.inf if blocks else 0.0
    return Link(
        name=edge.name,
        role=edge.role,
        ends=edge.ends,
        parts=edge.parts,
        blocks=blocks,
        rated=withstand is not None,
        withstand_v=unrated if withstand is None else withstand,
        grade=classed or (2 if blocks else 0),
        by=by,
    )


def _branch(edge: Edge, mains_v: float | None) -> Link:
    withstand = series_withstand_v(edge.parts)
    grade, by = insulation_grade(edge.parts, mains_v)
    return Link(
        name=edge.name,
        role="branch",
        ends=edge.ends,
        parts=edge.parts,
        standing=False,
        blocks=any(part.blocks_dc() for part in edge.parts),
        rated=withstand is not None,
        withstand_v=withstand or 0.0,
        grade=grade,
        by=by,
    )


def _cables(case: Case) -> Iterable[Link]:
    """Give the cables that join a region to the surroundings at their far end; a mains lead is not a way around."""
    for cable in case.cables:
        if cable.far_end == "earthed" or isinstance(cable.far_end, float):
            yield Link(name=cable.name, role="cable", ends=(cable.region, case.surroundings.name))


def _converters(case: Case) -> Iterable[Link]:
    """Give the converters whose output current comes back over the pair: they have one ground terminal, or are not
    isolated."""
    for source in case.sources:
        if source.over_metal:
            yield Link(name=source.name, role="converter", ends=case.source_ends(source))


def direct_way(links: Iterable[Link], start: str, goal: str) -> tuple[Link, ...] | None:
    """Return the links that direct current takes from one region to another, None where all ways block it."""
    return least_way(links, start, goal, lambda link: math.inf if link.blocks else 1.0)


def least_way(links: Iterable[Link], start: str, goal: str, weight: Callable[[Link], float]) -> tuple[Link, ...] | None:
    """Return the way with the least sum of weights (Dijkstra), None where no way has a finite one."""
    near: dict[str, list[tuple[str, Link]]] = {}
    for link in links:
        one, other = link.ends
        near.setdefault(one, []).append((other, link))
        near.setdefault(other, []).append((one, link))
    front: list[tuple[float, int, str, tuple[Link, ...]]] = [(0.0, 0, start, ())]
    done: set[str] = set()
    pushed = 0
    while front:
        sum_so_far, _, node, way = heapq.heappop(front)
        if node == goal:
            return way
        if node in done:
            continue
        done.add(node)
        for other, link in near.get(node, ()):
            total = sum_so_far + weight(link)
            if other not in done and total < math.inf:
                pushed += 1
                heapq.heappush(front, (total, pushed, other, (*way, link)))
    return None


def weakest_way(links: Sequence[Link], start: str, goal: str) -> tuple[float, tuple[Link, ...]]:
    """Return what the weakest way between two regions withstands, and that way; ``inf`` and nothing for none.

    A way over further regions withstands what its strongest link does: the others may be bridged by whatever else
    joins those regions. The weakest way is the one whose strongest link is weakest.

    Returns
    -------
    (V, the links of the way)
    """
    for limit in sorted({link.withstand_v for link in links if math.isfinite(link.withstand_v)}):
        below = [link for link in links if link.withstand_v <= limit]
        way = least_way(below, start, goal, lambda _: 1.0)
        if way is not None:
            return limit, way
    return math.inf, ()


def grade_of(way: Iterable[Link]) -> int:
    """Return which insulation a way bridges: basic and basic in series make double."""
    return min(2, sum(link.grade for link in way))


def way_text(way: Sequence[Link]) -> str:
    """Return a way in words: its links, and what each is made of."""
    return ", then ".join(_link_text(link) for link in way)


def _link_text(link: Link) -> str:
    if link.role == "converter":
        return f"the converter of {link.name}"
    if not link.parts:
        return link.name
    kinds = " and ".join(dict.fromkeys(part.kind for part in link.parts))
    return f"{link.name} ({kinds})"
