"""What a discharge, a burst or a surge into one region does to the pair and to every part, over time.

An estimate for design, not a certification: the current edition of the standard, local codes and a qualified person
decide.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from functools import partial
from typing import Final

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.errors import QuantityError
from models.network.edges import Edge, branch_edges, cable_edges, islands, standing_edges
from models.network.mesh import admittance
from models.network.response import Response
from models.network.solver import Solver
from models.outcomes.event import Event
from models.outcomes.laplace import TimeBase
from models.outcomes.laplace_parts import laplace_ohm
from models.outcomes.ratings import Check, PartPeak, checks_of
from models.outcomes.settled import Settled, settle, voltages
from models.parts.bead import Bead
from models.parts.choke import CommonModeChoke
from models.parts.inductor import Inductor
from models.parts.part import Part

CAUTION: Final = (
    "An estimate for design, not a certification, of linear parts only: no flash-over, no clamp that conducts, no core "
    "that saturates. A real generator differs by 15 to 30 %, and so does what strays to the surroundings. The current "
    "editions of the standards and local codes decide, and a qualified person checks insulation and protective parts."
)


@frozen(kw_only=True, eq=False)
class PathCurrent:
    """The current through one branch, coupling, transformer or cable.

    Attributes
    ----------
    name, role, ends : which path
    current_a : (T,) from its first end to its second; of a cable at its region, A
    """

    name: str
    role: str
    ends: tuple[str, str]
    current_a: Real

    @property
    def peak_a(self) -> float:
        """Largest magnitude, A."""
        return float(np.abs(self.current_a).max())


@frozen(kw_only=True, eq=False)
class Transient:
    """One event with one candidate.

    Attributes
    ----------
    event, candidate : what hit, and the name of what bridges the pair
    t_s : (T,) from the start of the event, s
    v_pair_v : (T,) v(b) − v(a), V
    v_region_v : region → (T,) against the surroundings, V
    injected_a : (T,) into the region that was hit, A
    currents : of every path, A
    peaks : of every part of a branch or coupling
    checks : every peak against every rating, the deciding one with the least margin first
    settled : what stays on the regions, and how long it takes to bleed
    notes : what a reader of the numbers has to know
    caution : stands beside every number that is shown
    """

    event: Event
    candidate: str
    t_s: Real
    v_pair_v: Real
    v_region_v: Mapping[str, Real]
    injected_a: Real
    currents: tuple[PathCurrent, ...]
    peaks: tuple[PartPeak, ...]
    checks: tuple[Check, ...]
    settled: Settled
    notes: tuple[str, ...]
    caution: str = CAUTION

    @property
    def peak_v(self) -> float:
        """Largest magnitude across the pair, V."""
        return float(np.abs(self.v_pair_v).max())

    @property
    def peak_s(self) -> float:
        """When it comes, s."""
        return float(self.t_s[np.abs(self.v_pair_v).argmax()])


def transient(solver: Solver, case: Case, candidate: Candidate, event: Event) -> Transient:
    """Return what an event into a region does, with a candidate across the pair.

    The generator stands between the surroundings and the region. v(t) is the inverse Laplace transform of H(s)·X(s),
    on a line to the right of every pole, so that a region that floats keeps its charge and nothing comes before the
    event.

    Parameters
    ----------
    solver : remembers the parts between calls
    case, candidate : the network; noise sources are dead
    event : what hits which region

    Returns
    -------
    Transient; 4096 times, over 0.41 µs of a discharge, 0.51 µs of a burst's pulse, 0.2 ms of a surge

    Raises
    ------
    QuantityError
        Where the event goes into no region of the case.

    Notes
    -----
    Within 1 % of closed forms for what swings up to a quarter of the sampling rate: 2.5 GHz, 2 GHz, 5 MHz. The
    standards' formulas start with an infinite second derivative, so that the first samples of a small voltage across an
    inductance behind a capacitance depend on the sampling. Linear: see `CAUTION`.
    Source: inverse transform as in `models.outcomes.laplace`; generators as in `models.outcomes.event`.
    """
    if event.into not in case.regions:
        raise QuantityError(
            f'an event into "{event.into}"', "one of " + ", ".join(f'"{each}"' for each in case.regions)
        )
    edges = (*standing_edges(case), *cable_edges(case), *branch_edges(case, solver.operating(case, candidate)))
    line = _Line(solver=solver, event=event)
    found, earth, inverse = line.voltages(case, edges), case.surroundings.name, event.standard.base.inverse
    currents = [line.edge_siemens(edge) * found.rise(*edge.ends) for edge in edges]
    paths = tuple(
        PathCurrent(name=edge.name, role=edge.role, ends=edge.ends, current_a=inverse(current))
        for edge, current in zip(edges, currents, strict=True)
    )
    peaks = tuple(
        PartPeak(
            path=edges[place.edge].name,
            number=place.number,
            part=place.part,
            peak_v=float(np.abs(inverse(currents[place.edge] * line.part_ohm(place.part))).max()),
            peak_a=paths[place.edge].peak_a,
        )
        for place in _places(edges)
    )
    settled = settle(case, edges, event)
    return Transient(
        event=event,
        candidate=candidate.name,
        t_s=event.standard.base.t_s,
        v_pair_v=inverse(found.rise(case.pair.b, case.pair.a)),
        v_region_v={region: inverse(found.rise(region, earth)) for region in case.regions},
        injected_a=inverse(line.drive() - found.rise(event.into, earth) / line.own_ohm()),
        currents=paths,
        peaks=peaks,
        checks=checks_of(peaks),
        settled=settled,
        notes=_notes(case, edges, settled),
    )


@frozen(kw_only=True)
class _Place:
    """One part: the index of its edge, its number there from 1."""

    edge: int
    number: int
    part: Part


def _places(edges: Sequence[Edge]) -> list[_Place]:
    """Return the parts that a case rates: those of branches and couplings."""
    return [
        _Place(edge=index, number=number, part=part)
        for index, edge in enumerate(edges)
        if edge.role in ("branch", "coupling")
        for number, part in enumerate(edge.parts, start=1)
    ]


@frozen(kw_only=True, eq=False)
class _Line:
    """The network on the event's line in the Laplace plane; every array is (S,)."""

    solver: Solver
    event: Event

    def voltages(self, case: Case, edges: Sequence[Edge]) -> Response:
        """Return the voltages between all nodes, V·s."""
        joined = [(frozenset(edge.ends), self.edge_siemens(edge)) for edge in edges]
        return voltages(case, self.event, joined, self.own_ohm(), self.drive())

    def own_ohm(self) -> Complex:
        """Return the generator's network, Ω."""
        return self._kept("own", self.event.coupling, lambda: self.event.network_ohm(self._base.s))

    def drive(self) -> Complex:
        """Return the current that the generator would drive into a short, A·s."""

        def compute() -> Complex:
            source = self._base.transform(self.event.source(self._base.record_s))
            return source if self.event.is_current else source / self.own_ohm()

        return self._kept("drive", self.event, compute)

    def edge_siemens(self, edge: Edge) -> Complex:
        """Return the admittance of parts in series, S."""

        def compute() -> Complex:
            return admittance(sum((self.part_ohm(part) for part in edge.parts[1:]), start=self.part_ohm(edge.parts[0])))

        return self._kept("edge", edge.parts, compute)

    def part_ohm(self, part: Part) -> Complex:
        """Return the impedance of a part, Ω."""
        return self._kept("part", (part,), partial(laplace_ohm, part, self._base))

    @property
    def _base(self) -> TimeBase:
        return self.event.standard.base

    def _kept(self, what: str, key: Hashable, compute: Callable[[], Complex]) -> Complex:
        return self.solver.memo.get(("laplace", what, key, self._base), compute)


def _notes(case: Case, edges: Sequence[Edge], settled: Settled) -> tuple[str, ...]:
    earth, into = case.surroundings.name, settled.event.into
    said = []
    if not _passes_pair(case, edges, into):
        said.append(
            f"Nothing but {into} strays to the {earth}, so that no current crosses the pair. Describe what else leads "
            "there, a lead or a stray capacitance."
        )
    if settled.floating and settled.region_bleed_s == np.inf and settled.event.is_current:
        said.append(f"{into} floats, and nothing bleeds it: discharges of one polarity add up.")
    if any(isinstance(part, (Bead, CommonModeChoke, Inductor)) for edge in edges for part in edge.parts):
        said.append("A core saturates under such currents: it passes more, and holds off less, than is shown.")
    return tuple(said)


def _passes_pair(case: Case, edges: Sequence[Edge], into: str) -> bool:
    """Return whether current has a way from the region to the surroundings that crosses the pair."""
    pair, earth = case.pair.ends, case.surroundings.name
    if into not in pair:
        return True
    other = pair[0] if into == pair[1] else pair[1]
    island = islands(edge.ends for edge in edges if into not in edge.ends)
    return other in island and island[other] == island.get(earth)
