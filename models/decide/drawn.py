"""Parts and network for many draws of their tolerances at once: every array is (draws, frequencies)."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

import numpy as np
from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.formulas.impedance import series_rl, shunted
from models.network.edges import Edge
from models.network.grid import DC, Grid
from models.network.mesh import Ends, Mesh, admittance
from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.choke import CommonModeChoke
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.resistor import Resistor

_NODES = 12
"""Chebyshev nodes over the tolerance where a part has no closed form in its factor: 1e-9 for tolerances to 50 %."""


@frozen(kw_only=True)
class DrawnEdge:
    """An edge, and for each part in series the column of factors that its tolerance draws, or None."""

    edge: Edge
    columns: tuple[int | None, ...]


def scaled_impedance(part: Part, omega: Real, factors: Real) -> Complex:
    """Return the impedance of a part whose main value is multiplied by each of many factors.

    Equal to ``part.scaled(k).impedance(omega)`` for every factor k.

    Parameters
    ----------
    part : the part
    omega : (F,) rad/s, above 0
    factors : (D,)

    Returns
    -------
    (D, F) complex, Ω
    """
    closed = _CLOSED.get(type(part))
    found = closed(part, omega, factors[:, np.newaxis]) if closed else None
    return _interpolated(part, omega, factors) if found is None else found


def scaled_dc_ohm(part: Part, factors: Real) -> Real:
    """Return the resistance at DC (D,) in Ω of a part whose main value is multiplied by each of many factors."""
    return np.array([part.scaled(float(factor)).dc_ohm() for factor in factors])


def drawn_mesh(edges: Sequence[DrawnEdge], grid: Grid, factors: Real) -> Mesh:
    """Return the network of edges for every draw.

    Parameters
    ----------
    edges : with the columns of their parts
    grid : F frequencies, or DC
    factors : (D, K)

    Returns
    -------
    Mesh with admittances (D, F), or (1, F) where nothing is drawn
    """
    joined: list[tuple[Ends, Complex]] = [
        (frozenset(each.edge.ends), edge_siemens(each, grid, factors)) for each in edges
    ]
    return Mesh(y={}, j={}).joined(joined)


def edge_siemens(drawn: DrawnEdge, grid: Grid, factors: Real) -> Complex:
    """Return the admittance of an edge in S, (D, F), or (1, F) where none of its parts is drawn."""
    total = np.zeros((1, grid.omega.size), np.complex128)
    for part, column in zip(drawn.edge.parts, drawn.columns, strict=True):
        total = total + _part_ohm(part, grid, None if column is None else factors[:, column])
    return admittance(total)


def _part_ohm(part: Part, grid: Grid, factors: Real | None) -> Complex:
    if grid is DC:
        ohm = np.array([part.dc_ohm()]) if factors is None else scaled_dc_ohm(part, factors)
        return ohm[:, np.newaxis].astype(np.complex128)
    if factors is None:
        return part.impedance(grid.omega)[np.newaxis]
    return scaled_impedance(part, grid.omega, factors)


def _capacitor(part: Part, omega: Real, factors: Real) -> Complex | None:
    """Z(k) = Z_series + 1/(k·Y_dielectric + 1/Rins), over the count."""
    assert isinstance(part, Capacitor)
    bare = evolve(
        part,
        esr_ohm=0.0,
        esl_h=0.0,
        lead_length_m=0.0,
        metal_resistance_ohm=0.0,
        insulation_resistance_ohm=None,
        count=1,
    )
    dielectric = 1.0 / bare.impedance(omega)
    insulation = 0.0 if part.insulation_resistance_ohm is None else 1.0 / part.insulation_resistance_ohm
    series = part.count * part.impedance(omega) - 1.0 / (dielectric + insulation)
    z = factors * dielectric
    z += insulation
    np.divide(1.0, z, out=z)
    z += series
    return z if part.count == 1 else z / part.count


def _copper(part: Part, omega: Real, factors: Real) -> Complex | None:
    assert isinstance(part, Copper)
    return None if part.length_m is not None else factors * part.impedance(omega)


def _resistor(part: Part, omega: Real, factors: Real) -> Complex | None:
    assert isinstance(part, Resistor)
    wide = np.broadcast_to(omega, (factors.shape[0], omega.size))
    inner = series_rl(wide, factors * part.resistance_ohm, part.inductance_h)
    return shunted(inner, wide, 0.0, part.capacitance_f)


def _inductor(part: Part, omega: Real, factors: Real) -> Complex | None:
    assert isinstance(part, Inductor)
    wide = factors * omega
    loss = 0.0 if part.parallel_resistance_ohm is None else 1.0 / part.parallel_resistance_ohm
    inner = series_rl(wide, part.rdc_ohm, part.inductance_h)
    return shunted(inner, np.broadcast_to(omega, wide.shape), loss, part.capacitance_f)


def _foster(part: Part, omega: Real, factors: Real) -> Complex | None:
    assert isinstance(part, Bead | CommonModeChoke)
    return factors * (part.impedance(omega) - part.rdc_ohm) + part.rdc_ohm


def _interpolated(part: Part, omega: Real, factors: Real) -> Complex:
    """Return the impedances from a polynomial through those at Chebyshev nodes (barycentric form)."""
    low, high = float(factors.min()), float(factors.max())
    if high - low < 1e-12:
        return np.broadcast_to(part.scaled(low).impedance(omega), (factors.size, omega.size))
    angles = (2.0 * np.arange(_NODES) + 1.0) * np.pi / (2.0 * _NODES)
    nodes = 0.5 * (low + high) + 0.5 * (high - low) * np.cos(angles)
    weights = (-1.0) ** np.arange(_NODES) * np.sin(angles)
    values = np.array([part.scaled(float(node)).impedance(omega) for node in nodes])
    distance = factors[:, np.newaxis] - nodes
    distance[distance == 0.0] = 1e-300
    share = weights / distance
    found: Complex = (share / share.sum(axis=1, keepdims=True)) @ values
    return found


_CLOSED: Mapping[type, Callable[[Part, Real, Real], Complex | None]] = MappingProxyType(
    {
        Capacitor: _capacitor,
        Copper: _copper,
        Resistor: _resistor,
        Inductor: _inductor,
        Bead: _foster,
        CommonModeChoke: _foster,
    }
)
