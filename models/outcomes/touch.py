"""Touch current: what mains drive through the bridge and a person, with the body networks of IEC 60990.

An estimate for design, not a certification: the current edition of the applicable standard, local codes and a qualified
person decide.
"""

from __future__ import annotations

import math

from attrs import evolve, frozen

from models.case.document import Candidate, Case, Coupling, Mains, Transformer
from models.network.grid import point_grid
from models.network.mesh import Mesh
from models.network.solver import Solver
from models.parts.part import Part

_BODY_SKIN_OHM, _BODY_SKIN_F, _BODY_OHM = 1500.0, 0.22e-6, 500.0
_FILTER_OHM, _FILTER_F = 10e3, 0.022e-6


@frozen(kw_only=True)
class TouchCurrent:
    """Rms touch current, at nominal values and at the worst of mains and capacitor tolerance, A."""

    unweighted_a: float
    weighted_a: float
    worst_unweighted_a: float
    worst_weighted_a: float


def touch_current(solver: Solver, case: Case, candidate: Candidate) -> TouchCurrent | None:
    """Return the touch current of a candidate, None for a case without mains.

    `[mains]` drives the fed region against the surroundings; the body network stands from the touched region to the
    surroundings. Cables and noise sources are left out.

    Source: IEC 60990, figures 3 and 4; edition believed 2016, to be checked against the current one.
    """
    mains = case.mains
    if mains is None:
        return None
    case = evolve(case, cables=())
    nominal = _currents(solver, case, candidate, mains.voltage_v)
    transformers, couplings = solver.memo.get(
        ("upper", case.transformers, case.couplings), lambda: _upper_surroundings(case)
    )
    upper = evolve(case, transformers=transformers, couplings=couplings)
    largest = solver.memo.get(("upper", candidate), lambda: _upper_candidate(candidate))
    worst_v = mains.voltage_v * (1.0 + mains.tolerance)
    worst = _currents(solver, upper, largest, worst_v)
    return TouchCurrent(
        unweighted_a=nominal[0], weighted_a=nominal[1], worst_unweighted_a=worst[0], worst_weighted_a=worst[1]
    )


def _currents(solver: Solver, case: Case, candidate: Candidate, voltage_v: float) -> tuple[float, float]:
    mains = case.mains
    assert mains is not None
    earth = case.surroundings.name
    grid = point_grid((mains.frequency_hz,))
    mesh = solver.reduced(case, candidate, grid, (mains.feeds, mains.touched, earth))
    return _reading(mesh, mains, earth, voltage_v, weighted=False), _reading(
        mesh, mains, earth, voltage_v, weighted=True
    )


def _reading(mesh: Mesh, mains: Mains, earth: str, voltage_v: float, *, weighted: bool) -> float:
    """Return U1/500 Ω or U2/500 Ω for the fed, touched and earth nodes with the body in place."""
    omega = 2.0 * math.pi * mains.frequency_hz
    body_ohm, gain_ohm = body_network(omega, weighted=weighted)
    y_feed = mesh.between(mains.feeds, mains.touched)
    y_stray = mesh.between(mains.touched, earth)
    feed = 0.0 if y_feed is None else complex(y_feed[0])
    stray = 0.0 if y_stray is None else complex(y_stray[0])
    v_touched = voltage_v * feed / (feed + stray + 1.0 / body_ohm)
    return abs(v_touched / body_ohm * gain_ohm) / _BODY_OHM


def body_network(omega: float, *, weighted: bool) -> tuple[complex, complex]:
    """Return the input impedance of the body network and the voltage it shows per ampere.

    1500 Ω ∥ 0.22 µF in series with 500 Ω; weighted, 10 kΩ and 0.022 µF across the 500 Ω load them.

    Parameters
    ----------
    omega : rad/s
    weighted : whether the perception network's filter is attached

    Returns
    -------
    (Z_in in Ω, U/I in Ω) with U = U1 over 500 Ω, or U2 over 0.022 µF when weighted

    Source: IEC 60990, figures 3 and 4.
    """
    skin = _BODY_SKIN_OHM / (1.0 + 1j * omega * _BODY_SKIN_F * _BODY_SKIN_OHM)
    if not weighted:
        return skin + _BODY_OHM, complex(_BODY_OHM)
    capacitor = 1.0 / (1j * omega * _FILTER_F)
    loaded = 1.0 / (1.0 / _BODY_OHM + 1.0 / (_FILTER_OHM + capacitor))
    return skin + loaded, loaded * capacitor / (_FILTER_OHM + capacitor)


def _upper_surroundings(case: Case) -> tuple[tuple[Transformer, ...], tuple[Coupling, ...]]:
    """Return what always stands, with every capacitor at the upper end of its tolerance."""
    return tuple(map(_upper_transformer, case.transformers)), tuple(map(_upper_coupling, case.couplings))


def _upper_candidate(candidate: Candidate) -> Candidate:
    branches = tuple(evolve(branch, parts=_upper_parts(branch.parts)) for branch in candidate.branches)
    return evolve(candidate, branches=branches)


def _upper_transformer(transformer: Transformer) -> Transformer:
    factor = 1.0 + transformer.tolerance
    return evolve(transformer, interwinding_capacitance_f=transformer.interwinding_capacitance_f * factor)


def _upper_coupling(coupling: Coupling) -> Coupling:
    return evolve(coupling, parts=_upper_parts(coupling.parts))


def _upper_parts(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    return tuple(part.scaled(1.0 + part.rating.tolerance) if part.blocks_dc() else part for part in parts)
