"""Where an impedance resonates, how sharply, and which parts make it."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.network.edges import Edge
from models.network.grid import Grid, point_grid
from models.network.solver import Solver
from models.parts.part import Part

_LEAST_Q = 1.0
_STEP = 1e-4
_ENERGY_TOLD = 0.85
"""How much of the stored energy the named parts must hold together."""

Kind = Literal["series", "parallel"]


@frozen(kw_only=True)
class Resonance:
    """A frequency at which an impedance is real, and turns from one kind of reactance to the other.

    Attributes
    ----------
    kind : ``series`` (capacitive below, inductive above: a low impedance) or ``parallel`` (the other way: a high one)
    f_hz : frequency, Hz
    q : quality factor
    z_ohm : the impedance there, real, Ω
    """

    kind: Kind
    f_hz: float
    q: float
    z_ohm: float


@frozen(kw_only=True)
class Maker:
    """A part that stores energy at a resonance, the path it stands in and its role, and its share of what is stored."""

    path: str
    role: str
    part: Part
    share: float


def resonances(f_hz: Real, z_ohm: Complex) -> tuple[Resonance, ...]:
    """Return the series and parallel resonances of an impedance, lowest first.

    Series: X = 0, Q = (ω/2)·|dX/dω|/R. Parallel: B = 0, Q = (ω/2)·|dB/dω|/G.

    Parameters
    ----------
    f_hz : (F,) rising, Hz, above 0
    z_ohm : (F,) complex, Ω

    Returns
    -------
    those with Q of at least 1

    Notes
    -----
    X and B are read linearly in log f between neighbouring points: with 100 points a decade the frequency is good to
    0.1 % and Q to 5 %, for resonances that stand further apart than two points. Source: the two-element resonator; any
    text on circuits.
    """
    sound = np.isfinite(z_ohm) & (z_ohm != 0.0)
    y = np.divide(1.0, z_ohm, out=np.ones_like(z_ohm), where=sound)
    found = (*_crossings("series", f_hz, z_ohm, sound), *_crossings("parallel", f_hz, y, sound))
    return tuple(sorted((each for each in found if each.q >= _LEAST_Q), key=lambda each: each.f_hz))


def _crossings(
    kind: Kind, f_hz: Real, value: Complex, sound: np.ndarray[tuple[int], np.dtype[np.bool_]]
) -> list[Resonance]:
    """Return where the imaginary part of Z, or of Y, rises through zero; both always rise there without loss."""
    x = value.imag
    places = np.flatnonzero(sound[:-1] & sound[1:] & (x[:-1] < 0.0) & (x[1:] >= 0.0))
    found = []
    for at in places.tolist():
        part = -x[at] / (x[at + 1] - x[at])
        width = math.log(f_hz[at + 1] / f_hz[at])
        real = float(value.real[at] + part * (value.real[at + 1] - value.real[at]))
        if real > 0.0:
            q = 0.5 * float(x[at + 1] - x[at]) / width / real
            z_ohm = real if kind == "series" else 1.0 / real
            found.append(Resonance(kind=kind, f_hz=float(f_hz[at] * math.exp(part * width)), q=q, z_ohm=z_ohm))
    return found


def makers(solver: Solver, case: Case, candidate: Candidate, f_hz: float, *, bridge_alone: bool) -> tuple[Maker, ...]:
    """Return the parts that store most of the energy at a resonance, the largest share first.

    W = ¼·|I|²·|dX/dω|, which counts both fields of a part that has both.

    Parameters
    ----------
    solver, case, candidate : whose resonance
    f_hz : its frequency, Hz
    bridge_alone : whether it is one of the bridge alone rather than in circuit

    Returns
    -------
    parts that hold 85 % of the energy together

    Notes
    -----
    Exact for parts without loss; with loss, good while Q is above about 3. Source: Foster's reactance theorem.
    """
    grid = point_grid((f_hz,))
    flow = solver.flow(case, candidate, grid)
    stored = [
        (edge, part, abs(complex(current[0])) ** 2 * _slope(part, grid))
        for edge, current in zip(flow.edges, flow.current, strict=True)
        if not bridge_alone or (edge.role == "branch" and case.pair.is_joined_by(edge.ends))
        for part in edge.parts
    ]
    return _largest(stored)


def _slope(part: Part, grid: Grid) -> float:
    omega = grid.omega * np.array([1.0 - _STEP, 1.0 + _STEP])
    low, high = part.impedance(omega).imag.tolist()
    return abs(high - low) if math.isfinite(low) and math.isfinite(high) else 0.0


def _largest(stored: list[tuple[Edge, Part, float]]) -> tuple[Maker, ...]:
    total = sum(energy for *_, energy in stored)
    told, result = 0.0, []
    for edge, part, energy in sorted(stored, key=lambda each: -each[2]):
        if total <= 0.0 or told >= _ENERGY_TOLD:
            break
        result.append(Maker(path=edge.name, role=edge.role, part=part, share=energy / total))
        told += energy / total
    return tuple(result)
