"""The network solved at the pair: what always stands is reduced once, a candidate is added to the reduction."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from functools import partial

import numpy as np
from attrs import field, frozen

from models.arrays import Complex
from models.case.document import AS_STATED, Candidate, Case
from models.network.cable import CommonModeLine, SolvedLine
from models.network.edges import Edge, branch_edges, cable_edges, earth_edges, islands, standing_edges
from models.network.grid import DC, Grid
from models.network.load import BeadBias, LoadCurrent, bead_biases, biased, has_bead, load_currents
from models.network.memo import Memo
from models.network.mesh import Carried, Ends, Mesh, Step, admittance, impedance, reduce_to, volts
from models.network.response import Response
from models.parts.part import Part
from models.sources.mains_offset import MainsOffset
from models.sources.source import Source, mean_of
from models.sources.switch_node import SwitchNode


@frozen(kw_only=True)
class Drive:
    """Where a source pushes its current: out of one node, into another.

    A voltage on a transformer is ideal, behind C_hot; its Norton equivalent is the current jωC_hot per volt, with C_hot
    across the pair, where the network has it already. A voltage in series with edges is their current per volt. What
    hangs on the switch node besides the transformer carries its own current per volt to its far end.
    """

    out_of: str
    into: str
    capacitance_f: float | None = None
    series: tuple[Edge, ...] = ()
    also: tuple[Edge, ...] = ()

    @property
    def is_voltage(self) -> bool:
        """Whether the source is a voltage, which drives no direct current."""
        return self.capacitance_f is not None or bool(self.series)

    def carried(self, own: Complex, also: Iterable[Complex]) -> dict[Carried, Complex]:
        """Return the currents per unit by where they go, from its own and from those of what hangs on it as well."""
        found = {(self.out_of, self.into): own}
        for edge, current in zip(self.also, also, strict=True):
            (far,) = set(edge.ends) - {self.out_of}
            found[self.out_of, far] = found[self.out_of, far] + current if (self.out_of, far) in found else current
        return found


def drive_of(case: Case, source: Source) -> Drive:
    """Return where a source of the case acts."""
    if isinstance(source, MainsOffset):
        region = source.between[1]
        return Drive(out_of=case.surroundings.name, into=region, series=earth_edges(case, region))
    out_of, into = case.source_ends(source)
    if source.through is None:
        return Drive(out_of=out_of, into=into)
    transformer = case.transformer(source.through)
    hot_f = transformer.driven_fraction * transformer.interwinding_capacitance_f
    return Drive(out_of=out_of, into=into, capacitance_f=hot_f, also=_hanging(case, source))


def _hanging(case: Case, source: Source) -> tuple[Edge, ...]:
    """Return the coupling that hangs on a switch node beside its transformer."""
    if not isinstance(source, SwitchNode) or source.also_through is None:
        return ()
    return tuple(each for each in standing_edges(case) if each.role == "coupling" and each.name == source.also_through)


@frozen(kw_only=True, eq=False)
class Flow:
    """Voltages and currents everywhere for a test current of 1 A into b and out of a, at one grid.

    Attributes
    ----------
    current : edge → (F,) complex, A, counted from the edge's first end to its second
    voltage : between any two nodes, V
    """

    edges: tuple[Edge, ...]
    current: tuple[Complex, ...]
    voltage: Response


@frozen(kw_only=True, eq=False)
class Solver:
    """Solves cases, and remembers what the next solve of a slightly different case can use again."""

    memo: Memo = field(factory=Memo)

    def loads(self, case: Case, candidate: Candidate) -> tuple[LoadCurrent, ...]:
        """Return the direct current through every branch of a candidate, all sources together."""
        return self.memo.get(("load", _direct(case), candidate), lambda: load_currents(self, case, candidate))

    def bead_biases(self, case: Case, candidate: Candidate) -> tuple[BeadBias, ...]:
        """Return what the load current makes of a candidate's beads, and what is computed with."""
        return bead_biases(case, candidate, self.loads(case, candidate)) if has_bead(candidate) else ()

    def operating(self, case: Case, candidate: Candidate) -> Candidate:
        """Return a candidate as it operates: with its beads under their share of the load current, where asked for."""
        if case.bead_bias == AS_STATED or not has_bead(candidate):
            return candidate
        compute = partial(self._biased, case, candidate)
        return self.memo.get(("operating", _direct(case), candidate), compute)

    def _biased(self, case: Case, candidate: Candidate) -> Candidate:
        return biased(candidate, self.loads(case, candidate))

    def bridge(self, case: Case, candidate: Candidate, grid: Grid) -> Complex:
        """Return the impedance (F,) in Ω of the branches directly across the pair, alone; ``inf`` where none is."""
        edges = self._across(case, candidate)
        if not edges:
            return np.full(grid.omega.shape, np.inf, np.complex128)
        if len(edges) == 1:
            return self._edge_impedance(edges[0], grid)
        return impedance(sum((self._edge_admittance(edge, grid) for edge in edges), start=np.zeros(1, np.complex128)))

    def in_circuit(self, case: Case, candidate: Candidate, grid: Grid) -> Complex:
        """Return what 1 A into pair.b and out of pair.a sees (F,) in Ω, sources dead; ``inf`` for an open pair."""
        mesh, _ = self._at_pair(case, candidate, grid, None)
        y = mesh.between(*case.pair.ends)
        return np.full(grid.omega.shape, np.inf, np.complex128) if y is None else impedance(y)

    def transfer(self, case: Case, candidate: Candidate, source: Source, grid: Grid) -> Complex:
        """Return v(b) − v(a) (F,) in V per unit of the source (V or A); ``inf`` where its current has no way back."""
        return self.response(case, candidate, source, grid).v_ba

    def response(self, case: Case, candidate: Candidate, source: Source, grid: Grid) -> Response:
        """Return what one unit of the source (V or A) does to every node."""
        drive = drive_of(case, source)
        a, b = case.pair.ends
        if drive.is_voltage and grid is DC:
            return Response(a=a, b=b, v_ba=np.zeros(1, np.complex128), steps=())
        island = self._islands(case, candidate, grid)
        if drive.into not in island or island[drive.into] != island.get(drive.out_of):
            return Response(a=a, b=b, v_ba=np.full(grid.omega.shape, np.inf, np.complex128), steps=(), closed=False)
        mesh, steps = self._at_pair(case, candidate, grid, drive)
        current = mesh.carried(a, b)
        if b in island and island[b] == island.get(a) and current is not None:
            y = mesh.between(a, b)
            assert y is not None
            v_ba = volts(current, y)
        else:
            v_ba = np.zeros(grid.omega.shape, np.complex128)
        series = {edge: self.series_current(edge, grid) for edge in drive.series}
        return Response(a=a, b=b, v_ba=v_ba, steps=steps, series=series)

    def line(self, line: CommonModeLine, grid: Grid) -> SolvedLine:
        """Return a cable solved at a grid above 0 Hz."""
        return self.memo.get(("line", line, grid), lambda: line.solved(grid.omega))

    def flow(self, case: Case, candidate: Candidate, grid: Grid) -> Flow:
        """Return where a test current of 1 A into b and out of a goes; 0 everywhere where the pair is open."""
        a, b = case.pair.ends
        edges = (*self._standing_edges(case), *self._branches(case, candidate))
        whole = Mesh(y={}, j={}).joined((frozenset(edge.ends), self._edge_admittance(edge, grid)) for edge in edges)
        mesh, steps = reduce_to(whole, (a, b))
        y = mesh.between(a, b)
        v_ba = np.zeros(grid.omega.shape, np.complex128)
        if y is not None:
            np.divide(1.0, y, out=v_ba, where=y != 0.0)
        voltage = Response(a=a, b=b, v_ba=v_ba, steps=steps)
        current = tuple(self._edge_admittance(edge, grid) * voltage.rise(*edge.ends) for edge in edges)
        return Flow(edges=edges, current=current, voltage=voltage)

    def mean(self, source: Source) -> float:
        """Return the mean of what a source drives, V or A."""
        return self.memo.get(("mean", source), partial(mean_of, source))

    def injected(self, drive: Drive, grid: Grid) -> Complex:
        """Return the current (F,) that a source injects per unit of it, A."""
        current = np.zeros(grid.omega.shape, np.complex128)
        if drive.capacitance_f is not None:
            current.imag = grid.omega * drive.capacitance_f
        elif drive.series:
            current += sum(self.series_current(edge, grid) for edge in drive.series)
        else:
            current.real = 1.0
        return current

    def series_current(self, edge: Edge, grid: Grid) -> Complex:
        """Return the current (F,) that 1 V in series with an edge, at its far end, drives out of its near end, A."""
        part = edge.parts[0]
        if isinstance(part, CommonModeLine):
            return self.line(part, grid).transfer_siemens
        return self._edge_admittance(edge, grid)

    def _at_pair(
        self, case: Case, candidate: Candidate, grid: Grid, drive: Drive | None
    ) -> tuple[Mesh, tuple[Step, ...]]:
        pair = case.pair.ends
        edges = self._branches(case, candidate)
        mesh, standing = self._standing(case, grid, frozenset(pair).union(*(edge.ends for edge in edges)), drive)
        added: list[tuple[Ends, Complex]] = [
            (frozenset(edge.ends), self._edge_admittance(edge, grid)) for edge in edges
        ]
        mesh, steps = reduce_to(mesh.joined(added), pair)
        return mesh, (*standing, *steps)

    def _standing(
        self, case: Case, grid: Grid, keep: frozenset[str], drive: Drive | None
    ) -> tuple[Mesh, tuple[Step, ...]]:
        """Return what always stands, reduced to the nodes that a candidate touches, with one source acting."""
        edges = self._standing_edges(case)

        def compute() -> tuple[Mesh, tuple[Step, ...]]:
            mesh = Mesh(y={}, j={} if drive is None else self._carried(drive, grid))
            mesh = mesh.joined((frozenset(edge.ends), self._edge_admittance(edge, grid)) for edge in edges)
            return reduce_to(mesh, keep)

        return self.memo.get(("standing", edges, grid, keep, drive), compute)

    def _carried(self, drive: Drive, grid: Grid) -> dict[Carried, Complex]:
        return drive.carried(self.injected(drive, grid), (self._edge_admittance(edge, grid) for edge in drive.also))

    def _islands(self, case: Case, candidate: Candidate, grid: Grid) -> Mapping[str, str]:
        """Return the islands that current can pass within: by everything, but at DC only by what has a DC path."""
        edges = (*self._standing_edges(case), *self._branches(case, candidate))
        if grid is DC:
            edges = tuple(edge for edge in edges if math.isfinite(sum(part.dc_ohm() for part in edge.parts)))
        ends = tuple(edge.ends for edge in edges)
        return self.memo.get(("islands", ends), lambda: islands(ends))

    def _standing_edges(self, case: Case) -> tuple[Edge, ...]:
        key = ("edges", case.transformers, case.couplings, case.cables, case.surroundings)
        return self.memo.get(key, lambda: (*standing_edges(case), *cable_edges(case)))

    def _branches(self, case: Case, candidate: Candidate) -> tuple[Edge, ...]:
        """Return what a candidate adds as it operates: the one place where the load biases the beads."""
        operating = self.operating(case, candidate)
        return self.memo.get(("branches", case.pair, operating), lambda: branch_edges(case, operating))

    def _across(self, case: Case, candidate: Candidate) -> tuple[Edge, ...]:
        return tuple(edge for edge in self._branches(case, candidate) if case.pair.is_joined_by(edge.ends))

    def _edge_impedance(self, edge: Edge, grid: Grid) -> Complex:
        impedances = [self._part_impedance(part, grid) for part in edge.parts]
        return impedances[0] if len(impedances) == 1 else sum(impedances[1:], start=impedances[0])

    def _edge_admittance(self, edge: Edge, grid: Grid) -> Complex:
        return self.memo.get(("edge", edge.parts, grid), lambda: admittance(self._edge_impedance(edge, grid)))

    def _part_impedance(self, part: Part, grid: Grid) -> Complex:
        if grid is DC:
            return np.array([part.dc_ohm()], np.complex128)
        if isinstance(part, CommonModeLine):
            return self.line(part, grid).input_ohm
        return self.memo.get(("part", part, grid), lambda: part.impedance(grid.omega))


def _direct(case: Case) -> tuple[object, ...]:
    """Return what the direct currents of a case depend on besides the candidate."""
    return case.pair, case.surroundings, case.transformers, case.couplings, case.cables, case.sources
