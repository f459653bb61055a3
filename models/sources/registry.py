"""Kinds of source: what each drives, and where it acts on the network."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar, Protocol

from attrs import frozen

from models.arrays import Complex
from models.codec import Between, Count, Text
from models.declare import flat, quantity, value
from models.errors import QuantityError
from models.sources.record import SPECTRUM_FILE, WAVE_FILE, RecordedSpectrum, RecordedWave, Table
from models.sources.ringing import RingingTrapezoid
from models.sources.sequence import RandomData
from models.sources.sine import Sine
from models.sources.trapezoid import Trapezoid
from models.sources.triangle import RaisedTriangle, Triangle


class Wave(Protocol):
    """A periodic wave of unit level."""

    @property
    def frequency_hz(self) -> float:
        """Repetition frequency: the distance between the lines of its spectrum."""

    def harmonic_count(self, stop_hz: float) -> int:
        """Return how many lines lie at or below a frequency."""

    def coefficients(self, count: int) -> Complex:
        """Return the two-sided Fourier coefficients c_0 to c_count, (count + 1,)."""


class Source(Protocol):
    """Something periodic that drives the pair."""

    kind: ClassVar[str]

    @property
    def name(self) -> str:
        """The name, unique in its case."""

    @property
    def through(self) -> str | None:
        """The transformer on whose driven share it is a voltage; None for what acts between regions."""

    @property
    def between(self) -> tuple[str, str] | None:
        """The regions that its current flows from and to, or between whose earths it stands; None for the former."""

    @property
    def unit(self) -> str:
        """What it drives is in, V or A."""

    @property
    def over_metal(self) -> bool:
        """Whether its current comes back over metal: that of a converter whose two sides share a ground."""

    @property
    def wave(self) -> Wave:
        """The wave as the case declares it."""

    @property
    def shape(self) -> Wave:
        """The waveform that is driven, for a level of 1."""

    def level(self) -> float:
        """Return the amplitude of the drive: V for a voltage, A for a current."""


def mean_of(source: Source) -> float:
    """Return the mean of what a source drives, c_0 times its level, V or A."""
    return source.level() * float(source.shape.coefficients(0)[0].real)


@frozen(kw_only=True, cache_hash=True)
class SwitchNode:
    """A voltage on the driven share of a transformer: an ideal source behind C_hot."""

    kind: ClassVar[str] = "switch-node"
    between: ClassVar[None] = None
    unit: ClassVar[str] = "V"
    over_metal: ClassVar[bool] = False

    name: str = value(Text(), "name")
    through: str = value(Text(), "name of the transformer")
    amplitude_v: float = quantity("V", "voltage swing of the switch node", usual=(1.0, 1e3))
    wave: Trapezoid = flat(Trapezoid)
    ringing_amplitude_v: float | None = quantity(
        "V", "first swing of the ringing after each edge", default=None, usual=(0.1, 300.0)
    )
    ringing_frequency_hz: float | None = quantity(
        "Hz", "frequency of the ringing", default=None, positive=True, usual=(1e6, 300e6)
    )
    ringing_q: float | None = quantity("", "quality factor of the ringing", default=None, positive=True, usual=(1, 30))

    def __attrs_post_init__(self) -> None:
        """Refuse half a ringing, and ringing on a node that does not move."""
        ringing = (self.ringing_amplitude_v, self.ringing_frequency_hz, self.ringing_q)
        given = [each for each in ringing if each is not None]
        if given and len(given) < len(ringing):
            raise QuantityError(
                "a part of the ringing", "ringing_amplitude, ringing_frequency and ringing_q together, or none of them"
            )
        if given and self.amplitude_v == 0.0:
            raise QuantityError("ringing on an amplitude of 0 V", "an amplitude of more than 0 V")

    @property
    def shape(self) -> Trapezoid | RingingTrapezoid:
        """The waveform of the node for a swing of 1 V."""
        if self.ringing_amplitude_v is None or self.ringing_frequency_hz is None or self.ringing_q is None:
            return self.wave
        return RingingTrapezoid(
            wave=self.wave,
            overshoot=self.ringing_amplitude_v / self.amplitude_v,
            ring_hz=self.ringing_frequency_hz,
            quality=self.ringing_q,
        )

    def level(self) -> float:
        """Return the voltage swing in V."""
        return self.amplitude_v


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


@frozen(kw_only=True, cache_hash=True)
class MainsOffset:
    """A voltage between the earths of two regions: it drives a current round the ground loop.

    The earth that between[1] is joined to stands at this voltage above the one of between[0].
    """

    kind: ClassVar[str] = "mains-offset"
    through: ClassVar[None] = None
    unit: ClassVar[str] = "V"
    over_metal: ClassVar[bool] = False

    name: str = value(Text(), "name")
    between: tuple[str, str] = value(Between(), "the regions; the earth of the second one is lifted")
    voltage_v: float = quantity("V", "voltage between the earths, rms", usual=(1e-3, 10.0))
    wave: Sine = flat(Sine)

    @property
    def shape(self) -> Sine:
        """A sine of 1 V rms."""
        return self.wave

    def level(self) -> float:
        """Return the voltage in V, rms."""
        return self.voltage_v


@frozen(kw_only=True, cache_hash=True)
class MeasuredWaveform:
    """One measured period: a voltage on a transformer's driven share, or a current that returns over the pair."""

    kind: ClassVar[str] = "waveform"

    name: str = value(Text(), "name")
    through: str | None = value(Text(), "name of the transformer that a voltage drives", default=None)
    between: tuple[str, str] | None = value(Between(), "the regions of a current: from, to", default=None)
    table: Table = value(WAVE_FILE, "file with time in s and volts or amperes, one period in even steps", key="file")

    def __attrs_post_init__(self) -> None:
        """Refuse a source that acts nowhere or in two places, and a file that is no period."""
        _one_place(self.through, self.between)
        RecordedWave(table=self.table)

    @property
    def unit(self) -> str:
        """V on a transformer, A between regions."""
        return "A" if self.through is None else "V"

    @property
    def over_metal(self) -> bool:
        """Whether it is a current: how it comes back is not in the file, so that metal is taken for granted."""
        return self.through is None

    @property
    def wave(self) -> RecordedWave:
        """The measured wave."""
        return RecordedWave(table=self.table)

    @property
    def shape(self) -> RecordedWave:
        """The measured wave, in V or A."""
        return self.wave

    def level(self) -> float:
        """Return 1: the wave is in V or A already."""
        return 1.0


@frozen(kw_only=True, cache_hash=True)
class MeasuredSpectrum:
    """Measured lines: a voltage on a transformer's driven share, or a current that returns over the pair."""

    kind: ClassVar[str] = "measured-spectrum"

    name: str = value(Text(), "name")
    through: str | None = value(Text(), "name of the transformer that a voltage drives", default=None)
    between: tuple[str, str] | None = value(Between(), "the regions of a current: from, to", default=None)
    frequency_hz: float = quantity("Hz", "repetition frequency, of which all lines are multiples", positive=True)
    table: Table = value(SPECTRUM_FILE, "file with frequency in Hz, rms in V or A, and phase in degrees", key="file")

    def __attrs_post_init__(self) -> None:
        """Refuse a source that acts nowhere or in two places, and lines that are no harmonics."""
        _one_place(self.through, self.between)
        RecordedSpectrum(table=self.table, frequency_hz=self.frequency_hz)

    @property
    def unit(self) -> str:
        """V on a transformer, A between regions."""
        return "A" if self.through is None else "V"

    @property
    def over_metal(self) -> bool:
        """Whether it is a current: how it comes back is not in the file, so that metal is taken for granted."""
        return self.through is None

    @property
    def wave(self) -> RecordedSpectrum:
        """The measured lines."""
        return RecordedSpectrum(table=self.table, frequency_hz=self.frequency_hz)

    @property
    def shape(self) -> RecordedSpectrum:
        """The measured lines, in V or A."""
        return self.wave

    def level(self) -> float:
        """Return 1: the lines are in V or A already."""
        return 1.0


def _one_place(through: str | None, between: tuple[str, str] | None) -> None:
    if (through is None) == (between is None):
        found = "neither through nor between" if through is None else "through and between"
        raise QuantityError(found, "through for a voltage, or between for a current")


SOURCES: Mapping[str, type[Source]] = MappingProxyType(
    {
        source.kind: source
        for source in (
            SwitchNode,
            ReturnCurrent,
            Ripple,
            CrossingSignal,
            MainsOffset,
            MeasuredWaveform,
            MeasuredSpectrum,
        )
    }
)


def source_kinds() -> Mapping[str, type[Source]]:
    """Return every kind of source by the name that files use."""
    return SOURCES
