"""What an event leaves behind: charge on a floating region, and how long it takes to bleed.

A network of resistances and capacitances only; inductances have long had their say.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import cached_property

import numpy as np
from attrs import field, frozen

from models.arrays import Complex, Real
from models.case.document import Case
from models.network.edges import Edge, islands
from models.network.mesh import Ends, Mesh, admittance, reduce_to
from models.network.response import Response
from models.outcomes.event import Event
from models.outcomes.laplace import euler_nodes, euler_sum
from models.parts.part import Part

_PROBE = math.tau * 1e3
_LONGEST_S = 1e6
_PER_DECADE = 8
_NOTHING = 1e-4
"""Share of the level below which nothing is left."""
_BLED = 0.01


@frozen(kw_only=True, eq=False, slots=False)
class Settled:
    """The slow voltages after an event, the generator still there.

    Attributes
    ----------
    event : what it was
    t_s : (T,) from the event, evenly spaced on a log axis, s
    v_pair_v : (T,) v(b) − v(a), V
    v_region_v : (T,) of the region that was hit, against the surroundings, V
    floating : whether no direct current leads from that region to the surroundings, insulation left out
    charge_c : what stays on that region, and on those joined to it for direct current, at the first time, A·s
    """

    event: Event
    t_s: Real
    v_pair_v: Real
    v_region_v: Real
    floating: bool
    charge_c: float

    @property
    def pair_v(self) -> float:
        """Across the pair once everything fast is over, V."""
        return float(self.v_pair_v[0])

    @property
    def region_v(self) -> float:
        """Of the region that was hit, against the surroundings, once everything fast is over, V."""
        return float(self.v_region_v[0])

    @cached_property
    def pair_bleed_s(self) -> float:
        """Time in which the voltage across the pair falls to 1 %, s; ``inf`` where it stays, 0 where none is left."""
        return self._bleed_s(self.v_pair_v)

    @cached_property
    def region_bleed_s(self) -> float:
        """Time in which the region's voltage falls to 1 %, s; ``inf`` where it stays, 0 where none is left."""
        return self._bleed_s(self.v_region_v)

    def _bleed_s(self, voltage_v: Real) -> float:
        """Return when |v| falls below 1 % of its first value for good, between samples as an exponential."""
        size = np.abs(voltage_v)
        if size[0] < _NOTHING * self.event.level_v:
            return 0.0
        above = np.flatnonzero(size > _BLED * size[0])[-1]
        if above == size.size - 1:
            return math.inf
        start, end = np.log(np.maximum(size[above : above + 2], 1e-12 * size[0]) / (_BLED * size[0]))
        return float(self.t_s[above] + (self.t_s[above + 1] - self.t_s[above]) * start / (start - end))


@frozen(kw_only=True)
class _SlowPart:
    """A part to slow voltages: a resistance, or a capacitance with its insulation."""

    resistance_ohm: float
    capacitance_f: float = field(default=0.0)

    def impedance(self, s: Complex) -> Complex:
        """Return Z at s, Ω."""
        if not self.capacitance_f:
            return np.full(s.shape, self.resistance_ohm, np.complex128)
        return np.asarray(1.0 / (s * self.capacitance_f + 1.0 / self.resistance_ohm), np.complex128)


def settle(case: Case, edges: Sequence[Edge], event: Event) -> Settled:
    """Return what an event leaves behind.

    The generator's charge (a discharge) or the area under its voltage (burst and surge) acts at once; voltages follow
    from the network of resistances and capacitances by inverse Laplace transform.

    Parameters
    ----------
    case : the regions
    edges : everything that joins them
    event : what hits which of them

    Returns
    -------
    Settled

    Notes
    -----
    Exact for resistances and capacitances. After a discharge the gun's capacitor stays in place, as in the standard's
    own bleeding of a floating region; C counts at 1 kHz. Source: conservation of charge.
    """
    earth, start_s = case.surroundings.name, event.standard.settled_s
    decades = math.log10(_LONGEST_S / start_s)
    t_s = np.geomspace(start_s, _LONGEST_S, 1 + math.ceil(_PER_DECADE * decades))
    rise = _rises(case, edges, event, t_s)
    away = _crossing(edges, event.into)
    floating = bool(away) and earth not in _joined(edges, event.into)
    charge = sum(farad * float(rise(*ends)[0]) for ends, farad in away)
    return Settled(
        event=event,
        t_s=t_s,
        v_pair_v=rise(case.pair.b, case.pair.a),
        v_region_v=rise(event.into, earth),
        floating=floating,
        charge_c=charge if floating else 0.0,
    )


def _rises(case: Case, edges: Sequence[Edge], event: Event, t_s: Real) -> Callable[[str, str], Real]:
    """Return what tells v(upper) − v(lower) of two nodes over time."""
    nodes = euler_nodes(t_s)
    s = nodes.ravel()
    own = _slow_ohm(event, s)
    joined = [(frozenset(edge.ends), admittance(_edge_ohm(edge, s))) for edge in edges]
    found = voltages(case, event, joined, own, _impulse(event, own))
    return lambda upper, lower: euler_sum(found.rise(upper, lower).reshape(nodes.shape), t_s)


def voltages(
    case: Case, event: Event, joined: Sequence[tuple[Ends, Complex]], own_ohm: Complex, drive: Complex
) -> Response:
    """Return the voltages between all nodes, with a current into the region and the generator's network there.

    Parameters
    ----------
    case, event : the nodes
    joined : admittances (S,) between nodes, S
    own_ohm : (S,) of the generator with its coupling, Ω
    drive : (S,), A·s, out of the surroundings and into the region

    Returns
    -------
    Response, (S,), V·s
    """
    (a, b), earth = case.pair.ends, case.surroundings.name
    network = (frozenset((event.into, earth)), admittance(own_ohm))
    whole = Mesh(y={}, j={(earth, event.into): drive}).joined((*joined, network))
    mesh, steps = reduce_to(whole, (a, b))
    y, j = mesh.between(a, b), mesh.carried(a, b)
    v_ba = np.zeros(drive.shape, np.complex128)
    if y is not None and j is not None:  # a short keeps its 1e-60 V, which times its admittance is its current
        np.divide(j, y, out=v_ba, where=y != 0.0)
    return Response(a=a, b=b, v_ba=v_ba, steps=steps)


def _slow_ohm(event: Event, s: Complex) -> Complex:
    """Return the generator's network; of a gun its capacitor alone, whose resistor has had its say."""
    if event.is_current and event.coupling.series_f is not None:
        return np.asarray(1.0 / (s * event.coupling.series_f), np.complex128)
    return event.network_ohm(s)


def _impulse(event: Event, own_ohm: Complex) -> Complex:
    """Return a discharge's charge, or the current that the area under a pulse drives through its coupling, A·s."""
    area = event.area()
    return np.full(own_ohm.shape, area, np.complex128) if event.is_current else area / own_ohm


def _edge_ohm(edge: Edge, s: Complex) -> Complex:
    return sum((_slow(part).impedance(s) for part in edge.parts), start=np.zeros(s.shape, np.complex128))


def _slow(part: Part) -> _SlowPart:
    if not part.blocks_dc():
        return _SlowPart(resistance_ohm=part.dc_ohm())
    return _SlowPart(resistance_ohm=part.dc_ohm(), capacitance_f=_capacitance(part))


def _capacitance(part: Part) -> float:
    return float((1.0 / part.impedance(np.array([_PROBE]))[0]).imag) / _PROBE


def _joined(edges: Sequence[Edge], node: str) -> set[str]:
    """Return the nodes that direct current reaches from one, insulation left out."""
    island = islands(edge.ends for edge in edges if not any(part.blocks_dc() for part in edge.parts))
    return {node} | {each for each in island if island.get(each) == island.get(node, "")}


def _crossing(edges: Sequence[Edge], node: str) -> list[tuple[tuple[str, str], float]]:
    """Return the capacitances from what is joined to a node to everything else: ends, nearer one first, and F."""
    inside = _joined(edges, node)
    found = []
    for edge in edges:
        blocking = [part for part in edge.parts if part.blocks_dc()]
        near = [end for end in edge.ends if end in inside]
        if blocking and len(near) == 1:
            far = edge.ends[1] if edge.ends[0] == near[0] else edge.ends[0]
            found.append(((near[0], far), 1.0 / sum(1.0 / _capacitance(part) for part in blocking)))
    return found
