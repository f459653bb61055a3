"""Numbers as people read them on the screen."""

from __future__ import annotations

import math

from models.quantity import format_quantity


def reading(value: float, unit: str) -> str:
    """Return a value with three significant digits; what is infinite is called open, or without bound."""
    if math.isinf(value):
        return "open" if unit == "ohm" else "no bound"
    return format_quantity(value, unit, digits=3)


def signed_db(value: float) -> str:
    """Return a margin or a change in dB with its sign."""
    return f"{value:+.1f} dB".replace("-", "−")
