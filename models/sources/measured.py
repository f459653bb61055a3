"""Sources that were measured: a waveform or a spectrum, of a voltage or of a current."""

from __future__ import annotations

from functools import cached_property
from typing import ClassVar

from attrs import frozen

from models.codec import Between, Text
from models.declare import quantity, value
from models.errors import QuantityError
from models.sources.record import SPECTRUM_FILE, WAVE_FILE, RecordedSpectrum, RecordedWave, Table


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

    @cached_property
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

    @cached_property
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
