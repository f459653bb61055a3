"""A round lead: over a plane, by itself, beside another."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar

from attrs import frozen

from models.codec import Text
from models.declare import value
from models.errors import QuantityError
from models.estimate.estimate import FARADS, HENRIES, LOOP, Amount, Result, length, lumped, permittivity, shown
from models.formulas.capacitor import lead_pair_inductance
from models.formulas.copper import wire_mutual_inductance, wire_partial_inductance
from models.formulas.line import wire_over_plane, wire_pair_capacitance

BACK, ALONG = "out and back", "the same way"
_LINES = "S. Ramo, J. Whinnery, T. Van Duzer, Fields and Waves in Communication Electronics."
_ROSA = "E. Rosa, The self and mutual inductances of linear conductors, 1908."


@frozen(kw_only=True)
class LeadOverPlane:
    """A round lead or a cable above a conducting plane."""

    name: ClassVar[str] = "lead-over-plane"
    title: ClassVar[str] = "Lead or cable over a plane"
    about: ClassVar[str] = "Stray and inductance of a lead or a cable that runs above a plane, its way back."
    suits: ClassVar[tuple[str, ...]] = ("capacitance", "inductance")
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType({"length": "l", "diameter": "d", "height": "h"})

    length_m: float = length("length along the plane", 1.0, (0.01, 3.0))
    diameter_m: float = length("diameter over the metal: wire, braid, or the bundle", 4e-3, (0.2e-3, 0.02))
    height_m: float = length("height of its middle above the plane", 0.1, (1e-3, 1.0))

    def __attrs_post_init__(self) -> None:
        """Refuse a lead that dips into the plane."""
        if self.height_m <= 0.5 * self.diameter_m:
            raise QuantityError(
                f"height {shown(self.height_m, 'm')}", f"more than half of {shown(self.diameter_m, 'm')}", "height"
            )

    def result(self) -> Result:
        """Work out C = 2πε0·l/acosh(2h/d) and L = (µ0/2π)·l·acosh(2h/d)."""
        line, shape = wire_over_plane(0.5 * self.diameter_m, self.height_m), math.acosh(self._ratio())
        capacitance, inductance = line.capacitance_f_per_m * self.length_m, line.inductance_h_per_m * self.length_m
        return Result(
            amounts=(
                Amount.within("capacitance", FARADS, capacitance, 0.1, 0.25),
                Amount.within("inductance", HENRIES, inductance, 0.2, 0.1),
            ),
            equation="C = 2πε0·l/acosh(2h/d), L = (µ0/2π)·l·acosh(2h/d)",
            working=(
                f"acosh({self._ratio():.3g}) = {shape:.3g}: "
                f"C = 55.63 pF/m · {shown(self.length_m, 'm')}/{shape:.3g} = {shown(capacitance, FARADS)}, "
                f"L = 0.2 µH/m · {shown(self.length_m, 'm')} · {shape:.3g} = {shown(inductance, HENRIES)}"
            ),
            assumes="An even height over a wide plane; a jacket of plastic adds 5 to 20 % to the capacitance.",
            source=_LINES,
            notes=self._notes(),
        )

    def _ratio(self) -> float:
        return 2.0 * self.height_m / self.diameter_m

    def _notes(self) -> tuple[str, ...]:
        longer = f"{lumped(self.length_m)}; above, enter a lead that leaves a region as a cable."
        if self.length_m < 3.0 * self.height_m:
            return ("Shorter than 3 heights: its ends add to the capacitance and take from the inductance.", longer)
        return (longer,)


@frozen(kw_only=True)
class LeadToLead:
    """Two leads or cables that run side by side."""

    name: ClassVar[str] = "lead-to-lead"
    title: ClassVar[str] = "Lead beside another lead"
    about: ClassVar[str] = "Stray between two leads or cables that run side by side, such as one in and one out."
    suits: ClassVar[tuple[str, ...]] = ("capacitance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType(
        {"length": "l", "diameter": "d", "spacing": "s", "permittivity": "εr"}
    )

    length_m: float = length("length over which they run side by side", 0.3, (0.01, 3.0))
    diameter_m: float = length("diameter over the metal: wire, braid, or the bundle", 4e-3, (0.2e-3, 0.02))
    spacing_m: float = length("spacing from middle to middle", 10e-3, (0.5e-3, 0.2))
    permittivity: float = permittivity(
        "permittivity between them: 1.1 for jackets apart, 1.5 where they touch, 2.5 in one jacket", 1.1
    )

    def __attrs_post_init__(self) -> None:
        """Refuse leads inside each other."""
        _refuse_touching(self.spacing_m, self.diameter_m)

    def result(self) -> Result:
        """Work out C = πε0·εr·l/acosh(s/d)."""
        capacitance = wire_pair_capacitance(self.length_m, self.spacing_m, self.diameter_m, self.permittivity)
        return Result(
            amounts=(Amount.within("capacitance", FARADS, capacitance, 0.3, 0.2),),
            equation="C = πε0·εr·l/acosh(s/d)",
            working=(
                f"C = 27.82 pF/m · {self.permittivity:.3g} · {shown(self.length_m, 'm')}/"
                f"acosh({self.spacing_m / self.diameter_m:.3g}) = {shown(capacitance, FARADS)}"
            ),
            assumes="Like leads at an even spacing. A plane nearer than the spacing takes half of it and more away.",
            source=_LINES,
            notes=(*_short(self.length_m, self.spacing_m), f"{lumped(self.length_m)}."),
        )


@frozen(kw_only=True)
class Lead:
    """A straight round wire by itself."""

    name: ClassVar[str] = "lead"
    title: ClassVar[str] = "Round wire by itself"
    about: ClassVar[str] = "Inductance of a lead or a jumper whose way back lies far away."
    suits: ClassVar[tuple[str, ...]] = ("inductance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType({"length": "l", "diameter": "d"})

    length_m: float = length("length", 30e-3, (2e-3, 1.0))
    diameter_m: float = length("diameter of the metal", 0.6e-3, (0.1e-3, 5e-3))

    def __attrs_post_init__(self) -> None:
        """Refuse a disc."""
        _refuse_disc(self.length_m, self.diameter_m)

    def result(self) -> Result:
        """Work out L = 0.2 µH/m·l·[ln(4l/d) − 1]."""
        inductance = wire_partial_inductance(self.length_m, self.diameter_m)
        return Result(
            amounts=(Amount.within("inductance", HENRIES, inductance, 0.5, 0.05),),
            equation="L = (µ0/2π)·l·[ln(4l/d) − 1]",
            working=(
                f"L = 0.2 µH/m · {shown(self.length_m, 'm')} · [ln({4.0 * self.length_m / self.diameter_m:.3g}) − 1] "
                f"= {shown(inductance, HENRIES)}"
            ),
            assumes=f"A straight wire, current on its surface, as above some 100 kHz. {LOOP}",
            source=_ROSA,
            notes=self._notes(),
        )

    def _notes(self) -> tuple[str, ...]:
        if self.length_m >= 10.0 * self.diameter_m:
            return (f"{lumped(self.length_m)}.",)
        return ("Shorter than 10 diameters: up to 20 % low.", f"{lumped(self.length_m)}.")


@frozen(kw_only=True)
class WirePair:
    """Two round wires side by side."""

    name: ClassVar[str] = "wire-pair"
    title: ClassVar[str] = "Two wires, out and back or in parallel"
    about: ClassVar[str] = "Inductance of two wires that run side by side: out and back, or sharing one current."
    suits: ClassVar[tuple[str, ...]] = ("inductance",)
    symbols: ClassVar[Mapping[str, str]] = MappingProxyType({"length": "l", "diameter": "d", "spacing": "s"})

    length_m: float = length("length", 50e-3, (3e-3, 2.0))
    diameter_m: float = length("diameter of the metal", 0.6e-3, (0.1e-3, 5e-3))
    spacing_m: float = length("spacing from middle to middle", 7.5e-3, (0.5e-3, 0.1))
    current: str = value(
        Text(choices=(BACK, ALONG)), "how their currents run: out and back, or both the same way", default=BACK
    )

    def __attrs_post_init__(self) -> None:
        """Refuse wires inside each other, and discs."""
        _refuse_touching(self.spacing_m, self.diameter_m)
        _refuse_disc(self.length_m, self.diameter_m)

    def result(self) -> Result:
        """Work out the loop of both, or both in parallel."""
        return self._back() if self.current == BACK else self._along()

    def _back(self) -> Result:
        inductance = lead_pair_inductance(self.length_m, self.spacing_m, self.diameter_m)
        return Result(
            amounts=(Amount.within("inductance", HENRIES, inductance, 0.1, 0.2),),
            equation="L = (µ0/π)·l·acosh(s/d)",
            working=(
                f"L = 0.4 µH/m · {shown(self.length_m, 'm')} · acosh({self.spacing_m / self.diameter_m:.3g}) "
                f"= {shown(inductance, HENRIES)}"
            ),
            assumes="The whole loop of both wires; the piece that closes it at the end adds its own length.",
            source=_LINES,
            notes=(*_short(self.length_m, self.spacing_m), f"{lumped(self.length_m)}."),
        )

    def _along(self) -> Result:
        own = wire_partial_inductance(self.length_m, self.diameter_m)
        mutual = wire_mutual_inductance(self.length_m, self.spacing_m)
        inductance = 0.5 * (own + mutual)
        return Result(
            amounts=(Amount.within("inductance", HENRIES, inductance, 0.5, 0.05),),
            equation="L = (L1 + M)/2, M = (µ0/2π)·[l·asinh(l/s) − √(l² + s²) + s]",
            working=(
                f"L = ({shown(own, HENRIES)} + {shown(mutual, HENRIES)})/2 = {shown(inductance, HENRIES)}; one wire "
                f"alone has {shown(own, HENRIES)}"
            ),
            assumes=f"Two like wires in parallel. {LOOP}",
            source=_ROSA,
            notes=(f"{lumped(self.length_m)}.",),
        )


def _refuse_touching(spacing_m: float, diameter_m: float) -> None:
    if spacing_m <= diameter_m:
        raise QuantityError(f"spacing {shown(spacing_m, 'm')}", f"more than {shown(diameter_m, 'm')}", "spacing")


def _refuse_disc(length_m: float, diameter_m: float) -> None:
    if length_m <= 2.0 * diameter_m:
        accepted = f"more than 2 diameters of {shown(diameter_m, 'm')}"
        raise QuantityError(f"length {shown(length_m, 'm')}", accepted, "length")


def _short(length_m: float, spacing_m: float) -> tuple[str, ...]:
    return () if length_m >= 3.0 * spacing_m else ("Shorter than 3 spacings: the ends count as much.",)
