"""What an estimate gives, in words: the value, its usual error, and the lines that a case file takes."""

from __future__ import annotations

import math
from collections.abc import Iterator

from models.case.write import keys_text, part_text
from models.estimate.estimate import FARADS, HENRIES, OHMS, Amount, Result
from models.quantity import format_quantity

_NAMES = {
    "interwinding_capacitance": "Interwinding capacitance",
    "driven_fraction": "Driven share",
    "capacitance": "Capacitance",
    "inductance": "Inductance",
    "resistance": "Resistance",
}
_ALIKE = 0.005
_MOST_TOLERANCE = 0.9


def amount_text(amount: Amount) -> str:
    """Return the value alone, three digits."""
    return format_quantity(amount.value, amount.unit, digits=3)


def amount_name(amount: Amount) -> str:
    """Return what the value is."""
    return _NAMES[amount.key]


def error_text(amount: Amount) -> str:
    """Return the usual error and the range that it makes."""
    low, high = (format_quantity(each, amount.unit, digits=2) for each in (amount.low, amount.high))
    below, above = amount.error
    if math.isinf(above):
        return f"usually below {high}"
    if abs(above - below) < _ALIKE:
        return f"usually ±{_percent(above)}: {low} to {high}"
    return f"usually −{_percent(below)} to +{_percent(above)}: {low} to {high}"


def paste_lines(result: Result) -> Iterator[tuple[str, str]]:
    """Yield where in a case file each value stands, and its lines."""
    for amount in result.amounts:
        text = format_quantity(amount.used(), amount.unit)
        if amount.key in ("interwinding_capacitance", "driven_fraction"):
            more = _tolerance(amount) if amount.unit == FARADS else {}
            plain = {amount.key: text if amount.unit else amount.used(), **more}
            yield "[[transformer]]", keys_text(plain).rstrip()
        elif amount.unit in (HENRIES, OHMS):
            yield "[[coupling]] or [[candidate.branch]]", _parts({"kind": "copper", amount.key: text})
        else:
            yield "[[coupling]]", _parts({"kind": "capacitor", "capacitance": text, **_tolerance(amount)})


def _parts(plain: dict[str, str]) -> str:
    return f"parts = [ {part_text(plain)} ]"


def _tolerance(amount: Amount) -> dict[str, str]:
    """Return the usual error as a tolerance, so that verdicts reckon with it."""
    return {"tolerance": _percent(min(max(amount.error), _MOST_TOLERANCE))}


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %"
