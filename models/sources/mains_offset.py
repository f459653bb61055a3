"""A voltage between the earths of two regions."""

from __future__ import annotations

from typing import ClassVar

from attrs import frozen

from models.codec import Between, Text
from models.declare import flat, quantity, value
from models.sources.sine import Sine


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
