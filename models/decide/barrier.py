"""What one path between two regions is worth as a barrier: what it withstands, and which insulation it may bridge.

A capacitor blocks DC; that is no separation. Only a rated part separates: one with a stated withstand voltage, or with
an IEC 60384-14 Y class. Estimates for design, not a certification: see `verdict.SAFETY_CAUTION`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence

from models.parts.capacitor import Capacitor
from models.parts.part import Part
from models.parts.resistor import Resistor

_Y2_LEAST_V, _Y2_BASE_V = 2000.0, 1500.0
_Y_PROOF_V = {"Y1": 4000.0, "Y3": 1500.0, "Y4": 900.0}
_BRIDGING_OHM = 100e3
_Y_MAINS_V = {"Y1": 500.0, "Y2": 300.0, "Y3": 250.0, "Y4": 150.0}


def class_proof_v(part: Part) -> float | None:
    """Return the voltage proof between terminals that the part's Y class stands for, None without such a class.

    Y1 4000 V, Y2 1500 V + 2·U_R and at least 2000 V, Y3 1500 V, Y4 900 V, alternating, type test.

    Parameters
    ----------
    part : with or without a safety class

    Returns
    -------
    V rms, or None; an X class stands line to line and proves nothing here

    Source: IEC 60384-14, table of voltage proof; believed, not checked against the current edition.
    """
    if part.rating.safety_class == "Y2":
        return max(_Y2_LEAST_V, _Y2_BASE_V + 2.0 * (part.rating.rated_voltage_v or 0.0))
    return _Y_PROOF_V.get(part.rating.safety_class or "")


def part_withstand_v(part: Part) -> float | None:
    """Return what a part is stated or proven by its class to withstand, V; None for a part that can bridge nothing.

    A part that passes DC counts only as a resistor of 100 kΩ or more with a stated withstand voltage: such resistors
    are made to bridge insulation. A bead, copper or a few ohms of damping are no barrier, whatever their data say.
    """
    if part.blocks_dc():
        return part.rating.withstand_v or class_proof_v(part)
    bridges = isinstance(part, Resistor) and part.resistance_ohm >= _BRIDGING_OHM
    return part.rating.withstand_v if bridges else None


def series_withstand_v(parts: Sequence[Part]) -> float | None:
    """Return what parts in series withstand together, V; None where none of them is rated.

    Alternating voltage shares inversely to capacitance: U_i/U = (1/C_i)/Σ(1/C_j), with C_i at its lower and every
    other at its upper tolerance. The path stands until its first part fails, or as long as its best part alone does:
    W = max(max W_i, min W_i·U/U_i).

    Parameters
    ----------
    parts : the parts of a path, in series

    Returns
    -------
    V, or None

    Notes
    -----
    Holds for alternating voltage and for surges. A direct test voltage shares by insulation resistances, which no data
    sheet bounds from above. Source: capacitive divider; equal parts of 20 %: 1.2/(1.2 + 0.8) = 60.00 %.
    """
    ratings = [rated for part in parts if (rated := part_withstand_v(part)) is not None]
    if not ratings:
        return None
    capacitors = [part for part in parts if part.blocks_dc()]
    sharing = [part for part in capacitors if isinstance(part, Capacitor)]
    if len(sharing) < 2 or len(sharing) < len(capacitors):
        return max(ratings)
    together = min(
        (part_withstand_v(part) or 0.0) / share for part, share in zip(sharing, _worst_shares(sharing), strict=True)
    )
    return max(*ratings, together)


def _worst_shares(parts: Sequence[Capacitor]) -> list[float]:
    """Return the largest share of the voltage that each capacitor of a series can see within tolerances."""

    def elastance(part: Capacitor, side: float) -> float:
        return 1.0 / (part.capacitance_f * part.count * (1.0 + side * part.rating.tolerance))

    rest = [elastance(part, 1.0) for part in parts]
    return [(own := elastance(part, -1.0)) / (own + sum(rest) - rest[index]) for index, part in enumerate(parts)]


def insulation_grade(parts: Iterable[Part], mains_v: float | None) -> tuple[int, str]:
    """Return which insulation parts in series may bridge, and in words by what.

    Parameters
    ----------
    parts : the parts of a path, in series
    mains_v : nominal rms voltage of the mains across the barrier, None where there is none

    Returns
    -------
    (0 none, 1 basic or supplementary, 2 double or reinforced; the reason)

    Notes
    -----
    One Y1 bridges double or reinforced insulation; one Y2, Y3 or Y4 bridges basic or supplementary insulation within
    its mains voltage; two Y2 in series bridge double insulation where they are of the same rating and nominal value,
    each alone being good for basic. Source: IEC 60384-14, classes; believed, not checked against the current edition.
    """
    classed = [part for part in parts if (part.rating.safety_class or "").startswith("Y")]
    fit = [part for part in classed if _suits(part, mains_v)]
    if any(part.rating.safety_class == "Y1" for part in fit):
        return 2, "a Y1 capacitor"
    if twins := [group for group, count in Counter(_twin_key(part) for part in fit).items() if count > 1]:
        return 2, f"two {twins[0][0]} capacitors of the same value in series"
    if fit:
        several = ", of unlike value or rating, which count as one" if len(fit) > 1 else ""
        return 1, f"{_article(len(fit), str(fit[0].rating.safety_class))}{several}"
    if classed:
        return 0, f"{_article(1, str(classed[0].rating.safety_class))}, not made for this mains voltage"
    return 0, "no part with a Y class"


def _article(count: int, safety_class: str) -> str:
    return f"a {safety_class} capacitor" if count == 1 else f"{count} {safety_class} capacitors"


def _twin_key(part: Part) -> tuple[object, ...]:
    value = (part.capacitance_f, part.count) if isinstance(part, Capacitor) else None
    return part.rating.safety_class, part.rating.rated_voltage_v, value


def _suits(part: Part, mains_v: float | None) -> bool:
    if mains_v is None:
        return True
    most = part.rating.rated_voltage_v or _Y_MAINS_V[part.rating.safety_class or ""]
    return mains_v <= most < math.inf
