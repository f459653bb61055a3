"""Random parts and cases, drawn from the declarations: a new kind or key is covered without a line here."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, Protocol

import numpy as np
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

from models.arrays import Real
from models.case.check import contradictions
from models.case.document import Branch, Candidate, Case, Coupling, Mains, Pair, Sweep, Transformer
from models.codec import MISSING, Count, ListOf, Place, Quantity, Text
from models.declare import Key, Table, keys_of, read_object
from models.parts.capacitor import Capacitor
from models.parts.part import Part
from models.parts.registry import PARTS
from models.sources.current import CrossingSignal, ReturnCurrent
from models.sources.source import Source
from models.sources.switch_node import SwitchNode
from models.sources.trapezoid import Trapezoid

EARTH = "earth"
_MOST_TRIES = 50


def _needs_a_name(kind: type) -> bool:
    """Return whether a part is nothing without a free text, such as the file that a measurement stands in."""
    return any(key.required and isinstance(key.codec, Text) for key in keys_of(kind).values())


KINDS = tuple(kind for kind, part in PARTS.items() if not _needs_a_name(part))
"""Every registered kind of part that its declared quantities make."""
OMEGA: Real = 2.0 * np.pi * np.geomspace(10.0, 1e9, 25)


class Choose(Protocol):
    """Makes the choices that a random value needs: hypothesis does, and a plain random generator can."""

    def number(self, low: float, high: float) -> float:
        """Return a number, each decade alike."""

    def whole(self, low: int, high: int) -> int:
        """Return a whole number, both ends included."""

    def one_of(self, options: tuple[Any, ...]) -> Any:
        """Return one of the options."""


class DrawChoose:
    """Leaves every choice to hypothesis, which then shrinks them."""

    def __init__(self, draw: DrawFn) -> None:
        self._draw = draw

    def number(self, low: float, high: float) -> float:
        """Return a number, each decade alike."""
        exponent = self._draw(st.floats(math.log10(low), math.log10(high), allow_subnormal=False))
        return float(min(max(10.0**exponent, low), high))

    def whole(self, low: int, high: int) -> int:
        """Return a whole number, both ends included."""
        return self._draw(st.integers(low, high))

    def one_of(self, options: tuple[Any, ...]) -> Any:
        """Return one of the options."""
        return self._draw(st.sampled_from(options))


class RandomChoose:
    """Makes every choice from a seeded generator: quick, for campaigns over many networks."""

    def __init__(self, seed: int) -> None:
        self._random = np.random.default_rng(seed)

    def number(self, low: float, high: float) -> float:
        """Return a number, each decade alike."""
        return float(10.0 ** self._random.uniform(math.log10(low), math.log10(high)))

    def whole(self, low: int, high: int) -> int:
        """Return a whole number, both ends included."""
        return int(self._random.integers(low, high, endpoint=True))

    def one_of(self, options: tuple[Any, ...]) -> Any:
        """Return one of the options."""
        return options[self.whole(0, len(options) - 1)]


def _entry(choose: Choose, key: Key) -> Any:
    """Return what a file could hold for a key, bare numbers for quantities."""
    codec = key.codec
    if isinstance(codec, Quantity):
        usual = key.attribute.metadata.get("usual") or (1e-3, 1.0)
        if not codec.positive and choose.whole(0, 5) == 0:
            return 0.0
        low = usual[0] or usual[1] * 1e-3
        return choose.number(low, min(usual[1], codec.high))
    if isinstance(codec, Count):
        return choose.whole(codec.low, min(codec.high, 4))
    if isinstance(codec, ListOf) and isinstance(codec.item, Table):
        return [entries(choose, codec.item.of) for _ in range(choose.whole(max(codec.least, 1), 3))]
    if isinstance(codec, Text):
        return choose.one_of(codec.choices or ("plain", 'with "quotes" and \\', "Ω µ − 😀"))
    return MISSING


def entries(choose: Choose, of: type, *, ratings: bool = False) -> dict[str, Any]:
    """Return a table that reads as an object of a declared class; keys that exclude each other give way."""
    for _ in range(_MOST_TRIES):
        table = _table(choose, of, ratings)
        if table is not None:
            return table
    raise AssertionError(f"no table of {of.__name__} can be read")


def _table(choose: Choose, of: type, ratings: bool) -> dict[str, Any] | None:
    optional: list[str] = []
    table: dict[str, Any] = {}
    for name, key in keys_of(of).items():
        rating = "rating" in key.path
        if rating and not (ratings or name == "tolerance"):
            continue
        if not key.required and choose.whole(0, 1):
            continue
        entry = _entry(choose, key)
        if entry is not MISSING:
            table[name] = entry
            if not key.required:
                optional.append(name)
    while read_object(of, table, Place((), [])) is MISSING:
        if not optional:
            return None
        table.pop(optional.pop(choose.whole(0, len(optional) - 1)))
    return table


def part_from(kind: str, table: Mapping[str, Any]) -> Part:
    """Read a part from its table."""
    problems: list[Any] = []
    part: Part = read_object(PARTS[kind], dict(table), Place((), problems))
    assert not problems, problems
    return part


def random_part(choose: Choose, *, ratings: bool = False) -> Part:
    """Return a part of any registered kind."""
    kind = choose.one_of(KINDS)
    return part_from(kind, entries(choose, PARTS[kind], ratings=ratings))


def _parts(choose: Choose, ratings: bool) -> tuple[Part, ...]:
    return tuple(random_part(choose, ratings=ratings) for _ in range(choose.whole(1, 2)))


def _ends(choose: Choose, nodes: tuple[str, ...]) -> tuple[str, str]:
    one = choose.one_of(nodes)
    other = choose.one_of(tuple(node for node in nodes if node != one))
    return one, other


def random_wave(choose: Choose) -> Trapezoid:
    """Return a trapezoid whose edges fit, equal, unequal or vertical."""
    frequency_hz = choose.number(3e5, 5e7)
    duty = choose.number(0.05, 0.95)
    room_s = min(duty, 1.0 - duty) / frequency_hz
    rise_s, fall_s = (room_s * choose.one_of((0.0, 0.01, 0.3, 0.9)) for _ in range(2))
    return Trapezoid(frequency_hz=frequency_hz, duty=duty, rise_s=rise_s, fall_s=fall_s)


def random_source(choose: Choose, name: str, nodes: tuple[str, ...], transformers: tuple[Transformer, ...]) -> Source:
    """Return a source of one of the three first kinds."""
    wave = random_wave(choose)
    kind = choose.whole(0, 2 if transformers else 1)
    if kind == 0:
        return ReturnCurrent(name=name, between=_ends(choose, nodes), amplitude_a=choose.number(1e-3, 10.0), wave=wave)
    if kind == 1:
        return CrossingSignal(
            name=name,
            between=_ends(choose, nodes),
            swing_v=choose.number(0.1, 24.0),
            impedance_ohm=choose.number(10.0, 1e4),
            wave=wave,
            count=choose.whole(1, 4),
        )
    through = choose.one_of(tuple(each.name for each in transformers))
    return SwitchNode(name=name, through=through, amplitude_v=choose.number(1.0, 1e3), wave=wave)


def random_case(choose: Choose, *, sources: int = 2, ratings: bool = False) -> Case:
    """Return a case with 2 to 4 regions and anything between them; floating pairs are as usual as any."""
    regions = ("a", "b", "c", "d")[: choose.whole(2, 4)]
    nodes = (*regions, EARTH) if choose.whole(0, 2) else regions
    transformers = tuple(
        Transformer(
            name=f"T{number}",
            between=_ends(choose, regions),
            interwinding_capacitance_f=choose.number(1e-12, 1e-9),
            driven_fraction=choose.number(0.01, 1.0),
            tolerance=choose.one_of((0.0, 0.2)),
        )
        for number in range(choose.whole(0, 1))
    )
    couplings = [
        Coupling(name=f"K{number}", between=_ends(choose, nodes), parts=_parts(choose, ratings))
        for number in range(choose.whole(0, 3))
    ]
    branches = tuple(
        Branch(
            between=choose.one_of((None, ("a", "b"), ("b", "a"), _ends(choose, nodes))), parts=_parts(choose, ratings)
        )
        for _ in range(choose.whole(0, 3))
    )
    joined = {end for transformer in transformers for end in transformer.between}
    joined |= {end for coupling in couplings for end in coupling.between}
    joined |= {end for branch in branches for end in branch.between or ("a", "b")}
    for region in regions:
        if region not in joined:
            end = choose.one_of(tuple(node for node in nodes if node != region))
            stray = Capacitor(capacitance_f=choose.number(1e-13, 1e-10))
            couplings.append(Coupling(name=f"stray of {region}", between=(region, end), parts=(stray,)))
    case = Case(
        title="random",
        pair=Pair(a="a", b="b", others=regions[2:]),
        sweep=Sweep(points_per_decade=3.0),
        transformers=transformers,
        couplings=tuple(couplings),
        candidates=(Candidate(name="nothing"), Candidate(name="some", branches=branches)),
        sources=tuple(random_source(choose, f"S{number}", nodes, transformers) for number in range(sources)),
        mains=random_mains(choose, regions),
    )
    assert contradictions(case) == []
    return case


def random_mains(choose: Choose, regions: tuple[str, ...]) -> Mains:
    """Return mains that feed one region while a person touches another."""
    feeds, touched = _ends(choose, regions)
    return Mains(
        voltage_v=choose.number(100.0, 264.0),
        frequency_hz=choose.one_of((50.0, 60.0, 400.0)),
        tolerance=choose.one_of((0.0, 0.1)),
        feeds=feeds,
        touched=touched,
    )


@st.composite
def parts(draw: DrawFn, *, ratings: bool = False) -> Part:
    """Parts of every registered kind."""
    return random_part(DrawChoose(draw), ratings=ratings)


def parts_of(kind: str) -> SearchStrategy[Part]:
    """Parts of one kind."""
    return tables_of(kind).map(lambda table: part_from(kind, table))


@st.composite
def tables_of(draw: DrawFn, kind: str) -> dict[str, Any]:
    """Tables, as files have them, of parts of one kind."""
    return entries(DrawChoose(draw), PARTS[kind])


@st.composite
def cases(draw: DrawFn, *, sources: int = 0, ratings: bool = False) -> Case:
    """Cases that do not contradict themselves."""
    return random_case(DrawChoose(draw), sources=sources, ratings=ratings)
