"""Parts as the section drawing names them: by the value people call them by. A new kind of part needs nothing here."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

import numpy as np

from app.present.numbers import reading
from models.codec import Quantity
from models.declare import get_path, keys_of
from models.parts.part import Part
from models.quantity import format_quantity

_NAMED_AT_HZ = 100e6
"""Beads and chokes are called by their impedance at this frequency."""


def part_name(part: Part) -> str:
    """Return the kind of a part in words: Common mode choke."""
    return part.kind.replace("-", " ").capitalize()


def part_value(part: Part) -> str:
    """Return the value that a part is called by, such as 2.2 nF or 2 × 1 pF."""
    special = _SPECIAL.get(part.kind)
    value = special(part) if special else _first_value(part)
    count = getattr(part, "count", 1)
    return f"{count} × {value}" if count > 1 else value


def part_class(part: Part) -> str:
    """Return the safety class of a part with a space before it, to be written behind its value."""
    return f" {part.rating.safety_class}" if part.rating.safety_class else ""


def impedance_ohm(parts: tuple[Part, ...], f_hz: float) -> float:
    """Return |Z| of parts in series at a frequency, Ω."""
    omega = np.array([math.tau * f_hz])
    return float(abs(sum(complex(part.impedance(omega)[0]) for part in parts)))


def share_text(share: float) -> str:
    """Return a share in percent as far as it can be read; nothing for what hardly counts."""
    if share < 0.005:
        return ""
    if share < 0.01:
        return "<1 %"
    if share < 0.0995:
        return f"{100.0 * share:.1f} %"
    return f"{100.0 * share:.0f} %" if share < 0.995 or share == 1.0 else ">99 %"


def _first_value(part: Part) -> str:
    """Return the first quantity that a part must have, or else the first that is not 0."""
    keys = [key for key in keys_of(type(part)).values() if isinstance(key.codec, Quantity) and key.unit]
    values = [(key, get_path(part, key.path)) for key in keys]
    must = [(key, value) for key, value in values if key.required and value is not None]
    for key, value in must or [(key, value) for key, value in values if value]:
        return format_quantity(value, key.unit or "", digits=3)
    return part_name(part)


def _at_100_mhz(part: Any) -> str:
    return reading(impedance_ohm((part,), _NAMED_AT_HZ), "ohm")


def _copper(part: Any) -> str:
    if part.length_m is not None:
        return format_quantity(part.length_m, "m", digits=3)
    if part.inductance_h:
        return format_quantity(part.inductance_h, "H", digits=3)
    return format_quantity(part.resistance_ohm, "ohm", digits=3)


_SPECIAL: Mapping[str, Callable[[Any], str]] = MappingProxyType(
    {"bead": _at_100_mhz, "common-mode-choke": _at_100_mhz, "copper": _copper}
)
