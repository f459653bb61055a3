"""One worked number: a function, its arguments, and what must come out to the digits that are printed."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

from attrs import field, frozen


def plain(result: Any) -> complex:
    """Return the result itself, where a row needs no reading of it."""
    return complex(result)


@frozen(kw_only=True)
class Row:
    """A worked number of a section, printed with so many significant digits."""

    id: str
    section: str
    function: Callable[..., Any]
    args: Mapping[str, Any] = field(factory=dict)
    expected: complex
    read: Callable[[Any], complex] = plain
    digits: int = 4

    def found(self) -> complex:
        """Return what the function gives."""
        return complex(self.read(self.function(**self.args)))


def half_step(printed: float, digits: int) -> float:
    """Return half a step of the last of the significant digits printed."""
    if printed == 0.0:
        return 0.0
    return 0.5 * 10.0 ** (math.floor(math.log10(abs(printed)) + 1e-12) - digits + 1) * (1.0 + 1e-6)


def agrees(found: complex, expected: complex, digits: int) -> bool:
    """Return whether both parts round to the printed ones."""
    pairs = ((found.real, expected.real), (found.imag, expected.imag))
    return all(abs(value - printed) <= half_step(printed, digits) for value, printed in pairs)
