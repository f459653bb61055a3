"""A flat conductor: a strap or a track, and the way that a slot in a plane leaves."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar

from attrs import frozen

from models.codec import Count
from models.declare import value
from models.estimate.estimate import HENRIES, LOOP, Amount, Result, length, lumped, shown
from models.formulas.copper import bar_partial_inductance
from models.formulas.gap import gap_line
from models.formulas.plane import strip_over_plane_inductance


@frozen(kw_only=True)
class Strap:
    """A flat conductor, by itself or above the plane that carries the current back."""

    name: ClassVar[str] = "strap"
    title: ClassVar[str] = "Strap or track"
    about: ClassVar[str] = "Inductance of a bonding strap, a braid or a track, by itself or close over a plane."
    suits: ClassVar[tuple[str, ...]] = ("inductance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType(
        {"length": "l", "width": "w", "thickness": "t", "height": "h"}
    )

    length_m: float = length("length", 0.1, (2e-3, 1.0))
    width_m: float = length("width", 10e-3, (0.2e-3, 0.1))
    thickness_m: float = length("thickness", 1e-3, (0.02e-3, 5e-3))
    height_m: float | None = length(
        "height over the plane that carries the current back; none where it runs far away", None, (0.05e-3, 0.05)
    )

    def result(self) -> Result:
        """Work out the partial inductance of a flat bar, or that of a strip over a plane."""
        return self._alone() if self.height_m is None else self._over(self.height_m)

    def _alone(self) -> Result:
        inductance = bar_partial_inductance(self.length_m, self.width_m, self.thickness_m)
        return Result(
            amounts=(Amount.within("inductance", HENRIES, inductance, 0.5, 0.05),),
            equation="L ≈ (µ0/2π)·l·[ln(2l/(w + t)) + 1/2 + (w + t)/(4.5·l)]",
            working=(
                f"{self._sides()} = {shown(inductance, HENRIES)}, evaluated in the form that is exact for a thin strap"
            ),
            assumes=f"A straight flat conductor. {LOOP}",
            source="A. Ruehli, Inductance calculations in a complex integrated circuit environment, 1972.",
            notes=(f"{lumped(self.length_m)}.",),
        )

    def _sides(self) -> str:
        sides = f"({shown(self.width_m, 'm')} + {shown(self.thickness_m, 'm')})"
        long = shown(self.length_m, "m")
        return f"L = 0.2 µH/m · {long} · [ln(2 · {long}/{sides}) + 1/2 + {sides}/(4.5 · {long})]"

    def _over(self, height_m: float) -> Result:
        per_m = strip_over_plane_inductance(self.width_m, height_m)
        inductance = per_m * self.length_m
        return Result(
            amounts=(Amount.within("inductance", HENRIES, inductance, 0.1, 0.2),),
            equation="L = µ0·l/[w/h + 1.393 + 0.667·ln(w/h + 1.444)]"
            if self.width_m > height_m
            else "L = (µ0/2π)·l·ln(8h/w + w/(4h))",
            working=(
                f"w/h = {self.width_m / height_m:.3g}: L = {shown(per_m, 'H')}/m · {shown(self.length_m, 'm')} "
                f"= {shown(inductance, HENRIES)}"
            ),
            assumes="All of the current returns in the plane below, which reaches 3 heights beyond the strap.",
            source="E. Hammerstad, Equations for microstrip circuit design, 1975.",
            notes=(f"{lumped(self.length_m)}.",),
        )


@frozen(kw_only=True)
class Detour:
    """A return current that has to go around the end of a slot."""

    name: ClassVar[str] = "detour"
    title: ClassVar[str] = "Way around the end of a slot"
    about: ClassVar[str] = "Inductance of a return current's way along a slot to the copper that bridges it."
    suits: ClassVar[tuple[str, ...]] = ("inductance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType({"distance": "D", "gap": "g", "depth": "W", "ends": "n"})

    distance_m: float = length("distance from the crossing to the end of the slot", 20e-3, (1e-3, 0.3))
    gap_m: float = length("width of the slot", 1e-3, (0.1e-3, 0.02))
    depth_m: float = length("depth of the planes on both sides of it", 50e-3, (5e-3, 0.3))
    ends: int = value(Count(high=2), "ways around: 1, or 2 at the same distance", default=1)

    def result(self) -> Result:
        """Work out L = L'·D/n of the slot as a line."""
        per_m = gap_line(self.gap_m, self.depth_m, self.depth_m).inductance_h_per_m
        inductance = per_m * self.distance_m / self.ends
        return Result(
            amounts=(Amount.within("inductance", HENRIES, inductance, 0.2, 0.5),),
            equation="L = µ0·D/n · K(k)/K(k'), k = g/(g + 2W)",
            working=(
                f"k = {self.gap_m / (self.gap_m + 2.0 * self.depth_m):.3g}: L = {shown(per_m, HENRIES)}/m · "
                f"{shown(self.distance_m, 'm')}/{self.ends} = {shown(inductance, HENRIES)}"
            ),
            assumes="Thin planes of even depth; the copper at the end of the slot adds its own inductance.",
            source="Slot line by conformal mapping; the rule of the books, 5 nH/in·D·ln(D/w of the track), has twice.",
            notes=(f"{lumped(self.distance_m)}: above, a slot that stays open resonates.",),
        )
