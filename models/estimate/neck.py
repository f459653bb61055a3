"""A neck between two planes: what a narrow bridge of copper costs at DC, with what the planes around it add."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar

from attrs import frozen

from models.errors import QuantityError
from models.estimate.estimate import OHMS, Amount, Result, length, shown
from models.formulas.copper import sheet_resistance, spreading_resistance


@frozen(kw_only=True)
class Neck:
    """A neck of the same copper that joins two planes."""

    name: ClassVar[str] = "neck"
    title: ClassVar[str] = "Neck between two planes"
    about: ClassVar[str] = "DC resistance of a narrow bridge of copper, and of the planes around its ends."
    suits: ClassVar[tuple[str, ...]] = ("resistance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType(
        {"length": "l", "width": "w", "thickness": "t", "reach": "Ro"}
    )

    length_m: float = length("length of the neck from plane to plane", 5e-3, (0.5e-3, 0.05), positive=False)
    width_m: float = length("width of the neck", 3e-3, (0.2e-3, 0.05))
    thickness_m: float = length("thickness of the copper", 35e-6, (17e-6, 0.2e-3))
    reach_m: float = length("how far from the neck the current is fed and taken", 20e-3, (2e-3, 0.3))

    def __attrs_post_init__(self) -> None:
        """Refuse what is no neck: current that is fed within its own width does not spread."""
        if self.reach_m < self.width_m:
            raise QuantityError(
                f"reach {shown(self.reach_m, 'm')}", f"the width, {shown(self.width_m, 'm')}, or more", "reach"
            )

    def result(self) -> Result:
        """Work out R = Rs·[l/w + (2/π)·ln(4Ro/w)]."""
        sheet_ohm = sheet_resistance(self.thickness_m)
        spreads_ohm = spreading_resistance(sheet_ohm, self.width_m, self.reach_m)
        ohm = sheet_ohm * self.length_m / self.width_m + spreads_ohm
        return Result(
            amounts=(Amount.within("resistance", OHMS, ohm, 0.2, 0.3),),
            equation="R = Rs·[l/w + (2/π)·ln(4Ro/w)], Rs = ρ/t",
            working=(
                f"Rs = {shown(sheet_ohm, OHMS)}: {shown(sheet_ohm, OHMS)} · [{self.length_m / self.width_m:.3g} + "
                f"{2.0 / math.pi * math.log(4.0 * self.reach_m / self.width_m):.3g}] = {shown(ohm, OHMS)}"
            ),
            assumes="Direct current from all around, planes without holes, copper at 20 °C: 4 % more for every 10 K.",
            source="Ohm's law; the flow through a slit between two half-planes in elliptic coordinates.",
            notes=(f"The planes make {shown(spreads_ohm / ohm, '')} of it.",),
        )
