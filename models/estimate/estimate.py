"""What every estimate offers: declared geometry, and a value with its equation, its usual error and its limits."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, ClassVar, Protocol

from attrs import frozen

from models.declare import quantity
from models.formulas.constants import LIGHT_M_PER_S
from models.quantity import format_quantity

FARADS, HENRIES, OHMS, SHARE = "F", "H", "ohm", ""
INSULATION = (
    "What separates mains from what a person can touch has a least thickness and number of layers of its own: the "
    "current edition of the standard decides, not this number."
)

LOOP = "The loop decides: the nearer the current's way back, the less is left, down to half and below."


@frozen(kw_only=True)
class Amount:
    """A value that was worked out, and the range in which it usually lies."""

    key: str
    """As a case file has it."""
    unit: str
    value: float
    low: float
    high: float

    @classmethod
    def within(cls, key: str, unit: str, value: float, below: float, above: float) -> Amount:
        """Return a value whose usual error is so many parts of itself below and above."""
        return cls(key=key, unit=unit, value=value, low=value * (1.0 - below), high=value * (1.0 + above))

    @property
    def error(self) -> tuple[float, float]:
        """The usual error below and above, in parts of the value; endless above a value of 0."""
        if self.value == 0.0:
            return 0.0, math.inf
        return 1.0 - self.low / self.value, self.high / self.value - 1.0

    def used(self) -> float:
        """Return the value as a case takes it: three digits, since more are not known."""
        return float(f"{self.value:.3g}")


@frozen(kw_only=True)
class Result:
    """What an estimate gives, and all that a person needs to judge it."""

    amounts: tuple[Amount, ...]
    equation: str
    working: str
    """The equation with the numbers put in."""
    assumes: str
    source: str
    notes: tuple[str, ...] = ()
    """Limits that these numbers leave, and what follows."""
    caution: str = ""


class Estimate(Protocol):
    """Geometry declared as the values of a part are; every value has a default that makes an everyday example."""

    name: ClassVar[str]
    """As the command takes it."""
    title: ClassVar[str]
    about: ClassVar[str]
    """What it is for, in a sentence."""
    suits: ClassVar[tuple[str, ...]]
    """Keys of a case file that it can stand for."""
    symbols: ClassVar[Mapping[str, str]]
    """The sign of each value in the equation, by its key."""

    def result(self) -> Result:
        """Work the value out."""


def length(doc: str, default: float | None, usual: tuple[float, float], *, positive: bool = True) -> Any:
    """Declare a length of the geometry."""
    return quantity("m", doc, default=default, positive=positive, high=1e3, usual=usual)


def permittivity(doc: str, default: float) -> Any:
    """Declare a relative permittivity."""
    return quantity("", doc, default=default, positive=True, high=100.0, usual=(1.0, 10.0))


def shown(value: float, unit: str) -> str:
    """Return a value as an equation shows it."""
    return format_quantity(value, unit, digits=3)


def lumped(way_m: float) -> str:
    """Return up to where a lead is one value: a tenth of a wave."""
    highest = format_quantity(LIGHT_M_PER_S / (10.0 * way_m), "Hz", digits=2)
    return f"One value up to {highest}, where it is a tenth of a wave long"
