"""What stands in a file, read into values and written back; every problem is noted with its place."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any, Protocol

from attrs import frozen

from models.errors import Problem, QuantityError
from models.quantity import format_quantity, parse_quantity

_LONGEST_SHOWN, _LONGEST_NAME = 44, 500

LEAST, MOST = 1e-30, 1e30
"""No quantity of a board lies outside, and no product of two overflows inside."""
HIGHEST_HZ = 1e12
"""What is asked for above means nothing to a circuit."""

KeyPath = tuple[str | int, ...]
"""Where a value stands in a document: names of attributes, and places in lists."""

MISSING: Any = object()
"""What a codec returns for a value it had to reject; the problem is then in the place's list."""


class Place:
    """Where the reader stands in a file, and the list of problems that it fills."""

    def __init__(
        self,
        path: KeyPath,
        problems: list[tuple[KeyPath, Problem]],
        folder: Path | None = None,
    ) -> None:
        self.path = path
        self.problems = problems
        self.folder = folder
        """Where the files that a case names are looked for; None where they are not to be opened."""

    def at(self, step: str | int) -> Place:
        """Return the place one step further in."""
        return Place((*self.path, step), self.problems, self.folder)

    def reject(self, found: str, accepted: str) -> Any:
        """Note a problem here and return MISSING."""
        self.problems.append((self.path, Problem(where=path_text(self.path), found=found, accepted=accepted)))
        return MISSING


def path_text(path: KeyPath) -> str:
    """Write a path as a person reads it: ``candidate[1].branch[0].parts[0].capacitance``."""
    text = ""
    for step in path:
        name = shown(step) if isinstance(step, str) else f"[{step}]"
        text += f".{name}" if text and isinstance(step, str) else name
    return text or "file"


def shown(text: str) -> str:
    """Return a text short and on one line, as a message can quote it."""
    visible = "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii") for sign in text)
    return visible if len(visible) <= _LONGEST_SHOWN else visible[: _LONGEST_SHOWN - 1] + "…"


def describe(found: object) -> str:
    """Say in a few words what stood in the file."""
    if isinstance(found, dict):
        return "a table"
    if isinstance(found, list):
        return f"a list of {len(found)}"
    if isinstance(found, bool):
        return "true" if found else "false"
    if isinstance(found, int) and found.bit_length() > 256:
        return "a whole number of more than 77 digits"
    return f'"{shown(found)}"' if isinstance(found, str) else shown(str(found))


class Codec(Protocol):
    """Turns what stands in a file into a value and back."""

    def read(self, found: object, place: Place) -> Any:
        """Return the value, or MISSING with a problem noted."""

    def write(self, value: Any) -> Any:
        """Return what stands in the file for this value."""


@frozen(kw_only=True)
class Quantity:
    """A physical value in one unit, within limits."""

    unit: str
    positive: bool = False
    high: float = math.inf

    def read(self, found: object, place: Place) -> Any:
        """Parse a quantity text or a bare number in SI units."""
        try:
            value = parse_quantity(found, self.unit)
        except QuantityError as error:
            return place.reject(error.found, error.accepted)
        try:
            self.check(value)
        except QuantityError as error:
            return place.reject(describe(found), error.accepted)
        return value

    def write(self, value: float) -> str | float:
        """Return the shortest text that reads back as the same number."""
        return format_quantity(value, self.unit) if self.unit else value

    def check(self, value: float) -> None:
        """Raise QuantityError where the value is outside what the key can hold."""
        fits = LEAST <= value <= min(self.high, MOST) or (value == 0 and not self.positive)
        if not fits:
            text = format_quantity(value, self.unit) if math.isfinite(value) else str(value)
            raise QuantityError(text, self._limits(value))

    def _limits(self, value: float) -> str:
        if 0 < value < LEAST or MOST < value < math.inf:
            return f"{LEAST:g} to {MOST:g}" + ("" if self.positive else ", or 0")
        least = "more than 0" if self.positive else "0 or more"
        return least if self.high == math.inf else f"{least} and at most {format_quantity(self.high, self.unit)}"


@frozen(kw_only=True)
class Text:
    """A text; one of up to 500 characters is a name and stands on one line, a longer one is free, and none if empty."""

    limit: int = 200
    choices: tuple[str, ...] = ()

    def read(self, found: object, place: Place) -> Any:
        """Accept a text of sensible length, or one of the choices."""
        if self.choices and (not isinstance(found, str) or found not in self.choices):
            return place.reject(describe(found), " or ".join(f'"{choice}"' for choice in self.choices))
        if found == "" and self.limit > _LONGEST_NAME:
            return None
        if not isinstance(found, str) or not found.strip() or len(found) > self.limit:
            return place.reject(describe(found), f"a text of 1 to {self.limit} characters")
        if self.limit <= _LONGEST_NAME and not found.isprintable():
            return place.reject(describe(found), "a name on one line, without control characters")
        return found

    def write(self, value: str) -> str:
        """Return the text itself."""
        return value


@frozen(kw_only=True)
class Count:
    """A whole number within limits."""

    low: int = 1
    high: int = 1000

    def read(self, found: object, place: Place) -> Any:
        """Accept a whole number."""
        if not isinstance(found, int) or isinstance(found, bool) or not self.low <= found <= self.high:
            return place.reject(describe(found), f"a whole number from {self.low} to {self.high}")
        return found

    def write(self, value: int) -> int:
        """Return the number itself."""
        return value


@frozen(kw_only=True)
class Between:
    """The names of two different regions."""

    def read(self, found: object, place: Place) -> Any:
        """Accept a list of two different names."""
        if (
            not isinstance(found, list)
            or len(found) != 2
            or not all(isinstance(name, str) and name for name in found)
            or found[0] == found[1]
        ):
            shown = f"[{', '.join(map(describe, found[:4]))}]" if isinstance(found, list) else describe(found)
            return place.reject(shown, 'two different regions, such as ["primary", "secondary"]')
        return tuple(found)

    def write(self, value: tuple[str, str]) -> list[str]:
        """Return the two names as a list."""
        return list(value)


@frozen(kw_only=True)
class ListOf:
    """Several of the same."""

    item: Codec
    least: int = 0
    most: int = 200
    noun: str = "a list"

    def read(self, found: object, place: Place) -> Any:
        """Read every item, so that all problems are found at once."""
        if not isinstance(found, list) or not self.least <= len(found) <= self.most:
            return place.reject(describe(found), f"{self.noun} with {self.least} to {self.most} entries")
        values = [self.item.read(entry, place.at(index)) for index, entry in enumerate(found)]
        return MISSING if any(value is MISSING for value in values) else tuple(values)

    def write(self, value: tuple[Any, ...]) -> list[Any]:
        """Write every item."""
        return [self.item.write(entry) for entry in value]
