"""A network of admittances between nodes, reduced node by node with the star–mesh transformation.

No node is the reference while reducing, so a pair that floats needs no trick, and nothing is ever subtracted from a
sum of admittances: 1 mΩ of copper beside 1 pF of stray loses no digit of either.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

Complex = NDArray[np.complex128]
Ends = frozenset[str]

SHORT_SIEMENS = 1e60
"""The admittance of exactly 0 Ω. Star–mesh neither subtracts nor squares, so results stay exact to rounding."""


def admittance(z: Complex) -> Complex:
    """Return 1/z (F,) in S; 0 where z is infinite, SHORT_SIEMENS where it is 0."""
    short = z == 0.0
    if short.any():
        y = np.full(z.shape, SHORT_SIEMENS, np.complex128)
        np.divide(1.0, z, out=y, where=~short)
    else:
        y = 1.0 / z
    if not np.isfinite(z).all():
        y[~np.isfinite(z)] = 0.0
    return y


def impedance(y: Complex) -> Complex:
    """Return 1/y (F,) in Ω; ``inf`` where y is 0, exactly 0 for a short."""
    if y.all():
        z = 1.0 / y
    else:
        z = np.full(y.shape, np.inf, np.complex128)
        np.divide(1.0, y, out=z, where=y != 0.0)
    short = y.real >= 1e-3 * SHORT_SIEMENS  # several shorts in series are still one
    if short.any():
        z[short] = 0.0
    return z


@frozen(kw_only=True, eq=False)
class Mesh:
    """Admittances between pairs of nodes, and the current that sources inject into nodes.

    Attributes
    ----------
    y : node pair → (F,) complex, S
    j : node → (F,) complex, A; injected currents add up to 0 over all nodes
    """

    y: Mapping[Ends, Complex]
    j: Mapping[str, Complex]

    @property
    def nodes(self) -> frozenset[str]:
        """Return every node that something joins."""
        return frozenset().union(*self.y)

    def joined(self, edges: Iterable[tuple[Ends, Complex]]) -> Mesh:
        """Return the mesh with more admittances in parallel to those it has."""
        total = dict(self.y)
        for ends, y in edges:
            total[ends] = total[ends] + y if ends in total else y
        return Mesh(y=total, j=self.j)

    def between(self, one: str, other: str) -> Complex | None:
        """Return the admittance directly between two nodes, None where there is none."""
        return self.y.get(frozenset((one, other)))


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
    """Remove a node: its star becomes a mesh among its neighbours, its injected current goes over to them.

    y_ij' = y_ij + y_i·y_j/Σy,  J_i' = J_i + J·y_i/Σy

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
    injected = mesh.j.get(node)
    j = {name: current for name, current in mesh.j.items() if name != node}
    if not star:
        return Mesh(y=rest, j=j), Step(node=node, share={}, lift=None)
    total = sum(star.values())
    assert isinstance(total, np.ndarray)
    share = {name: _quotient(y, total) for name, y in star.items()}
    names = list(star)
    for index, one in enumerate(names):
        for other in names[index + 1 :]:
            ends = frozenset((one, other))
            through = star[one] * share[other]
            rest[ends] = rest[ends] + through if ends in rest else through
    if injected is not None:
        for name in names:
            part = injected * share[name]
            j[name] = j[name] + part if name in j else part
    lift = None if injected is None else _quotient(injected, total)
    return Mesh(y=rest, j=j), Step(node=node, share=share, lift=lift)


def _quotient(above: Complex, below: Complex) -> Complex:
    """Return above/below, 0 where below is 0 (a node that nothing joins at this frequency)."""
    if below.all():
        return above / below
    result = np.zeros(np.broadcast_shapes(above.shape, below.shape), np.complex128)
    return np.divide(above, below, out=result, where=below != 0.0)


def reduce_to(mesh: Mesh, keep: Iterable[str]) -> tuple[Mesh, tuple[Step, ...]]:
    """Eliminate every node but those to keep, those with fewest neighbours first."""
    left = sorted((mesh.nodes | frozenset(mesh.j)) - frozenset(keep))
    steps: list[Step] = []
    while left:
        counts = Counter(name for ends in mesh.y for name in ends)
        node = min(left, key=counts.__getitem__)
        left.remove(node)
        mesh, step = eliminate(mesh, node)
        steps.append(step)
    return mesh, tuple(steps)


def differences(steps: Iterable[Step], a: str, b: str, v_ba: Complex) -> Mapping[tuple[str, str], Complex]:
    """Return the voltage of every node against every other, from the one across the pair.

    V_k − V_i = Σ_m (y_m/Σy)·(V_m − V_i) + J_k/Σy, node by node against the order of elimination. Differences are
    carried as such, never as node voltages that nearly cancel.

    Parameters
    ----------
    steps : what `reduce_to` gave for the pair
    a, b : the pair
    v_ba : v(b) − v(a), (F,), V

    Returns
    -------
    (upper, lower) → v(upper) − v(lower), (F,), V, for both orders of every two nodes
    """
    zero = np.zeros_like(v_ba)
    found = {(a, a): zero, (b, b): zero, (b, a): v_ba, (a, b): -v_ba}
    known = [a, b]
    for step in reversed(list(steps)):
        for name in known:
            rise = sum((share * found[other, name] for other, share in step.share.items()), start=zero)
            if step.lift is not None:
                rise = rise + step.lift
            found[step.node, name] = rise
            found[name, step.node] = -rise
        found[step.node, step.node] = zero
        known.append(step.node)
    return found
