"""A network of admittances between nodes, reduced node by node with the star–mesh transformation.

No node is the reference while reducing, so a pair that floats needs no trick, and nothing is ever subtracted from a
sum of admittances: 1 mΩ of copper beside 1 pF of stray loses no digit of either.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from functools import reduce

import numpy as np
from attrs import frozen

from models.arrays import Complex

Ends = frozenset[str]
Carried = tuple[str, str]
"""The node that a current is taken out of, and the one that it is put into."""

SHORT_SIEMENS = 1e60
"""The admittance of exactly 0 Ω. Star–mesh neither subtracts nor squares, so results stay exact to rounding."""
_LEAST_SHORT = 1e-3 * SHORT_SIEMENS
"""Several shorts in series are still one."""


def admittance(z: Complex) -> Complex:
    """Return 1/z (F,) in S; 0 where z is infinite, SHORT_SIEMENS where it is 0."""
    if z.all():
        y = np.reciprocal(z)
    else:
        y = np.full(z.shape, SHORT_SIEMENS, np.complex128)
        np.divide(1.0, z, out=y, where=z != 0.0)
    if not np.isfinite(z).all():
        y[~np.isfinite(z)] = 0.0
    return y


def impedance(y: Complex) -> Complex:
    """Return 1/y (F,) in Ω; ``inf`` where y is 0, exactly 0 for a short."""
    if y.all():
        z = np.reciprocal(y)
    else:
        z = np.full(y.shape, np.inf, np.complex128)
        np.divide(1.0, y, out=z, where=y != 0.0)
    short = y.real >= _LEAST_SHORT
    if short.any():
        z[short] = 0.0
    return z


def volts(current: Complex, y: Complex) -> Complex:
    """Return current/y (F,) in V; exactly 0 over a short, unless it is a voltage in series with a short that drives."""
    v: Complex = current * impedance(y)
    short = y.real >= _LEAST_SHORT
    if short.any():
        np.divide(current, y, out=v, where=short & (np.abs(current) >= _LEAST_SHORT))
    return v


@frozen(kw_only=True, eq=False)
class Mesh:
    """Admittances between pairs of nodes, and the currents that sources carry from node to node.

    Attributes
    ----------
    y : node pair → (F,) complex, S
    j : (out of, into) → (F,) complex, A; each pair of nodes in one order only
    """

    y: Mapping[Ends, Complex]
    j: Mapping[Carried, Complex]

    @property
    def nodes(self) -> frozenset[str]:
        """Return every node that something joins or a source carries current to or from."""
        return frozenset().union(*self.y, *self.j)

    def joined(self, edges: Iterable[tuple[Ends, Complex]]) -> Mesh:
        """Return the mesh with more admittances in parallel to those it has."""
        total = dict(self.y)
        for ends, y in edges:
            total[ends] = total[ends] + y if ends in total else y
        return Mesh(y=total, j=self.j)

    def between(self, one: str, other: str) -> Complex | None:
        """Return the admittance directly between two nodes, None where there is none."""
        return self.y.get(frozenset((one, other)))

    def carried(self, out_of: str, into: str) -> Complex | None:
        """Return the current that sources carry from one node to another, None where there is none."""
        if (into, out_of) in self.j:
            return -self.j[into, out_of]
        return self.j.get((out_of, into))


@frozen(kw_only=True, eq=False)
class Step:
    """One node eliminated: what is needed to find its voltage again.

    Attributes
    ----------
    share : neighbour → y_i/Σy (F,)
    lift : J/Σy (F,), V, the voltage that the node's own injected current adds
    """

    node: str
    share: Mapping[str, Complex]
    lift: Complex | None


def eliminate(mesh: Mesh, node: str) -> tuple[Mesh, Step]:
    """Remove a node: its star becomes a mesh among its neighbours, what sources carry to it goes on to them.

    y_ij' = y_ij + y_i·y_j/Σy,  J_hi' = J_hi + J_hk·y_i/Σy for every i but h

    Currents stay differences between two nodes. As injections node by node they would nearly cancel at the pair where a
    source drives a short piece of copper far from it.

    Parameters
    ----------
    mesh : the network
    node : the node to remove

    Returns
    -------
    (mesh without the node, step to find its voltage again)
    """
    star = {next(iter(ends - {node})): y for ends, y in mesh.y.items() if node in ends}
    rest = {ends: y for ends, y in mesh.y.items() if node not in ends}
    j = {ends: current for ends, current in mesh.j.items() if node not in ends}
    if not star:
        return Mesh(y=rest, j=j), Step(node=node, share={}, lift=None)
    whole = _inverse(reduce(np.add, star.values()))
    share = {name: y * whole for name, y in star.items()}
    names = list(star)
    for index, one in enumerate(names):
        for other in names[index + 1 :]:
            ends = frozenset((one, other))
            through = star[one] * share[other]
            rest[ends] = rest[ends] + through if ends in rest else through
    into_node = {name: current for name in mesh.nodes if (current := mesh.carried(name, node)) is not None}
    for far, current in into_node.items():
        for name in names:
            if name != far:
                _carry(j, far, name, current * share[name])
    lift = reduce(np.add, into_node.values()) * whole if into_node else None
    return Mesh(y=rest, j=j), Step(node=node, share=share, lift=lift)


def _carry(j: dict[Carried, Complex], out_of: str, into: str, current: Complex) -> None:
    """Add a current from one node to another to those that are carried."""
    if (into, out_of) in j:
        j[into, out_of] = j[into, out_of] - current
    else:
        j[out_of, into] = j[out_of, into] + current if (out_of, into) in j else current


def _inverse(y: Complex) -> Complex:
    """Return 1/y, 0 where y is 0 (a node that nothing joins at this frequency)."""
    if y.all():
        return np.reciprocal(y)
    return np.divide(1.0, y, out=np.zeros_like(y), where=y != 0.0)


def reduce_to(mesh: Mesh, keep: Iterable[str]) -> tuple[Mesh, tuple[Step, ...]]:
    """Eliminate every node but those to keep, those with fewest neighbours first."""
    left = sorted(mesh.nodes - frozenset(keep))
    steps: list[Step] = []
    while left:
        counts = Counter(name for ends in mesh.y for name in ends)
        node = min(left, key=counts.__getitem__)
        left.remove(node)
        mesh, step = eliminate(mesh, node)
        steps.append(step)
    return mesh, tuple(steps)
