"""A source and the pair as a two-port, so that a transfer function can be written as Touchstone.

Port 1 is where the source acts, port 2 the pair; the candidate and everything else stand between them. Driving port 1
with port 2 open gives the transfer function: V2/V1 for a voltage on a transformer, V2/I1 for a current.
"""

from __future__ import annotations

import numpy as np

from app.exchange.faults import ExchangeError
from models.arrays import Complex
from models.case.document import Candidate, Case
from models.network.grid import Grid
from models.network.solver import Solver, drive_of
from models.sources.source import Source


def two_port(
    solver: Solver, case: Case, candidate: Candidate, source: Source, grid: Grid, *, reference_ohm: float = 50.0
) -> Complex:
    """Return the scattering parameters (F, 2, 2) between a source's terminals and the pair.

    A current: Z11 = v(into) − v(out of) per A, Z21 = Z12 = H, Z22 = the pair in circuit; S = (Z − R)(Z + R)⁻¹. A
    voltage behind C_hot: Y22 = 1/Z of the pair, Y21 = Y12 = −H·Y22, Y11 = jωC_hot·(1 − rise) + Y21²/Y22 with the rise
    of the far end per volt; S = (1 − RY)(1 + RY)⁻¹. Source: K. Kurokawa, *Power waves and the scattering matrix*, 1965.

    Raises
    ------
    ExchangeError
        for a source in series with cables, or one that drives a coupling as well, which have no two terminals of their
        own, and where nothing joins the pair
    """
    drive = drive_of(case, source)
    if drive.also:
        raise ExchangeError(f"{source.name}: found a source that drives a coupling as well; accepted: CSV")
    if drive.series:
        raise ExchangeError(f"{source.name}: found a source in series with what leads to earth; accepted: CSV")
    pair = solver.in_circuit(case, candidate, grid)
    response = solver.response(case, candidate, source, grid)
    if not (np.isfinite(pair).all() and np.isfinite(response.v_ba).all()):
        raise ExchangeError(f"{candidate.name}, {source.name}: found an open pair; accepted: CSV")
    rise = response.rise(drive.into, drive.out_of)
    identity = np.eye(2)
    if drive.capacitance_f is None:
        z = _matrix(rise, response.v_ba, pair) / reference_ohm
        return _over(z - identity, z + identity)
    y21 = -response.v_ba / pair
    y11 = 1j * grid.omega * drive.capacitance_f * (1.0 - rise) + y21 * y21 * pair
    y = _matrix(y11, y21, 1.0 / pair) * reference_ohm
    return _over(identity - y, identity + y)


def _matrix(own: Complex, across: Complex, pair: Complex) -> Complex:
    return np.stack([np.stack([own, across], axis=-1), np.stack([across, pair], axis=-1)], axis=-2)


def _over(above: Complex, below: Complex) -> Complex:
    """Return above·below⁻¹; both are functions of one matrix, so the order does not matter."""
    return np.asarray(np.linalg.solve(below, above), np.complex128)
