"""A part from the few numbers of a data sheet, and a sentence for everything that had to be assumed."""

from __future__ import annotations

from typing import Final

from attrs import frozen

from models.parts.part import Part
from models.quantity import format_quantity

AGREES: Final = 0.15
"""Share by which two numbers that say the same thing may differ."""


@frozen(kw_only=True)
class FromDataSheet:
    """A part, and what of it no number of the data sheet says."""

    part: Part
    assumed: tuple[str, ...]


def shown(value: float, unit: str) -> str:
    """Return a value as a sentence shows it: three digits."""
    return format_quantity(value, unit, digits=3)
