"""What a source of noise is to everyone: where it acts, in what unit, and the wave it drives."""

from __future__ import annotations

from typing import ClassVar, Protocol

from models.arrays import Complex


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
