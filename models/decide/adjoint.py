"""The network's answer to a small change of any of its parts, for all parts at once: the adjoint.

One test current of 1 A into pair.b and out of pair.a gives the current i_e through every edge. Because the network is
reciprocal, that is all it takes: ∂Z/∂z_e = i_e² for the impedance at the pair. Nothing is solved again.
"""

from __future__ import annotations

import numpy as np
from attrs import frozen

from models.arrays import Complex
from models.case.document import Candidate, Case
from models.decide.parameters import Parameter
from models.decide.slopes import difference, slope
from models.declare import set_path
from models.network.cable import CommonModeLine, common_mode_line
from models.network.edges import Edge
from models.network.grid import Grid
from models.network.solver import Flow, Solver


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
        return self.flow.voltage.rise(self.case.pair.b, self.case.pair.a)

    def impedance_slope(self, parameter: Parameter) -> Complex:
        """Return ∂Z/∂p (F,) of the impedance in circuit, Ω per SI unit of the parameter."""
        place = self._place(parameter)
        return self.flow.current[place] ** 2 * self._edge_slope(self.flow.edges[place], parameter)

    def _place(self, parameter: Parameter) -> int:
        return next(number for number, edge in enumerate(self.flow.edges) if (edge.role, edge.name) == parameter.edge)

    def _edge_slope(self, edge: Edge, parameter: Parameter) -> Complex:
        """Return ∂z_e/∂p (F,) of an edge."""
        omega = self.grid.omega
        if edge.role == "transformer" and parameter.key == "driven_fraction":
            return np.zeros(omega.shape, np.complex128)
        if edge.role == "cable":
            return difference(lambda value: self._line(parameter, value).impedance(omega), parameter.value)
        path = ("capacitance_f",) if edge.role == "transformer" else parameter.within_part
        return slope(edge.parts[parameter.part], path, omega)

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
