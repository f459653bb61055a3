"""The plain way: one dense node admittance matrix of the whole network, all frequencies solved in one batch."""

from __future__ import annotations

import numpy as np

from models.arrays import Complex, Real
from tests.reference.elements import Element, merged


def _admittance(element: Element, omega: Real) -> Complex:
    if element.kind == "Z":
        assert element.part is not None
        return 1.0 / element.part.impedance(omega)
    if element.kind == "R":
        return np.full(omega.shape, 1.0 / element.value, np.complex128)
    y = np.zeros(omega.shape, np.complex128)
    if element.kind == "L":
        y.imag = -1.0 / (omega * element.value)
    elif element.kind == "C":
        y.imag = omega * element.value
    else:
        y.real = omega * element.value
    return y


def batched_voltage(
    elements: tuple[Element, ...], omega: Real, drives: tuple[tuple[str, str], ...], pair: tuple[str, str]
) -> Complex:
    """Return v(b) − v(a) (F, D), V, for 1 A out of the first and into the second node of every drive.

    The node `a` is the reference; the network has to hold together.
    """
    leader = merged(elements, float(omega[0]))
    nodes = sorted(set(leader.values()) - {leader[pair[0]]})
    index = {node: number for number, node in enumerate(nodes)}
    matrix = np.zeros((len(omega), len(nodes), len(nodes)), np.complex128)
    for element in elements:
        one, other = (index.get(leader[end]) for end in element.ends)
        if one == other:
            continue
        y = _admittance(element, omega)
        for row, column, sign in ((one, one, 1.0), (other, other, 1.0), (one, other, -1.0), (other, one, -1.0)):
            if row is not None and column is not None:
                matrix[:, row, column] += sign * y
    right = np.zeros((len(nodes), len(drives)), np.complex128)
    for column, (out_of, into) in enumerate(drives):
        for node, current in ((into, 1.0), (out_of, -1.0)):
            if leader[node] in index:
                right[index[leader[node]], column] += current
    solved = np.linalg.solve(matrix, np.broadcast_to(right, (len(omega), *right.shape)))
    b = index.get(leader[pair[1]])
    across = np.zeros((len(omega), len(drives)), np.complex128)
    if b is not None:
        across += solved[:, b, :]
    return across
