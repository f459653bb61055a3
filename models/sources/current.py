"""Currents that come back over the pair: a converter's, its ripple, signals that cross."""

from __future__ import annotations

from typing import ClassVar

from attrs import frozen

from models.codec import Between, Count, Text
from models.declare import flat, quantity, value
from models.errors import QuantityError
from models.sources.sequence import RandomData
from models.sources.trapezoid import Trapezoid
from models.sources.triangle import RaisedTriangle, Triangle


@frozen(kw_only=True, cache_hash=True)
class ReturnCurrent:
    """A current that a converter carries from between[0] to between[1] and that must come back over the pair."""

    kind: ClassVar[str] = "return-current"
    through: ClassVar[None] = None
    unit: ClassVar[str] = "A"
    over_metal: ClassVar[bool] = True

    name: str = value(Text(), "name")
    between: tuple[str, str] = value(Between(), "the regions: from, to")
    amplitude_a: float = quantity("A", "height of the current step", usual=(1e-3, 100.0))
    wave: Trapezoid = flat(Trapezoid)

    @property
    def shape(self) -> Trapezoid:
        """The waveform of the current for a step of 1 A."""
        return self.wave

    def level(self) -> float:
        """Return the current step in A."""
        return self.amplitude_a


@frozen(kw_only=True, cache_hash=True)
class Ripple:
    """Triangular ripple, and the mean it rides on, carried from between[0] to between[1] and back over the pair."""

    kind: ClassVar[str] = "ripple"
    through: ClassVar[None] = None
    unit: ClassVar[str] = "A"
    over_metal: ClassVar[bool] = True

    name: str = value(Text(), "name")
    between: tuple[str, str] = value(Between(), "the regions: from, to")
    amplitude_a: float = quantity("A", "ripple, peak to peak", positive=True, usual=(1e-3, 100.0))
    mean_a: float = quantity("A", "mean: the load current that returns over the pair", default=0.0, usual=(1e-3, 100.0))
    wave: Triangle = flat(Triangle)

    @property
    def shape(self) -> RaisedTriangle:
        """The waveform of the current for a ripple of 1 A peak to peak, with its mean."""
        return RaisedTriangle(wave=self.wave, mean=self.mean_a / self.amplitude_a)

    def level(self) -> float:
        """Return the ripple in A, peak to peak."""
        return self.amplitude_a


@frozen(kw_only=True, cache_hash=True)
class CrossingSignal:
    """Identical single-ended lines whose return current must cross the pair."""

    kind: ClassVar[str] = "crossing-signal"
    through: ClassVar[None] = None
    unit: ClassVar[str] = "A"
    over_metal: ClassVar[bool] = False

    name: str = value(Text(), "name")
    between: tuple[str, str] = value(Between(), "the regions: driver, receiver")
    swing_v: float = quantity("V", "voltage swing of one line", usual=(0.1, 24.0))
    impedance_ohm: float = quantity(
        "ohm", "what the swing sees: current = swing / impedance", positive=True, usual=(10.0, 1e4)
    )
    wave: Trapezoid = flat(Trapezoid)
    count: int = value(Count(), "identical lines switching together", default=1)
    pattern: str = value(
        Text(choices=("clock", "random")),
        "clock, or random data with frequency as its bit rate; a bit lasts the whole period",
        default="clock",
    )

    def __attrs_post_init__(self) -> None:
        """Refuse a duty that random data cannot have: ones and zeros come alike."""
        if self.pattern == "random" and self.wave.duty != 0.5:
            raise QuantityError(f"duty {self.wave.duty:g} with random data", "a duty of 0.5: ones and zeros alike")

    @property
    def shape(self) -> Trapezoid | RandomData:
        """The waveform of one line for a step of 1 A."""
        if self.pattern == "clock":
            return self.wave
        return RandomData(bit_rate_hz=self.wave.frequency_hz, rise_s=self.wave.rise_s, fall_s=self.wave.fall_s)

    def level(self) -> float:
        """Return the summed current step of all lines in A."""
        return self.count * self.swing_v / self.impedance_ohm
