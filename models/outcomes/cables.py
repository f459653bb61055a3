"""The current that a source drives into each cable, along it, and out of its far end."""

from __future__ import annotations

import math
from functools import cached_property

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.network.cable import CommonModeLine, SolvedLine, common_mode_line
from models.network.edges import Edge, cable_edge
from models.network.grid import DC
from models.network.response import Response
from models.network.solver import Solver
from models.outcomes.lines import SourceLines, source_lines
from models.sources.source import Source


@frozen(kw_only=True, eq=False, slots=False)
class CableCurrent:
    """The current of one source in one cable; computed when asked for.

    Attributes
    ----------
    source, cable : names
    frequency_hz : distance between the lines
    dc_a : the mean into the cable, A; ``inf`` where a direct current has no way back
    """

    source: str
    cable: str
    frequency_hz: float
    dc_a: float
    edge: Edge
    lines: SourceLines
    response: Response | None
    solved: SolvedLine | None

    @cached_property
    def coefficients(self) -> Complex:
        """Two-sided Fourier coefficients (N + 1,) of the current into the cable at its region, A; order 0 set to 0."""
        found = np.zeros(self.lines.coefficients.shape, np.complex128)
        if self.response is None or self.solved is None:
            return found
        if not self.response.closed:
            found[1:] = np.inf
            return found
        per_unit = self.response.rise(*self.edge.ends) * self.solved.input_siemens
        if self.edge in self.response.series:
            per_unit = per_unit - self.response.series[self.edge]
        found[1:] = per_unit * self.lines.coefficients[1:]
        return found

    @cached_property
    def orders(self) -> Real:
        """Orders 0 to N."""
        return np.arange(len(self.coefficients), dtype=np.float64)

    @cached_property
    def a_rms(self) -> Real:
        """Rms current (N + 1,) into the cable at its region, the mean at order 0, A."""
        found = math.sqrt(2.0) * np.abs(self.coefficients)
        found[0] = abs(self.dc_a)
        return found

    @cached_property
    def largest_a_rms(self) -> Real:
        """Largest rms current (N + 1,) along the cable, the mean at order 0, A."""
        return self._along(None if self.solved is None else self.solved.largest_ratio)

    @cached_property
    def far_a_rms(self) -> Real:
        """Rms current (N + 1,) through what the far end is joined to, the mean at order 0, A."""
        return self._along(None if self.solved is None else self.solved.far_share)

    def at_order(self, order: int) -> SolvedLine | None:
        """Return the cable solved at one harmonic, order 1 or more; None where the source has no line in the sweep."""
        return None if self.solved is None else self.solved.line.solved(self.solved.omega[order - 1 : order])

    def along_a_rms(self, order: int, place_m: Real) -> Real:
        """Return the rms current (X,) of one harmonic along the cable, A.

        Parameters
        ----------
        order : 1 to N
        place_m : (X,) distances from the region, m

        Notes
        -----
        The far end alone decides the shape, and the candidate how much flows. A source between earths, which drives the
        cable from its far end, has frequencies so low that the current is the same all along.
        """
        solved = self.at_order(order)
        into = self.a_rms[order]
        if solved is None or not math.isfinite(into) or self.edge in getattr(self.response, "series", ()):
            return np.full(place_m.shape, into)
        return np.asarray(into * solved.along(place_m)[:, 0], np.float64)

    def _along(self, ratio: Real | None) -> Real:
        found = self.a_rms.copy()
        if ratio is not None and np.isfinite(found[1:]).all():
            found[1:] *= ratio
        return found

    @cached_property
    def total_rms_a(self) -> float:
        """Rms of the whole current at the region, the mean included, A."""
        return float(np.sqrt(np.sum(self.a_rms**2)))

    @cached_property
    def radiated_w(self) -> float:
        """Power that the cable radiates, all lines together, W."""
        return 0.0 if self.solved is None else float(np.sum(self.a_rms[1:] ** 2 * self.solved.radiated_ohm))


def cable_currents(
    solver: Solver, case: Case, candidate: Candidate, source: Source, response: Response | None
) -> tuple[CableCurrent, ...]:
    """Return the current of a source in every cable of the case.

    I_n = Y(f_n)·(v_region − v_surroundings), per line of the source; a source in series with the cable drives it the
    other way. DC with DC resistances.

    Parameters
    ----------
    solver : remembers the network between calls
    case, candidate, source : what is solved
    response : of the network to the source at its lines; None where it has none inside the sweep
    """
    lines = source_lines(solver, case, source)
    at_dc = solver.response(case, candidate, source, DC) if lines.mean and case.cables else None
    found = []
    for cable in case.cables:
        edge, line = cable_edge(case, cable), common_mode_line(cable)
        found.append(
            CableCurrent(
                source=source.name,
                cable=cable.name,
                frequency_hz=lines.frequency_hz,
                dc_a=0.0 if at_dc is None else lines.mean * _dc_per_unit(at_dc, edge, line),
                edge=edge,
                lines=lines,
                response=response,
                solved=None if lines.grid is None else solver.line(line, lines.grid),
            )
        )
    return tuple(found)


def _dc_per_unit(response: Response, edge: Edge, line: CommonModeLine) -> float:
    ohm = line.dc_ohm()
    if not math.isfinite(ohm):
        return 0.0
    return float(response.rise(*edge.ends)[0].real) / ohm if response.closed else math.inf
