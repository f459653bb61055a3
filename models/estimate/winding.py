"""A transformer from its layers: interwinding capacitance, and the share of it that hangs on the switch node."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import ClassVar

from attrs import frozen

from models.codec import Count, Text
from models.declare import quantity, value
from models.estimate.estimate import FARADS, INSULATION, SHARE, Amount, Result, length, permittivity, shown
from models.formulas.winding import facing_capacitance, layered_share, two_ended_share, uneven_share

ONE_END, BOTH_ENDS = "one end", "both ends"
HOT, QUIET = "hot end", "quiet end"
SAME, OPPOSITE = "same sense", "opposite sense"
NO_SHIELD, SHIELD = "none", "one, on the primary's quiet end"
_LEAK, _SHIELDED = 0.03, 2.0 / 3.0
"""Share of the primary's swing that acts past a shield, 1 to 5 %, and the error of that."""
_EVEN = 0.2
"""Usual error of the mean potential of a layer."""
_SOURCE = "Charge of a layer's capacitance at the mean potential of its turns: the two-capacitor model, to some MHz."


@frozen(kw_only=True)
class Interwinding:
    """Layers of two windings that face each other."""

    name: ClassVar[str] = "interwinding"
    title: ClassVar[str] = "Layers that face each other"
    about: ClassVar[str] = "Interwinding capacitance of a transformer, from the layers that face each other."
    suits: ClassVar[tuple[str, ...]] = ("interwinding_capacitance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType(
        {
            "mean_turn": "lt",
            "width": "w",
            "insulation": "d",
            "wire": "D",
            "permittivity": "εr",
            "interfaces": "n",
        }
    )

    mean_turn_m: float = length("mean length of a turn where the layers meet", 45e-3, (10e-3, 0.3))
    width_m: float = length("width along the core over which both layers lie", 10e-3, (2e-3, 0.05))
    insulation_m: float = length("insulation from metal to metal, enamel counted in", 0.2e-3, (0.05e-3, 3e-3))
    wire_m: float = length(
        "diameter of the wire, the mean of both windings; 0 for foil or board", 0.3e-3, (0.05e-3, 2e-3), positive=False
    )
    permittivity: float = permittivity("relative permittivity; 3 for tape with air, 4.3 for board", 3.0)
    interfaces: int = value(
        Count(high=50), "how many times a primary layer faces a secondary one; 2 for a sandwich", default=1
    )

    def result(self) -> Result:
        """Work out C = n·ε0·εr·lt·w/(d + 0.11·D)."""
        capacitance = facing_capacitance(
            self.mean_turn_m,
            self.width_m,
            self.insulation_m,
            self.permittivity,
            interfaces=self.interfaces,
            wire_m=self.wire_m,
        )
        return Result(
            amounts=(Amount.within("interwinding_capacitance", FARADS, capacitance, 0.3, 0.3),),
            equation="C = n·ε0·εr·lt·w/(d + 0.11·D)",
            working=(
                f"C = {self.interfaces} · 8.854 pF/m · {self.permittivity:g} · {shown(self.mean_turn_m, 'm')} · "
                f"{shown(self.width_m, 'm')}/({shown(self.insulation_m, 'm')} + 0.11 · {shown(self.wire_m, 'm')}) "
                f"= {shown(capacitance, FARADS)}"
            ),
            assumes="Closely wound layers over the same width; turns at twice the pitch have a fifth less or so.",
            source="Parallel plates, rolled up. Measure it when you can: all windings shorted, one against the other.",
            notes=self._notes(),
            caution=INSULATION,
        )

    def _notes(self) -> tuple[str, ...]:
        if self.insulation_m <= 0.2 * self.width_m:
            return ()
        return ("Insulation above a fifth of the width: the field around the edges adds 20 % or more.",)


@frozen(kw_only=True)
class DrivenShare:
    """Which end of which winding faces the other, and how it swings."""

    name: ClassVar[str] = "driven-share"
    title: ClassVar[str] = "Which layer faces the other side"
    about: ClassVar[str] = "Share of the interwinding capacitance that hangs on the switch node, from the layers."
    suits: ClassVar[tuple[str, ...]] = ("driven_fraction",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType({"layers": "m", "secondary_swing": "n", "imbalance": "δ"})

    swing: str = value(
        Text(choices=(ONE_END, BOTH_ENDS)),
        "ends of the primary that swing: both, oppositely, in a full bridge or with a quiet centre tap",
        default=ONE_END,
    )
    layers: int = value(Count(high=50), "layers of the primary, of which the nearest faces the secondary", default=1)
    nearest: str = value(
        Text(choices=(HOT, QUIET)), "end of the primary in its nearest layer, where it has several", default=QUIET
    )
    secondary_swing: float = quantity(
        "",
        "swing of the facing secondary layer relative to the switch node, Ns/Np of its turns; 0 for a quiet one",
        default=0.0,
        high=1.0,
        usual=(0.01, 1.0),
    )
    sense: str = value(Text(choices=(SAME, OPPOSITE)), "how facing turns swing against each other", default=SAME)
    shield: str = value(Text(choices=(NO_SHIELD, SHIELD)), "shield between the windings", default=NO_SHIELD)
    imbalance: float = quantity(
        "",
        "by how much one half of the layer couples more than the other, where both ends swing",
        default=0.1,
        high=1.0,
        usual=(0.01, 0.5),
    )

    def result(self) -> Result:
        """Work out the mean potential of the facing layers against each other."""
        return self._symmetric() if self.swing == BOTH_ENDS else self._one_ended()

    def _one_ended(self) -> Result:
        hot, same = self.nearest == HOT, self.sense == SAME
        primary = self._leak * layered_share(self.layers, "hot" if hot else "cold")
        secondary = 0.5 * self.secondary_swing
        share = primary - secondary if same else primary + secondary
        layer = f"(2·{self.layers} − 1)/(2·{self.layers})" if hot else f"1/(2·{self.layers})"
        sign = "−" if same else "+"
        return Result(
            amounts=(_share(abs(share), self._error * primary + _EVEN * secondary),),
            equation=f"share = {self._lead}{'(2m − 1)/(2m)' if hot else '1/(2m)'} {sign} n/2",
            working=f"share = {self._lead}{layer} {sign} {self.secondary_swing:.3g}/2 = {shown(share, SHARE)}",
            assumes="Potentials rise evenly along each layer, and the layers face each other evenly all over.",
            source=_SOURCE,
            notes=(*self._of_sign(share), *self._of_shield(), *self._of_ends()),
        )

    def _symmetric(self) -> Result:
        layer, uneven = two_ended_share(self.layers), uneven_share(self.imbalance, self.layers)
        share = self._leak * (layer + uneven)
        return Result(
            amounts=(_share(share, self._error * self._leak * layer + self._leak * uneven),),
            equation=f"share = {self._lead}[1 − 1/m + δ/(2m)]",
            working=(
                f"share = {self._lead}[1 − 1/{self.layers} + {self.imbalance:.3g}/(2·{self.layers})] "
                f"= {shown(share, SHARE)}"
            ),
            assumes=(
                "Both ends swing oppositely at the same moment, each by the amplitude of the source, and the secondary "
                "is as symmetric. What is left comes of layers that do not face each other evenly."
            ),
            source=_SOURCE,
            notes=(*self._of_symmetry(), *self._of_shield()),
        )

    @property
    def _leak(self) -> float:
        return 1.0 if self.shield == NO_SHIELD else _LEAK

    @property
    def _lead(self) -> str:
        return "" if self.shield == NO_SHIELD else f"{_LEAK:g}·"

    @property
    def _error(self) -> float:
        return _EVEN if self.shield == NO_SHIELD else _SHIELDED

    def _of_sign(self, share: float) -> Iterator[str]:
        if share < 0.0:
            yield "The secondary swings more than what it faces: the current runs the other way."
        if share > 1.0:
            yield "More than the whole, and a case holds 100 % at most: turn the secondary's sense around."

    def _of_ends(self) -> Iterator[str]:
        if self.layers > 1 and self.nearest == HOT:
            yield f"With the quiet end nearest, the primary's part would be 1/(2m) = {shown(0.5 / self.layers, SHARE)}."

    def _of_shield(self) -> Iterator[str]:
        if self.shield == SHIELD:
            yield (
                "A shield holds back the primary's swing up to some 10 MHz, not the secondary's own. It also adds "
                "capacitance from the quiet end to the secondary."
            )

    def _of_symmetry(self) -> Iterator[str]:
        yield "Where the legs switch one after the other, as with phase shift, nothing cancels between their edges."
        if self.layers > 1:
            yield "Only the layer at one end faces the secondary, so little cancels; with one layer most would."


def _share(value: float, error: float) -> Amount:
    return Amount(key="driven_fraction", unit=SHARE, value=value, low=max(value - error, 0.0), high=value + error)
