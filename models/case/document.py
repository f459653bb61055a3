"""The document: everything a case file holds, as one frozen value that undo can keep and `==` can compare."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Any, ClassVar

import numpy as np
from attrs import evolve, frozen

from models.arrays import Real
from models.case.requirement import Requirement, RequirementTable
from models.catalogue.codec import PartKinds
from models.codec import HIGHEST_HZ, Between, ListOf, Place, Quantity, Text, describe
from models.declare import Kinds, Table, quantity, value
from models.errors import QuantityError
from models.parts.measured import Measured
from models.parts.part import Part
from models.quantity import format_quantity
from models.sources.registry import source_kinds
from models.sources.source import Source
from models.sources.trapezoid import Trapezoid

MOST_POINTS = 200_000
AS_STATED, BY_LOAD = "stated", "load"
"""What biases a bead: the bias current of its part alone, or else its share of the load current."""
_PARTS = ListOf(item=PartKinds(), least=1, most=50, noun="a list of parts in series")


@frozen(kw_only=True, cache_hash=True)
class Pair:
    """The two ground regions under study, and any further ones."""

    a: str = value(Text(limit=60), "name of the first region")
    b: str = value(Text(limit=60), "name of the second region")
    others: tuple[str, ...] = value(ListOf(item=Text(limit=60), most=20), "further regions", default=())

    @property
    def ends(self) -> tuple[str, str]:
        """The two regions under study."""
        return self.a, self.b

    def is_joined_by(self, ends: Iterable[str]) -> bool:
        """Return whether what has these ends stands directly across the pair."""
        return set(ends) == {self.a, self.b}


@frozen(kw_only=True, cache_hash=True)
class Surroundings:
    """The node that everything strays to: 0 V of the network."""

    name: str = value(Text(limit=60), "name of the surroundings", default="earth")


@frozen(kw_only=True, cache_hash=True)
class Sweep:
    """The frequencies at which impedances are computed."""

    start_hz: float = quantity("Hz", "first frequency", default=10.0, positive=True, high=HIGHEST_HZ)
    stop_hz: float = quantity("Hz", "last frequency", default=1e9, positive=True, high=HIGHEST_HZ)
    points_per_decade: float = quantity("", "points per decade", default=100.0, positive=True, high=10_000.0)

    def __attrs_post_init__(self) -> None:
        """Refuse a sweep that runs backwards, stands still or has more points than anyone can look at."""
        if self.stop_hz <= self.start_hz:
            raise QuantityError(
                f"stop {format_quantity(self.stop_hz, 'Hz')}",
                f"more than start, {format_quantity(self.start_hz, 'Hz')}",
                "stop",
            )
        if self._count() > MOST_POINTS:
            raise QuantityError(
                f"a sweep of {self._count()} points", f"at most {MOST_POINTS} points", "points_per_decade"
            )

    def f_hz(self) -> Real:
        """Return the frequencies (F,), evenly spaced on a log axis, both ends included."""
        return np.geomspace(self.start_hz, self.stop_hz, self._count())

    def _count(self) -> int:
        decades = math.log10(self.stop_hz) - math.log10(self.start_hz)
        return max(2, round(decades * self.points_per_decade) + 1)


@frozen(kw_only=True, cache_hash=True)
class Transformer:
    """Interwinding capacitance, split by where it is driven from."""

    name: str = value(Text(), "name")
    between: tuple[str, str] = value(Between(), "the windings' quiet ends")
    interwinding_capacitance_f: float = quantity(
        "F", "total interwinding capacitance, all windings shorted", positive=True, usual=(1e-12, 1e-9)
    )
    driven_fraction: float = quantity(
        "", "share of it that hangs on the switch node", default=0.5, high=1.0, usual=(0.01, 1.0)
    )
    tolerance: float = quantity("", "tolerance of the capacitance", default=0.0, high=0.9, usual=(0.0, 0.5))


@frozen(kw_only=True, cache_hash=True)
class Coupling:
    """Anything else that always joins two regions: plane gap, isolator barrier, heat sink, stray."""

    name: str = value(Text(), "name")
    between: tuple[str, str] = value(Between(), "the regions it joins")
    parts: tuple[Part, ...] = value(_PARTS, "parts in series")


@frozen(kw_only=True, cache_hash=True)
class FarEnd:
    """Reads what a cable ends in: a word, or an impedance."""

    words: ClassVar[tuple[str, ...]] = ("open", "earthed", "lisn")

    def read(self, found: object, place: Place) -> Any:
        """Accept one of the words or an impedance."""
        if isinstance(found, str) and found.lower() in self.words:
            return found.lower()
        ohm = Quantity(unit="ohm").read(found, Place(place.path, []))
        if isinstance(ohm, float):
            return ohm
        return place.reject(describe(found), '"open", "earthed", "lisn" or an impedance such as "150 ohm"')

    def write(self, value: str | float) -> str:
        """Return the word, or the impedance as text."""
        return value if isinstance(value, str) else format_quantity(value, "ohm")


@frozen(kw_only=True, cache_hash=True)
class Cable:
    """A cable that leaves a region; an antenna in common mode."""

    name: str = value(Text(), "name")
    region: str = value(Text(limit=60), "the region it leaves")
    length_m: float = quantity("m", "length", positive=True, high=1e4, usual=(0.1, 10.0))
    diameter_m: float = quantity("m", "diameter", positive=True, high=1.0, usual=(1e-3, 2e-2))
    height_m: float | None = quantity(
        "m", "height above the earth plane", default=None, positive=True, high=1e3, usual=(0.01, 2.0)
    )
    far_end: str | float = value(FarEnd(), "what its far end is joined to", default="open")


@frozen(kw_only=True, cache_hash=True)
class Branch:
    """Parts in series between two regions; the pair where nothing else is said."""

    between: tuple[str, str] | None = value(Between(), "the regions it joins", default=None)
    parts: tuple[Part, ...] = value(_PARTS, "parts in series")


@frozen(kw_only=True, cache_hash=True)
class Candidate:
    """One way of joining the pair: branches in parallel, or none."""

    name: str = value(Text(limit=80), "name")
    note: str | None = value(Text(limit=2000), "note", default=None)
    branches: tuple[Branch, ...] = value(
        ListOf(item=Table(of=Branch), most=50), "branches in parallel", key="branch", default=()
    )


@frozen(kw_only=True, cache_hash=True)
class Mains:
    """The mains that feed one side of the pair."""

    voltage_v: float = quantity("V", "mains voltage, rms", positive=True, high=1e3, usual=(100.0, 264.0))
    frequency_hz: float = quantity("Hz", "mains frequency", positive=True, high=1e3, usual=(50.0, 60.0))
    tolerance: float = quantity("", "tolerance of the voltage", default=0.1, high=0.5, usual=(0.0, 0.2))
    feeds: str = value(Text(limit=60), "region that can sit at full mains potential")
    touched: str = value(Text(limit=60), "region a person can touch")


@frozen(kw_only=True, cache_hash=True)
class Case:
    """A whole case."""

    title: str = value(Text(), "title", default="Untitled")
    notes: str | None = value(Text(limit=20_000), "free text", default=None)
    pair: Pair = value(Table(of=Pair), "the table [pair] with the regions a and b")
    surroundings: Surroundings = value(Table(of=Surroundings), "surroundings", factory=Surroundings)
    sweep: Sweep = value(Table(of=Sweep), "sweep", factory=Sweep)
    transformers: tuple[Transformer, ...] = value(
        ListOf(item=Table(of=Transformer)), "transformers", key="transformer", default=()
    )
    couplings: tuple[Coupling, ...] = value(ListOf(item=Table(of=Coupling)), "couplings", key="coupling", default=())
    cables: tuple[Cable, ...] = value(ListOf(item=Table(of=Cable)), "cables", key="cable", default=())
    candidates: tuple[Candidate, ...] = value(
        ListOf(item=Table(of=Candidate), most=1000), "candidates", key="candidate", default=()
    )
    sources: tuple[Source, ...] = value(ListOf(item=Kinds(registry=source_kinds)), "sources", key="source", default=())
    bead_bias: str = value(
        Text(choices=(AS_STATED, BY_LOAD)),
        "what biases a bead that states no bias current: nothing, or its share of the load current",
        default=AS_STATED,
    )
    mains: Mains | None = value(Table(of=Mains), "mains", default=None)
    requirements: tuple[Requirement, ...] = value(
        ListOf(item=RequirementTable()), "requirements", key="requirement", default=()
    )

    @property
    def regions(self) -> tuple[str, ...]:
        """Names of all regions, the pair first; the surroundings are not one of them."""
        return (self.pair.a, self.pair.b, *self.pair.others)

    def ends_of(self, branch: Branch) -> tuple[str, str]:
        """Return the regions that a branch joins."""
        return branch.between or self.pair.ends

    def is_across(self, branch: Branch) -> bool:
        """Return whether a branch stands directly across the pair."""
        return self.pair.is_joined_by(self.ends_of(branch))

    def scene(self) -> Case:
        """Return the case without what no outcome of a candidate depends on: a key to remember results by."""
        return evolve(self, title="", notes=None, candidates=(), requirements=())

    def transformer(self, name: str) -> Transformer:
        """Return the transformer of that name; the case was checked to have it."""
        return next(each for each in self.transformers if each.name == name)

    def source_ends(self, source: Source) -> tuple[str, str]:
        """Return the regions from which and into which a source drives its current."""
        if source.through is not None:
            return self.transformer(source.through).between
        assert source.between is not None
        return source.between

    def warnings(self) -> tuple[str, ...]:
        """Return what a reader of the results has to know."""
        measured = dict.fromkeys(said for each in self._measured() for said in each.warnings())
        return (*self._past_the_sweep(), *self._long_wires(), *measured)

    def _past_the_sweep(self) -> Iterator[str]:
        """Yield the sources whose spectrum the end of the sweep cuts off whole, or where their edges still matter."""
        end = format_quantity(self.sweep.stop_hz, "Hz")
        for each in self.sources:
            wave = each.wave
            if wave.frequency_hz > self.sweep.stop_hz:
                found = format_quantity(wave.frequency_hz, "Hz")
                yield f'source "{each.name}", {found}, lies beyond the end of the sweep, {end}: nothing of it counts'
            elif isinstance(wave, Trapezoid) and wave.corner_hz > self.sweep.stop_hz:
                edge = format_quantity(min(wave.rise_s, wave.fall_s), "s")
                yield (
                    f'source "{each.name}" has edges of {edge}: what they drive beyond the end of the sweep, {end}, '
                    "is left out"
                )

    def _measured(self) -> Iterator[Measured]:
        """Yield the parts that are measured."""
        standing = [coupling.parts for coupling in self.couplings]
        bridges = [branch.parts for candidate in self.candidates for branch in candidate.branches]
        for parts in (*standing, *bridges):
            yield from (part for part in parts if isinstance(part, Measured))

    def _long_wires(self) -> tuple[str, ...]:
        return tuple(
            f'cable "{each.name}" has no height, so it is a wire in free space; what its far end is joined to '
            f"stands far from it"
            for each in self.cables
            if each.height_m is None and each.far_end != "open"
        )
