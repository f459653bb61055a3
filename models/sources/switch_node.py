"""The switch node: a voltage behind a share of the transformer's capacitance."""

from __future__ import annotations

from typing import ClassVar

from attrs import frozen

from models.codec import Text
from models.declare import flat, quantity, value
from models.errors import QuantityError
from models.sources.ringing import RingingTrapezoid
from models.sources.trapezoid import Trapezoid


@frozen(kw_only=True, cache_hash=True)
class SwitchNode:
    """A voltage on the driven share of a transformer, and on what else hangs on it: an ideal source behind both."""

    kind: ClassVar[str] = "switch-node"
    between: ClassVar[None] = None
    unit: ClassVar[str] = "V"
    over_metal: ClassVar[bool] = False

    name: str = value(Text(), "name")
    through: str = value(Text(), "name of the transformer")
    also_through: str | None = value(
        Text(), "name of a coupling that hangs on the switch node as well, such as that of its heat sink", default=None
    )
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
