"""What drives the network does to every node: voltages found again from the elimination, and only those asked for."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from attrs import field, frozen

from models.arrays import Complex
from models.network.edges import Edge
from models.network.mesh import Step


@frozen(kw_only=True, eq=False)
class Response:
    """The network under one unit of a source (V or A), or under a current of any kind, at one grid.

    Attributes
    ----------
    a, b : the pair
    v_ba : v(b) − v(a), (F,), V per unit; ``inf`` where the source's current has no way back
    steps : how the other nodes were eliminated
    closed : whether the source's current has a way back
    series : edge → (F,), A per unit, what a source in series with that edge injects into its first end
    """

    a: str
    b: str
    v_ba: Complex
    steps: tuple[Step, ...]
    closed: bool = True
    series: Mapping[Edge, Complex] = field(factory=dict)
    _found: dict[tuple[str, str], Complex] = field(factory=dict, init=False, repr=False)

    def rise(self, upper: str, lower: str) -> Complex:
        """Return v(upper) − v(lower), (F,), V per unit of the source.

        V_k − V_i = Σ_m (y_m/Σy)·(V_m − V_i) + J_k/Σy for the node k that was eliminated first of the two. Differences
        are carried as such, never as node voltages that nearly cancel. A node that nothing joins stands at 0.
        """
        if not self.closed:
            return np.full(self.v_ba.shape, np.inf, np.complex128)
        if (upper, lower) not in self._found:
            self._found[upper, lower] = self._compute(upper, lower)
        return self._found[upper, lower]

    def _compute(self, upper: str, lower: str) -> Complex:
        if upper == lower:
            return np.zeros_like(self.v_ba)
        if (upper, lower) == (self.b, self.a):
            return self.v_ba
        if (upper, lower) == (self.a, self.b) or self._rank(lower) < self._rank(upper):
            return -self.rise(lower, upper)
        if self._rank(upper) == len(self.steps):
            return np.zeros_like(self.v_ba)
        step = self.steps[self._rank(upper)]
        rise = np.zeros_like(self.v_ba) if step.lift is None else step.lift.copy()
        for neighbour, share in step.share.items():
            if neighbour != lower:
                rise += share * self.rise(neighbour, lower)
        return rise

    def _rank(self, node: str) -> int:
        """Return when a node was eliminated; the pair and nodes that nothing joins come last."""
        return next((rank for rank, step in enumerate(self.steps) if step.node == node), len(self.steps))
