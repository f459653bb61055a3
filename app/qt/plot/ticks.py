"""Engineering ticks: where an axis is marked and what stands there. No Qt."""

from __future__ import annotations

import math
from collections.abc import Sequence

from attrs import frozen

from app.present.specs import AxisSpec

_PREFIXES = {-15: "f", -12: "p", -9: "n", -6: "µ", -3: "m", 0: "", 3: "k", 6: "M", 9: "G", 12: "T"}
_DEGREE = "°"
_TURNS_DEG = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 45.0, 90.0)
_WITHIN = (((1, 2, 5), 0.3), ((1, 3), 0.47))
"""What is named within a decade, the fullest first, and how close two of its names come, in decades."""
_PLAIN_UNITS = ("dB", _DEGREE, "%")
"""Units that take no prefix: 1000 dB is no kilodecibel."""


@frozen(kw_only=True)
class Tick:
    """A mark on an axis in data units; without a text it is only a grid line, and a minor one is fainter."""

    at: float
    text: str = ""
    minor: bool = False


def ticks(axis: AxisSpec, low: float, high: float, *, room: int, terse: bool) -> tuple[Tick, ...]:
    """Return the ticks of the visible range, with at most about ``room`` texts.

    A terse axis names its unit only where the prefix changes: 10 Hz, 100, 1 kHz, 10.
    """
    if not axis.log or low <= 0.0:
        return _linear_ticks(axis, low, high, room=room, terse=terse)
    first, last = math.ceil(_log10(low) - 1e-9), math.floor(_log10(high) + 1e-9)
    if last - first >= 1:
        return _decade_ticks(axis, low, high, first, last, room=room, terse=terse)
    mantissas = [v for v in _mantissa_values(low, high, (1, 2, 5)) if low <= v <= high]
    if len(mantissas) >= 3:
        return _with_texts(mantissas, axis.unit, terse=terse)
    return _linear_ticks(axis, low, high, room=room, terse=terse)


def quantity_text(value: float, unit: str, exponent: int | None = None) -> str:
    """Return a tick's text such as ``4.7 kΩ``, with the prefix of a given exponent where an axis shares one."""
    number, prefix = _scaled(value, unit, exponent)
    return f"{number}{_DEGREE}" if unit == _DEGREE else f"{number} {prefix}{unit}".strip()


def _log10(value: float) -> float:
    return math.log10(value)


def _decade_ticks(
    axis: AxisSpec, low: float, high: float, first: int, last: int, *, room: int, terse: bool
) -> tuple[Tick, ...]:
    step = max(1, math.ceil((last - first + 1) / max(room, 1)))
    anchor = round(_log10(axis.low)) if axis.low > 0.0 else first
    named = [10.0**e for e in range(first, last + 1) if (e - anchor) % step == 0]
    within = next((some for some, apart in _WITHIN if apart * room >= _log10(high / low)), None)
    if within is not None:
        named = [v for v in _mantissa_values(low, high, within) if low <= v <= high]
    texts = _with_texts(named, axis.unit, terse=terse and step == 1)
    marks = [*texts, *(Tick(at=10.0**e) for e in range(first, last + 1) if 10.0**e not in named)]
    if last - first <= 3:
        fine = _mantissa_values(low, high, range(2, 10))
        marks += [Tick(at=v, minor=True) for v in fine if low <= v <= high and v not in named]
    return tuple(sorted(marks, key=_place))


def _place(tick: Tick) -> float:
    return tick.at


def _mantissa_values(low: float, high: float, mantissas: Sequence[int]) -> list[float]:
    decades = range(math.floor(_log10(low)), math.ceil(_log10(high)) + 1)
    return [m * 10.0**e for e in decades for m in mantissas]


def _with_texts(values: Sequence[float], unit: str, *, terse: bool) -> tuple[Tick, ...]:
    result: list[Tick] = []
    previous = None
    for value in values:
        number, prefix = _scaled(value, unit, None)
        bare = terse and prefix == previous
        result.append(Tick(at=value, text=number if bare else f"{number} {prefix}{unit}".strip()))
        previous = prefix
    return tuple(result)


def _linear_ticks(axis: AxisSpec, low: float, high: float, *, room: int, terse: bool) -> tuple[Tick, ...]:
    if not high > low:
        return ()
    rough = (high - low) / max(room, 1)
    step = next((each for each in _TURNS_DEG if each >= rough), 90.0) if axis.unit == _DEGREE else _nice_step(rough)
    values = _multiples(step, low, high)
    if len(values) < 2:
        # one mark tells no scale
        values = _multiples(_nice_step(0.4 * step), low, high)
    exponent = _exponent(max(abs(low), abs(high)))
    plain = _is_plain(axis.unit)
    texts = [_scaled(v, axis.unit, exponent)[0] for v in values]
    if values and (terse or plain):
        texts[-1] = quantity_text(values[-1], axis.unit, exponent)
    elif values:
        texts = ["0" if v == 0.0 else quantity_text(v, axis.unit, exponent) for v in values]
    return tuple(Tick(at=v, text=text) for v, text in zip(values, texts, strict=True))


def _multiples(step: float, low: float, high: float) -> list[float]:
    return [k * step for k in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1)]


def _nice_step(rough: float) -> float:
    decade = 10.0 ** math.floor(_log10(rough))
    return next(m * decade for m in (1.0, 2.0, 5.0, 10.0) if m * decade >= rough * 0.999)


def _is_plain(unit: str) -> bool:
    return not unit or unit.startswith(_PLAIN_UNITS)


def _exponent(value: float) -> int:
    if value == 0.0:
        return 0
    return min(max(3 * math.floor(_log10(value) / 3 + 1e-9), min(_PREFIXES)), max(_PREFIXES))


def _scaled(value: float, unit: str, exponent: int | None) -> tuple[str, str]:
    if _is_plain(unit):
        return _number(value), ""
    power = _exponent(abs(value)) if exponent is None else exponent
    return _number(value / 10.0**power), _PREFIXES[power]


def _number(value: float) -> str:
    text = f"{value:.6g}"
    return ("0" if float(text) == 0.0 else text).replace("-", "−")
