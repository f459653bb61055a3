"""Kinds of source: what each drives, and where it acts on the network."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar, Protocol

from attrs import frozen

from models.declare import Between, Count, Text, flat, quantity, value
from models.sources.trapezoid import Trapezoid


class Source(Protocol):
    """Something periodic that drives the pair."""

    kind: ClassVar[str]

    @property
    def name(self) -> str:
        """The name, unique in its case."""

    @property
    def wave(self) -> Trapezoid:
        """The waveform."""

    def level(self) -> float:
        """Return the amplitude of the drive: V for a voltage, A for a current."""


@frozen(kw_only=True, cache_hash=True)
class SwitchNode:
    """A voltage on the driven share of a transformer: an ideal source behind C_hot."""

    kind: ClassVar[str] = "switch-node"

    name: str = value(Text(), "name")
    through: str = value(Text(), "name of the transformer")
    amplitude_v: float = quantity("V", "voltage swing of the switch node", usual=(1.0, 1e3))
    wave: Trapezoid = flat(Trapezoid)

    def level(self) -> float:
        """Return the voltage swing in V."""
        return self.amplitude_v


@frozen(kw_only=True, cache_hash=True)
class ReturnCurrent:
    """A current that a converter carries from between[0] to between[1] and that must come back over the pair."""

    kind: ClassVar[str] = "return-current"

    name: str = value(Text(), "name")
    between: tuple[str, str] = value(Between(), "the regions: from, to")
    amplitude_a: float = quantity("A", "height of the current step", usual=(1e-3, 100.0))
    wave: Trapezoid = flat(Trapezoid)

    def level(self) -> float:
        """Return the current step in A."""
        return self.amplitude_a


@frozen(kw_only=True, cache_hash=True)
class CrossingSignal:
    """Identical single-ended lines whose return current must cross the pair."""

    kind: ClassVar[str] = "crossing-signal"

    name: str = value(Text(), "name")
    between: tuple[str, str] = value(Between(), "the regions: driver, receiver")
    swing_v: float = quantity("V", "voltage swing of one line", usual=(0.1, 24.0))
    impedance_ohm: float = quantity(
        "ohm", "what the swing sees: current = swing / impedance", positive=True, usual=(10.0, 1e4)
    )
    wave: Trapezoid = flat(Trapezoid)
    count: int = value(Count(), "identical lines switching together", default=1)

    def level(self) -> float:
        """Return the summed current step of all lines in A."""
        return self.count * self.swing_v / self.impedance_ohm


SOURCES: Mapping[str, type[Source]] = MappingProxyType(
    {source.kind: source for source in (SwitchNode, ReturnCurrent, CrossingSignal)}
)


def source_kinds() -> Mapping[str, type[Source]]:
    """Return every kind of source by the name that files use."""
    return SOURCES
