"""Units in the headers of tables, as instruments and people write them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

_PREFIX = {"": 1.0, "f": 1e-15, "p": 1e-12, "n": 1e-9, "u": 1e-6, "m": 1e-3, "k": 1e3, "K": 1e3, "M": 1e6, "G": 1e9}
_FREQUENCY = {"": 1.0, "k": 1e3, "m": 1e6, "g": 1e9}
_PLAIN = {"ohms": "ohm", "ohm": "ohm", "f": "F", "farad": "F", "h": "H", "henry": "H", "s": "S", "siemens": "S"}
_ANGLE = {
    **dict.fromkeys(("deg", "deg.", "degree", "degrees", "°"), np.pi / 180),
    "rad": 1.0,
    "radian": 1.0,
    "radians": 1.0,
}
_RATIO = {"": 1.0, "-": 1.0, "1": 1.0, "%": 0.01}

ACCEPTED: Mapping[str, str] = MappingProxyType(
    {
        "Hz": "Hz, kHz, MHz or GHz",
        "ohm": "ohm, with a prefix such as m, k or M",
        "F": "F, with a prefix such as p, n or u",
        "H": "H, with a prefix such as n, u or m",
        "S": "S, with a prefix such as u or m",
        "angle": "deg or rad",
        "ratio": "no unit, or %",
    }
)
"""What each base unit may be written as, for messages."""


def factor_of(unit: str, base: str) -> float | None:
    """Return what a unit is in its base unit (radian for an angle), or None where it is not of that quantity."""
    plain = (
        unit.strip().replace("Ω", "ohm").replace("\u2126", "ohm").replace("µ", "u").replace("μ", "u").replace("º", "°")
    )
    if base == "angle":
        return _ANGLE.get(plain.lower())
    if base == "ratio":
        return _RATIO.get(plain)
    if base == "Hz":
        match = re.fullmatch(r"([kmg]?)\s*hz", plain, re.IGNORECASE)
        return _FREQUENCY[match[1].lower()] if match and plain != "mHz" else None
    match = re.fullmatch(r"([fpnumkKMG]?)\s*((?i:ohms?|farad|henry|siemens|f|h|s))", plain)
    return _PREFIX[match[1]] if match and _PLAIN[match[2].lower()] == base else None


def is_decibel(unit: str) -> bool:
    """Return whether a unit is decibels of an ohm."""
    return re.fullmatch(r"db\s*(ohm|Ω|ω)?", unit.strip(), re.IGNORECASE) is not None


def is_unit(text: str) -> bool:
    """Return whether a text is a unit of any quantity of a table."""
    return is_decibel(text) or any(factor_of(text, base) is not None for base in ACCEPTED)
