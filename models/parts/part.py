"""What every part offers, and the ratings that every part may carry."""

from __future__ import annotations

from typing import ClassVar, Protocol, Self

from attrs import frozen

from models.arrays import Complex, Real
from models.codec import Text
from models.declare import quantity, value


@frozen(kw_only=True, cache_hash=True)
class Rating:
    """What a part is good for, apart from its impedance."""

    tolerance: float = quantity("", "tolerance of the main value", default=0.0, high=0.9, usual=(0.0, 0.3))
    safety_class: str | None = value(
        Text(choices=("Y1", "Y2", "Y3", "Y4", "X1", "X2")), "IEC 60384-14 safety class", default=None
    )
    rated_voltage_v: float | None = quantity("V", "rated voltage", default=None, positive=True, usual=(10.0, 5e3))
    withstand_v: float | None = quantity(
        "V", "withstand voltage, tested", default=None, positive=True, usual=(1e2, 1e4)
    )
    note: str | None = value(Text(limit=2000), "note", default=None)
    catalogue: str | None = None
    """Id of the catalogue entry that the part was taken from; no key of its own, see `models.catalogue.codec`."""


class Part(Protocol):
    """A two-terminal part: declared quantities, an impedance over frequency and one at DC."""

    kind: ClassVar[str]

    @property
    def rating(self) -> Rating:
        """Ratings, tolerance and note."""

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""

    def dc_ohm(self) -> float:
        """Return the resistance at DC in Ω; ``inf`` where no DC can pass, insulation resistance counted."""

    def blocks_dc(self) -> bool:
        """Return whether no DC path exists when insulation resistances are left out."""

    def scaled(self, factor: float) -> Self:
        """Return the part with its main value multiplied, as a tolerance does."""


def valid_hz(part: Part) -> tuple[float, float] | None:
    """Return the lowest and highest frequency that a part holds for, Hz; None for one that states no range.

    A kind that knows its range has it as ``valid_hz``.
    """
    known: tuple[float, float] | None = getattr(part, "valid_hz", None)
    return known
