"""A case taken apart into resistances, inductances and capacitances, with a node at every joint."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from attrs import frozen

from models.case.document import Candidate, Case
from models.declare import get_path, keys_of
from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.resistor import Resistor

Fresh = Callable[[], str]


@frozen(kw_only=True)
class Element:
    """One ideal element between two nodes.

    ``R``, ``L`` and ``C`` have their SI value; ``D`` is the loss of a dielectric, a conductance ω·value; ``Z`` is a
    part that is not made of such elements, with the impedance that it states itself.
    """

    ends: tuple[str, str]
    kind: str
    value: float = 0.0
    part: Part | None = None


def case_elements(case: Case, candidate: Candidate) -> tuple[Element, ...]:
    """Return everything between the nodes of a case, sources left out."""
    paths = [(each.between, each.parts) for each in case.couplings]
    paths += [(case.ends_of(branch), branch.parts) for branch in candidate.branches]
    elements = [
        Element(ends=each.between, kind="C", value=each.interwinding_capacitance_f) for each in case.transformers
    ]
    for number, (ends, parts) in enumerate(paths):
        elements += path_elements(ends, parts, f"path {number}")
    return tuple(elements)


def path_elements(ends: tuple[str, str], parts: tuple[Part, ...], name: str) -> Iterator[Element]:
    """Yield the elements of parts in series."""
    count = 0

    def fresh() -> str:
        nonlocal count
        count += 1
        return f"{name}, joint {count}"

    node = ends[0]
    for place, part in enumerate(parts):
        after = ends[1] if place == len(parts) - 1 else fresh()
        yield from part_elements(part, node, after, fresh)
        node = after


def part_elements(part: Part, one: str, other: str, fresh: Fresh) -> Iterator[Element]:
    """Yield the elements of one part."""
    if not _is_plain(part):
        yield Element(ends=(one, other), kind="Z", part=part)
    elif isinstance(part, Copper):
        middle = fresh()
        yield Element(ends=(one, middle), kind="R", value=part.resistance_ohm)
        yield Element(ends=(middle, other), kind="L", value=part.inductance_h)
    elif isinstance(part, Resistor):
        middle = fresh()
        yield Element(ends=(one, middle), kind="R", value=part.resistance_ohm)
        yield Element(ends=(middle, other), kind="L", value=part.inductance_h)
        yield Element(ends=(one, other), kind="C", value=part.capacitance_f)
    elif isinstance(part, Inductor):
        yield from _inductor(part, one, other, fresh())
    elif isinstance(part, Capacitor):
        for _ in range(part.count):
            yield from _capacitor(part, one, other, fresh(), fresh())
    elif isinstance(part, Bead):
        yield from _bead(part, one, other, fresh)


_PLAIN_KEYS: dict[type, frozenset[str]] = {
    Copper: frozenset({"resistance", "inductance"}),
    Resistor: frozenset({"resistance", "inductance", "capacitance"}),
    Inductor: frozenset({"inductance", "rdc", "capacitance", "parallel_resistance"}),
    Capacitor: frozenset({"capacitance", "esr", "esl", "dissipation_factor", "insulation_resistance", "count"}),
    Bead: frozenset({"rdc", "cells"}),
}


def _is_plain(part: Part) -> bool:
    """Return whether a part is just its elements: no geometry, no bias, no skin effect, not of a later kind."""
    if type(part) not in _PLAIN_KEYS:
        return False
    plain = _PLAIN_KEYS[type(part)]
    return all(
        name in plain or "rating" in key.path or get_path(part, key.path) == key.default()
        for name, key in keys_of(type(part)).items()
    )


def _inductor(part: Inductor, one: str, other: str, middle: str) -> Iterator[Element]:
    yield Element(ends=(one, middle), kind="R", value=part.rdc_ohm)
    yield Element(ends=(middle, other), kind="L", value=part.inductance_h)
    yield Element(ends=(one, other), kind="C", value=part.capacitance_f)
    if part.parallel_resistance_ohm is not None:
        yield Element(ends=(one, other), kind="R", value=part.parallel_resistance_ohm)


def _capacitor(part: Capacitor, one: str, other: str, lead: str, plate: str) -> Iterator[Element]:
    yield Element(ends=(one, lead), kind="R", value=part.esr_ohm)
    yield Element(ends=(lead, plate), kind="L", value=part.esl_h)
    yield Element(ends=(plate, other), kind="C", value=part.capacitance_f)
    yield Element(ends=(plate, other), kind="D", value=part.capacitance_f * part.dissipation_factor)
    if part.insulation_resistance_ohm is not None:
        yield Element(ends=(plate, other), kind="R", value=part.insulation_resistance_ohm)


def _bead(part: Bead, one: str, other: str, fresh: Fresh) -> Iterator[Element]:
    node = fresh()
    yield Element(ends=(one, node), kind="R", value=part.rdc_ohm)
    for place, cell in enumerate(part.cells):
        after = other if place == len(part.cells) - 1 else fresh()
        yield Element(ends=(node, after), kind="R", value=cell.resistance_ohm)
        yield Element(ends=(node, after), kind="L", value=cell.inductance_h)
        yield Element(ends=(node, after), kind="C", value=cell.capacitance_f)
        node = after


def is_short(element: Element, omega: float) -> bool:
    """Return whether an element joins its ends outright."""
    if element.kind == "Z" and element.part is not None:
        return omega == 0.0 and element.part.dc_ohm() == 0.0
    return (element.kind in "RL" and element.value == 0.0) or (element.kind == "L" and omega == 0.0)


def merged(elements: tuple[Element, ...], omega: float) -> dict[str, str]:
    """Return for every node the one that stands for it and for all that are shorted to it."""
    leader: dict[str, str] = {}

    def find(node: str) -> str:
        while leader.setdefault(node, node) != node:
            node = leader[node]
        return node

    for element in elements:
        one, other = map(find, element.ends)
        if one != other and is_short(element, omega):
            leader[one] = other
    return {node: find(node) for node in list(leader)}
