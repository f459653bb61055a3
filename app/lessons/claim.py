"""Claims: what the words of a lesson say of a number, in a form that can be checked against it."""

from __future__ import annotations

import math

from attrs import frozen

from models.errors import QuantityError
from models.quantity import parse_quantity

ABOUT = "about "
_NEAR = 0.1
_WORDS = {"pass": 1.0, "fail": 0.0}
ACCEPTED = '"> 500 ohm", "< 5 V", "about 2 nF" (within 10 %), "1 V to 3 V", "pass", "fail" or "open"'


@frozen(kw_only=True)
class Claim:
    """A range that a number lies in, its ends counted in only where it is a single value."""

    low: float
    high: float

    def holds(self, found: float) -> bool:
        """Return whether a number bears the claim out."""
        return self.low < found < self.high or found == self.low == self.high


def parse_claim(text: str, unit: str) -> Claim:
    """Read a claim on a number of a unit.

    Raises
    ------
    QuantityError
        where the text is no claim, or not of that unit
    """
    words = text.strip()
    if words in _WORDS:
        return Claim(low=_WORDS[words], high=_WORDS[words])
    if words == "open":
        return Claim(low=math.inf, high=math.inf)
    if words.startswith(">"):
        return Claim(low=parse_quantity(words[1:], unit), high=math.inf)
    if words.startswith("<"):
        return Claim(low=-math.inf, high=parse_quantity(words[1:], unit))
    if words.startswith(ABOUT):
        middle = parse_quantity(words.removeprefix(ABOUT), unit)
        return Claim(low=middle * (1.0 - _NEAR), high=middle * (1.0 + _NEAR))
    low, to, high = words.partition(" to ")
    if not to:
        raise QuantityError(f'"{text}"', ACCEPTED)
    return Claim(low=parse_quantity(low, unit), high=parse_quantity(high, unit))
