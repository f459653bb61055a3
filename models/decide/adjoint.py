"""The network's answer to a small change of any of its parts, for all parts at once: the adjoint.

One test current of 1 A into pair.b and out of pair.a gives the current i_e through every edge. Because the network is
reciprocal, that is all it takes: ∂Z/∂z_e = i_e² for the impedance at the pair, and ∂v/∂z_e = i_e·i'_e for the voltage
that a source drives there, with i'_e the current that the source drives through the edge. Nothing is solved again.
"""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from models.case.document import Candidate, Case
from models.decide.parameters import Parameter
from models.decide.slopes import dc_slope, difference, slope
from models.declare import set_path
from models.formulas.impedance import Complex
from models.network.cable import CommonModeLine, common_mode_line
from models.network.edges import Edge
from models.network.grid import DC, Grid
from models.network.mesh import admittance
from models.network.solver import Drive, Flow, Solver, drive_of
from models.sources.registry import Source


@frozen(kw_only=True, eq=False)
class Adjoint:
    """A candidate at one grid, with the test current solved."""

    solver: Solver
    case: Case
    candidate: Candidate
    grid: Grid
    flow: Flow

    @property
    def impedance(self) -> Complex:
        """Impedance in circuit (F,), Ω."""
        return self.flow.voltage[self.case.pair.b, self.case.pair.a]

    def impedance_slope(self, parameter: Parameter) -> Complex:
        """Return ∂Z/∂p (F,) of the impedance in circuit, Ω per SI unit of the parameter."""
        place = self._place(parameter)
        return self.flow.current[place] ** 2 * self._edge_slope(self.flow.edges[place], parameter)

    def transfer_slope(self, source: Source, parameter: Parameter) -> Complex:
        """Return ∂H/∂p (F,) of the voltage across the pair per unit of a source, per SI unit of the parameter.

        Raises
        ------
        ValueError
            the source's current has no way back
        """
        drive = drive_of(self.case, source)
        if drive.is_voltage and self.grid is DC:
            return np.zeros(self.grid.omega.shape, np.complex128)
        response = self.solver.response(self.case, self.candidate, source, self.grid)
        if not response.closed:
            raise ValueError(f"the current of {source.name} has no way back")
        place = self._place(parameter)
        edge = self.flow.edges[place]
        driven = admittance(_edge_ohm(edge, self.grid)) * response.rise(*edge.ends)
        through = self.flow.current[place] * driven * self._edge_slope(edge, parameter)
        into = self.flow.voltage[drive.into, drive.out_of]
        return through + into * self._injection_slope(drive, edge, parameter)

    def _place(self, parameter: Parameter) -> int:
        return next(number for number, edge in enumerate(self.flow.edges) if (edge.role, edge.name) == parameter.edge)

    def _edge_slope(self, edge: Edge, parameter: Parameter) -> Complex:
        """Return ∂z_e/∂p (F,) of an edge."""
        omega = self.grid.omega
        if edge.role == "transformer" and parameter.key == "driven_fraction":
            return np.zeros(omega.shape, np.complex128)
        if edge.role == "cable":
            if self.grid is DC:
                ohms = difference(lambda value: np.array([self._line(parameter, value).dc_ohm()]), parameter.value)
                return np.where(np.isfinite(ohms), ohms, 0.0)
            return difference(lambda value: self._line(parameter, value).impedance(omega), parameter.value)
        part = edge.parts[parameter.part]
        path = ("capacitance_f",) if edge.role == "transformer" else parameter.within_part
        return np.array([dc_slope(part, path)], np.complex128) if self.grid is DC else slope(part, path, omega)

    def _injection_slope(self, drive: Drive, edge: Edge, parameter: Parameter) -> Complex:
        """Return ∂J/∂p (F,) of the current that a source injects per unit of it."""
        omega = self.grid.omega
        if drive.capacitance_f is not None and edge.role == "transformer":
            case = self.case
            return np.asarray(1j * omega * _hot_slope(case, edge, parameter, drive.capacitance_f), np.complex128)
        if not any((each.role, each.name) == parameter.edge for each in drive.series):
            return np.zeros(omega.shape, np.complex128)
        if edge.role == "cable":
            return difference(
                lambda value: self._line(parameter, value).solved(omega).transfer_siemens, parameter.value
            )
        return -(admittance(_edge_ohm(edge, self.grid)) ** 2) * self._edge_slope(edge, parameter)

    def _line(self, parameter: Parameter, value: float) -> CommonModeLine:
        cable = next(each for each in self.case.cables if each.name == parameter.owner)
        return common_mode_line(set_path(cable, (parameter.key,), value))


def adjoint(solver: Solver, case: Case, candidate: Candidate, grid: Grid) -> Adjoint:
    """Return a candidate solved for sensitivities at a grid.

    Parameters
    ----------
    solver : remembers the network between calls
    case, candidate, grid : what is solved

    Returns
    -------
    Adjoint

    Source: reciprocity and Tellegen's theorem; S. Director, R. Rohrer, *The Generalized Adjoint Network*, 1969.
    """
    flow = solver.flow(case, candidate, grid)
    return Adjoint(solver=solver, case=case, candidate=candidate, grid=grid, flow=flow)


def _edge_ohm(edge: Edge, grid: Grid) -> Complex:
    if grid is DC:
        return np.array([sum(part.dc_ohm() for part in edge.parts)], np.complex128)
    return sum((part.impedance(grid.omega) for part in edge.parts), start=np.zeros(1, np.complex128))


def _hot_slope(case: Case, edge: Edge, parameter: Parameter, hot_f: float) -> float:
    """Return how the driven capacitance changes with a value of its transformer."""
    transformer = case.transformer(edge.name)
    driven = transformer.driven_fraction * transformer.interwinding_capacitance_f
    if not math.isclose(driven, hot_f, rel_tol=1e-12):
        return 0.0
    if parameter.key == "driven_fraction":
        return transformer.interwinding_capacitance_f
    return transformer.driven_fraction
