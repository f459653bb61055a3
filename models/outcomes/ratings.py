"""What an event makes of each part, held against what the part is rated for.

For design, no certification: standards and data sheets decide, and a qualified person checks protective parts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from attrs import frozen

from models.formulas.capacitor import impulse_voltage
from models.parts.capacitor import Capacitor
from models.parts.part import Part

_IMPULSE_V = {"Y1": 8e3, "Y2": 5e3, "Y4": 2.5e3, "X1": 4e3, "X2": 2.5e3}
_FALLS_WITH_SIZE = ("Y2", "X1", "X2")


@frozen(kw_only=True)
class PartPeak:
    """The largest voltage and current of one part.

    Attributes
    ----------
    path : the branch or coupling it stands in
    number : which of the path's parts, from 1
    part : the part
    peak_v : largest magnitude across it, V
    peak_a : largest magnitude through it, A
    """

    path: str
    number: int
    part: Part
    peak_v: float
    peak_a: float


@frozen(kw_only=True)
class Check:
    """One peak against one rating.

    Attributes
    ----------
    path, number, kind : which part
    rating : ``impulse of its class``, ``withstand`` or ``rated voltage``
    decides : whether the rating is what the part is best known by for a transient: the impulse of its class, else a
        withstand voltage, which is one for a minute, else a rated voltage, which is one for years
    peak_v, rating_v : V
    """

    path: str
    number: int
    kind: str
    rating: str
    decides: bool
    peak_v: float
    rating_v: float

    @property
    def margin_db(self) -> float:
        """20·log10(rating/peak), dB; negative over the rating, ``inf`` without a voltage."""
        return 20.0 * math.log10(self.rating_v / self.peak_v) if self.peak_v > 0.0 else math.inf

    @property
    def holds(self) -> bool:
        """Whether the peak stays within the rating."""
        return self.peak_v <= self.rating_v


def class_impulse_v(part: Part) -> float | None:
    """Return the peak impulse that a part of its safety class stands before its endurance test, None without one.

    Y1 8 kV, Y2 5 kV, Y4 2.5 kV, X1 4 kV, X2 2.5 kV; Y2 and X fall as 1/√(C/µF) above 1 µF, Y3 has none

    Parameters
    ----------
    part : with or without a safety class

    Returns
    -------
    V peak, or None

    Source: IEC 60384-14, table of classes; believed, not checked against the current edition.
    """
    safety_class = part.rating.safety_class or ""
    impulse_v = _IMPULSE_V.get(safety_class)
    if impulse_v is None or safety_class not in _FALLS_WITH_SIZE or not isinstance(part, Capacitor):
        return impulse_v
    return impulse_voltage(part.capacitance_f, impulse_v)


def checks_of(peaks: Iterable[PartPeak]) -> tuple[Check, ...]:
    """Return every peak against every rating that its part has, the deciding one with the least margin first."""
    found = [check for peak in peaks for check in _checks(peak)]
    return tuple(sorted(found, key=lambda check: (not check.decides, check.margin_db)))


def _checks(peak: PartPeak) -> Iterable[Check]:
    rating = peak.part.rating
    named = {
        "impulse of its class": class_impulse_v(peak.part),
        "withstand": rating.withstand_v,
        "rated voltage": rating.rated_voltage_v,
    }
    known = {name: rating_v for name, rating_v in named.items() if rating_v is not None}
    for name, rating_v in known.items():
        yield Check(
            path=peak.path,
            number=peak.number,
            kind=peak.part.kind,
            rating=name,
            decides=name == next(iter(known)),
            peak_v=peak.peak_v,
            rating_v=rating_v,
        )
