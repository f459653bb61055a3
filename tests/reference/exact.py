"""Nodal analysis in 60-digit arithmetic: no conditioning of any network reaches the digits that are compared.

The node admittance matrix with every joint of every part as a node, an ideal voltage source as one more row, solved by
Gaussian elimination with pivoting. Nothing is shared with the product but the case document.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Context, Decimal, localcontext

from attrs import frozen

from tests.reference.elements import Element, merged

_DIGITS = Context(prec=60)
_ZERO, _ONE = Decimal(0), Decimal(1)
Pair = tuple[Decimal, Decimal]
"""Real and imaginary part."""
Row = dict[int, Decimal]


@frozen(kw_only=True, eq=False)
class Solved:
    """Node voltages of a network that one unit source drives."""

    leader: dict[str, str]
    volts: dict[str, Pair]

    def across(self, upper: str, lower: str) -> complex | None:
        """Return v(upper) − v(lower), V; None where the two are not joined."""
        up, low = (self.volts.get(self.leader.get(node, node)) for node in (upper, lower))
        if up is None or low is None:
            return None
        with localcontext(_DIGITS):
            return complex(float(up[0] - low[0]), float(up[1] - low[1]))


def admittance(element: Element, omega: float) -> Pair | None:
    """Return the admittance of an element, S; None where nothing passes."""
    w, value = Decimal(omega), Decimal(element.value)
    if element.kind == "Z":
        return _stated(element, omega)
    if element.kind == "R":
        return _ONE / value, _ZERO
    if element.kind == "L":
        return _ZERO, -_ONE / (w * value)
    if element.kind == "C":
        return (_ZERO, w * value) if w * value else None
    return (w * value, _ZERO) if w * value else None


def _stated(element: Element, omega: float) -> Pair | None:
    import numpy as np

    assert element.part is not None
    z = complex(element.part.impedance(np.array([omega]))[0]) if omega else complex(element.part.dc_ohm())
    if not np.isfinite(z):
        return None
    real, imag = Decimal(z.real), Decimal(z.imag)
    square = real * real + imag * imag
    return real / square, -imag / square


def driven_by_current(elements: tuple[Element, ...], omega: float, out_of: str, into: str) -> Solved | None:
    """Solve for 1 A out of one node and into another; None where it has no way back."""
    with localcontext(_DIGITS):
        return _solve(elements, omega, out_of, into, is_voltage=False)


def driven_by_voltage(elements: tuple[Element, ...], omega: float, minus: str, plus: str) -> Solved | None:
    """Solve for 1 V between two nodes."""
    with localcontext(_DIGITS):
        return _solve(elements, omega, minus, plus, is_voltage=True)


def _solve(elements: tuple[Element, ...], omega: float, minus: str, plus: str, *, is_voltage: bool) -> Solved | None:
    leader = merged(elements, omega)
    minus, plus = leader.get(minus, minus), leader.get(plus, plus)
    links = [
        (leader[element.ends[0]], leader[element.ends[1]], y)
        for element in elements
        if leader[element.ends[0]] != leader[element.ends[1]] and (y := admittance(element, omega)) is not None
    ]
    wires = [(one, other) for one, other, _ in links] + ([(minus, plus)] if is_voltage else [])
    island = _island(wires, minus)
    if plus not in island:
        return None
    index = {node: number for number, node in enumerate(sorted(island - {minus}))}
    size = len(index) + (1 if is_voltage else 0)
    rows: list[Row] = [{} for _ in range(2 * size)]
    right = [_ZERO] * (2 * size)
    for one, other, y in links:
        if one in island:
            _stamp(rows, index.get(one), index.get(other), y)
    if minus != plus:
        _drive(rows, right, index[plus], len(index) if is_voltage else None)
    found = _eliminate(rows, right)
    volts = {node: (found[2 * number], found[2 * number + 1]) for node, number in index.items()}
    return Solved(leader=leader, volts={minus: (_ZERO, _ZERO), **volts})


def _island(wires: Iterable[tuple[str, str]], start: str) -> set[str]:
    pending, found = list(wires), {start}
    while True:
        reached = {end for wire in pending if found & set(wire) for end in wire}
        if reached <= found:
            return found
        found |= reached


def _stamp(rows: list[Row], one: int | None, other: int | None, y: Pair) -> None:
    """Add an admittance G + jB: each complex entry is the block [[G, −B], [B, G]]."""
    for row, column, sign in ((one, one, 1), (other, other, 1), (one, other, -1), (other, one, -1)):
        if row is not None and column is not None:
            _block(rows, row, column, y, sign)


def _block(rows: list[Row], row: int, column: int, y: Pair, sign: int) -> None:
    real, imag = y
    for down, along, part in ((0, 0, real), (0, 1, -imag), (1, 0, imag), (1, 1, real)):
        line = rows[2 * row + down]
        line[2 * column + along] = line.get(2 * column + along, _ZERO) + sign * part


def _drive(rows: list[Row], right: list[Decimal], plus: int, voltage: int | None) -> None:
    if voltage is None:
        right[2 * plus] += _ONE
        return
    _block(rows, plus, voltage, (_ONE, _ZERO), -1)
    _block(rows, voltage, plus, (_ONE, _ZERO), 1)
    right[2 * voltage] += _ONE


def _eliminate(rows: list[Row], right: list[Decimal]) -> list[Decimal]:
    size = len(rows)
    for column in range(size):
        pivot = max(range(column, size), key=lambda row: abs(rows[row].get(column, _ZERO)))
        rows[column], rows[pivot] = rows[pivot], rows[column]
        right[column], right[pivot] = right[pivot], right[column]
        _clear_below(rows, right, column)
    found = [_ZERO] * size
    for row in reversed(range(size)):
        rest = sum((rows[row][column] * found[column] for column in rows[row] if column > row), start=_ZERO)
        found[row] = (right[row] - rest) / rows[row][row]
    return found


def _clear_below(rows: list[Row], right: list[Decimal], column: int) -> None:
    top = rows[column]
    for row in range(column + 1, len(rows)):
        line = rows[row]
        below = line.pop(column, _ZERO)
        if not below:
            continue
        factor = below / top[column]
        for place, entry in top.items():
            if place > column:
                line[place] = line.get(place, _ZERO) - factor * entry
        right[row] -= factor * right[column]
