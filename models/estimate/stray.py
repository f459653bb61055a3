"""Stray of a body: to a plane below it, to far surroundings, through a pad."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar

from attrs import frozen

from models.codec import Count
from models.declare import value
from models.estimate.estimate import FARADS, INSULATION, Amount, Result, length, permittivity, shown
from models.formulas.constants import EPS0
from models.formulas.overlap import plate_capacitance
from models.formulas.stray import body_over_plane_capacitance, free_body_capacitance, wall_capacitance

_SLENDER = 5.0
"""Sides further apart make a rod, for which a sphere stands no more."""
_THIN_PAD = 0.2
_CHECKED = "checked by a moment method, within 10 % for sides up to 1:4."


@frozen(kw_only=True)
class BodyOverPlane:
    """A box, board or heat sink above a conducting plane."""

    name: ClassVar[str] = "body-over-plane"
    title: ClassVar[str] = "Body over a plane"
    about: ClassVar[str] = "Stray of a box, board or heat sink to a conducting plane below or beside it, at any height."
    suits: ClassVar[tuple[str, ...]] = ("capacitance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType(
        {"length": "l", "width": "w", "thickness": "t", "height": "h"}
    )

    length_m: float = length("length along the plane", 0.2, (0.01, 1.0))
    width_m: float = length("width along the plane", 0.15, (0.01, 1.0))
    thickness_m: float = length("thickness away from the plane; 0 for a board", 0.05, (1e-3, 0.5), positive=False)
    height_m: float = length("height of the near face above the plane", 0.1, (1e-3, 1.0))

    def result(self) -> Result:
        """Work out C = ε0·l·w/h + (4ε0/π)·(l + w)·ln(1 + t/h) + ε0·√(4πS)."""
        below = plate_capacitance(self.width_m, self.length_m, self.height_m, 1.0)
        walls = wall_capacitance(2.0 * (self.length_m + self.width_m), self.thickness_m, self.height_m)
        free = free_body_capacitance(self.length_m, self.width_m, self.thickness_m)
        whole = body_over_plane_capacitance(self.length_m, self.width_m, self.thickness_m, self.height_m)
        return Result(
            amounts=(Amount.within("capacitance", FARADS, whole, 0.2, 0.3),),
            equation="C = ε0·l·w/h + (4ε0/π)·(l + w)·ln(1 + t/h) + ε0·√(8π·(l·w + l·t + w·t))",
            working=(
                f"C = {shown(below, FARADS)} underneath + {shown(walls, FARADS)} of the walls + "
                f"{shown(free, FARADS)} of the whole in free space = {shown(whole, FARADS)}"
            ),
            assumes=f"A closed metal body in air; a plane that reaches {shown(self.height_m, 'm')} beyond it.",
            source=f"Underside, walls and free space added up; {_CHECKED}",
            notes=_slender(self.length_m, self.width_m),
        )


@frozen(kw_only=True)
class FreeBody:
    """A box, board or heat sink far from everything."""

    name: ClassVar[str] = "free-body"
    title: ClassVar[str] = "Body far from everything"
    about: ClassVar[str] = "Least stray to earth that a body has wherever it stands: that to far surroundings."
    suits: ClassVar[tuple[str, ...]] = ("capacitance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType({"length": "l", "width": "w", "thickness": "t"})

    length_m: float = length("length", 0.2, (0.01, 1.0))
    width_m: float = length("width", 0.15, (0.01, 1.0))
    thickness_m: float = length("thickness; 0 for a plate or board", 0.05, (1e-3, 0.5), positive=False)

    def result(self) -> Result:
        """Work out C = ε0·√(4πS)."""
        capacitance = free_body_capacitance(self.length_m, self.width_m, self.thickness_m)
        radius = capacitance / (4.0 * math.pi * EPS0)
        return Result(
            amounts=(Amount.within("capacitance", FARADS, capacitance, 0.1, 0.5),),
            equation="C = 4πε0·r, r = √(S/4π), S = 2·(l·w + l·t + w·t)",
            working=f"C = 111.3 pF/m · {shown(radius, 'm')} = {shown(capacitance, FARADS)}",
            assumes="Nothing near: whatever is adds to it. A flat disc has 8ε0·r exactly, a tenth less than this.",
            source=f"The sphere of the same surface; {_CHECKED}",
            notes=_slender(*sorted((self.length_m, self.width_m, self.thickness_m))[1:]),
        )


@frozen(kw_only=True)
class Pad:
    """A tab or heat sink behind an insulating pad."""

    name: ClassVar[str] = "pad"
    title: ClassVar[str] = "Tab on an insulating pad"
    about: ClassVar[str] = "Capacitance of a transistor's tab or a heat sink to the metal behind an insulating pad."
    suits: ClassVar[tuple[str, ...]] = ("capacitance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType(
        {"length": "l", "width": "w", "thickness": "d", "permittivity": "εr", "count": "n"}
    )

    length_m: float = length("length of the metal on the pad", 20e-3, (3e-3, 0.3))
    width_m: float = length("width of the metal on the pad", 15e-3, (3e-3, 0.3))
    thickness_m: float = length("thickness of the pad, pressed", 0.2e-3, (0.03e-3, 3e-3))
    permittivity: float = permittivity(
        "relative permittivity; 4 for filled silicone, 3.4 for polyimide, 6 for mica, 9 for alumina", 4.0
    )
    count: int = value(Count(), "how many such tabs", default=1)

    def result(self) -> Result:
        """Work out C = n·ε0·εr·l·w/d."""
        one = plate_capacitance(self.width_m, self.length_m, self.thickness_m, self.permittivity)
        capacitance = self.count * one
        return Result(
            amounts=(Amount.within("capacitance", FARADS, capacitance, 0.25, 0.25),),
            equation="C = n·ε0·εr·l·w/d",
            working=(
                f"C = {self.count} · 8.854 pF/m · {self.permittivity:g} · {shown(self.length_m, 'm')} · "
                f"{shown(self.width_m, 'm')}/{shown(self.thickness_m, 'm')} = {shown(capacitance, FARADS)}"
            ),
            assumes="A pad without air pockets. It ends at the heat sink: one that is not bonded strays on from there.",
            source="Parallel plates; the permittivity of pads varies by 10 to 20 %, and pressing makes them thinner.",
            notes=self._notes(),
            caution=INSULATION,
        )

    def _notes(self) -> tuple[str, ...]:
        if self.thickness_m <= _THIN_PAD * min(self.length_m, self.width_m):
            return ()
        return ("Sides below 5 thicknesses: the field around the edges adds 20 % or more.",)


def _slender(longest: float, other: float) -> tuple[str, ...]:
    long, short = max(longest, other), min(longest, other)
    if short > 0.0 and long / short <= _SLENDER:
        return ()
    return (f"Sides further apart than 1:{_SLENDER:g}: up to a third low; a rod is better taken as a lead.",)
