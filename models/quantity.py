"""Physical quantities as text: the strict reader and the printer.

The reader takes SI text (``2.2 nF``), the short forms of the trade (``4k7``, ``2n2``, ``3V3``) and bare numbers in SI
base units. What can be read in two ways is refused with a hint, never guessed. Both directions are exact: a text gives
the float nearest to its decimal value, and a float printed without ``digits`` reads back bit for bit.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Context, Decimal

from models.errors import QuantityError
from models.units import STEPS, UNITS, Unit, point_powers, suffix_powers

__all__ = ["UNITS", "Unit", "format_quantity", "hertz", "ohms", "parse_quantity", "unbroken"]

_LONGEST_TEXT = 64
_LONGEST_SHOWN = 40
_PARTED = re.compile(r"(?<=\d) (?=(?:[fpnµmkMGT]?(?:Ω|Hz|F|H|V|A|W|s|m)|dB\w*|%|°)(?!\w))")
"""The space between a number and its unit."""


def parse_quantity(found: object, unit: str, *, allow_negative: bool = False) -> float:
    """Read a quantity as the trade types it: value = number · 10^prefix.

    Parameters
    ----------
    found : object
        A text of at most 64 characters, or an int or float in SI base units.
    unit : str
        Name of the expected unit, a key of `UNITS`.
    allow_negative : bool
        Accept values below zero; without it a negative zero becomes zero.

    Returns
    -------
    float
        The value in SI base units; the float nearest to the decimal value of the text.

    Raises
    ------
    QuantityError
        Not a quantity of this unit, readable in two ways, negative, or not a finite float.

    Notes
    -----
    Range: ±1.79e308, smallest 4.9e-324; a text below that is refused, not made zero. Error: half a unit in the last
    place at most. Source: prefixes, SI Brochure, 9th edition, table 7; letter for the decimal point, IEC 60062.
    """
    kind = UNITS[unit]
    value = _read_text(found, kind) if isinstance(found, str) else _read_number(found, kind)
    if not math.isfinite(value):
        raise _refusal(found, kind, " that is finite and at most 1.79e308")
    if value < 0 and not allow_negative:
        raise _refusal(found, kind, " of 0 or more")
    return value if allow_negative else abs(value)


def format_quantity(value: float, unit: str, *, digits: int | None = None) -> str:
    """Print a quantity with an engineering prefix: number = value / 10^prefix, from 1 up to 1000.

    Parameters
    ----------
    value : float
        The value in SI base units.
    unit : str
        Name of the unit, a key of `UNITS`.
    digits : int or None
        Significant digits for display, halves rounded away from zero, no trailing zeros, minus as U+2212; None for the
        shortest text that reads back as the same float, minus in ASCII.

    Returns
    -------
    str
        ``2.2 nF``, ``40 mΩ``, ``20 %``, ``∞ Ω``; a number with an exponent where no prefix reaches.

    Raises
    ------
    ValueError
        `digits` is below 1.

    Notes
    -----
    Range: every float. Ratios up to 1 are percent, larger ones plain numbers; F and H start at pico. Error: none
    without `digits`. Source: SI Brochure, 9th edition, 5.4.3 and table 7.
    """
    kind = UNITS[unit]
    number = float(value)
    text = _number_text(number, kind, digits) if math.isfinite(number) else _endless_text(number, kind)
    return text if digits is None or not text.startswith("-") else "−" + text[1:]


def hertz(f_hz: float) -> str:
    """Return a frequency as a sentence names it: four digits, ``1.25 MHz``."""
    return format_quantity(f_hz, "Hz", digits=4)


def ohms(ohm: float) -> str:
    """Return a resistance as a sentence names it: four digits, ``4.7 kΩ``."""
    return format_quantity(ohm, "ohm", digits=4)


def unbroken(text: str) -> str:
    """Return a text in which no line ends between a number and its unit."""
    return _PARTED.sub("\N{NO-BREAK SPACE}", text)


# Reading -----------------------------------------------------------------------------------------------------------

_SPACE = "[ \t\u00a0\u2009\u202f]*"
_SAME_SIGN = str.maketrans({"\u03bc": "µ", "\u2126": "Ω", "−": "-"})
_PLAIN = re.compile(
    rf"(?P<sign>[+-]?)(?P<whole>[0-9]*)(?:(?P<mark>[.,])(?P<part>[0-9]*))?"
    rf"(?P<exponent>[eE][+-]?[0-9]+)?{_SPACE}(?P<suffix>[^0-9\s]*)"
)
_INFIX = re.compile(
    rf"(?P<sign>[+-]?)(?P<whole>[0-9]*)(?P<letter>[^\W0-9_])(?P<part>[0-9]+){_SPACE}(?P<name>[^0-9\s]*)"
)
_LEADING_LETTERS = "Rpnµu"  # R47, n47: the others would read a screw (M5) or a typing slip as a number
_SUFFIXES = {kind.noun: suffix_powers(kind) for kind in UNITS.values()}
_POINTS = {kind.noun: point_powers(kind) for kind in UNITS.values()}


def _read_number(found: object, kind: Unit) -> float:
    """Take a bare number in SI base units."""
    if isinstance(found, bool) or not isinstance(found, int | float):
        raise _refusal(found, kind)
    try:
        return float(found)
    except OverflowError:
        return math.inf


def _read_text(found: str, kind: Unit) -> float:
    """Read a text as number and suffix, or as a number with a letter for its point."""
    if len(found) > _LONGEST_TEXT:
        raise _refusal(found, kind, f" in at most {_LONGEST_TEXT} characters")
    text = found.translate(_SAME_SIGN).strip(" \t\u00a0\u2009\u202f")
    if plain := _PLAIN.fullmatch(text):
        return _read_plain(plain, found, kind)
    if infix := _INFIX.fullmatch(text):
        return _read_infix(infix, found, kind)
    raise _refusal(found, kind)


def _read_plain(match: re.Match[str], found: str, kind: Unit) -> float:
    """Read ``2.2 nF``, ``4,7n``, ``1e-9``."""
    whole, part, mark, suffix = match["whole"], match["part"] or "", match["mark"], match["suffix"]
    powers = _SUFFIXES[kind.noun]
    if not (whole or part) or (mark == "," and not (whole and part)):
        raise _refusal(found, kind)
    if suffix not in powers:
        raise _refusal(found, kind, hint=_case_hint(suffix, powers))
    if _groups_thousands(whole, mark, part):
        raise _refusal(
            found, kind, hint=f"no thousands separators: {whole},{part} could be {whole}.{part} or {whole}{part}"
        )
    exponent = match["exponent"] or "e0"
    if kind.point == "R" and not mark and re.fullmatch("E[0-9]+", exponent):
        raise _refusal(
            found, kind, hint=f"{whole}R{exponent[1:]} for a decimal point, {whole}e+{exponent[1:]} for a power of ten"
        )
    return _nearest(match, int(exponent[1:]) + powers[suffix], found, kind)


def _read_infix(match: re.Match[str], found: str, kind: Unit) -> float:
    """Read ``4k7``, ``2n2F``, ``R47``."""
    letter, name, powers = match["letter"], match["name"], _POINTS[kind.noun]
    named = name in kind.spellings and kind.point not in (name, letter)
    if letter not in powers or not (match["whole"] or letter in _LEADING_LETTERS) or (name and not named):
        raise _refusal(found, kind)
    return _nearest(match, powers[letter], found, kind)


def _groups_thousands(whole: str, mark: str | None, part: str) -> bool:
    """Tell whether a comma could as well group thousands: 1,000 but not 0,125 nor 4,7."""
    return mark == "," and len(part) == 3 and len(whole) <= 3 and not whole.startswith("0")


def _case_hint(suffix: str, powers: Mapping[str, int]) -> str:
    """Name the suffixes that differ from the one found only in upper and lower case."""
    alike = [known for known in powers if known.lower() == suffix.lower() and "K" not in known]
    return f"upper and lower case count: {' or '.join(alike)}" if alike else ""


def _nearest(match: re.Match[str], power: int, found: str, kind: Unit) -> float:
    """Return the float nearest to sign whole.part · 10^power, in one correct rounding."""
    whole, part = match["whole"], match["part"] or ""
    value = float(f"{match['sign']}{whole}{part}e{power - len(part)}")
    if value == 0 and (whole + part).strip("0"):
        raise _refusal(found, kind, " of 0, or of 4.9e-324 or more")
    return value


# Refusing ----------------------------------------------------------------------------------------------------------


def _refusal(found: object, kind: Unit, limit: str = "", hint: str = "") -> QuantityError:
    """Build the error that says what was found and what is accepted."""
    unit = f" in {kind.symbol}" if kind.symbol and not limit else ""
    return QuantityError(_shown(found), f"{kind.noun}{unit}{limit}, such as {kind.example}{'; ' if hint else ''}{hint}")


def _shown(found: object) -> str:
    """Say what was found, on one line and short."""
    if isinstance(found, str):
        return f'"{_shortened("".join(_escaped(sign) for sign in found[: _LONGEST_SHOWN + 1]))}"'
    if isinstance(found, bool):
        return "true" if found else "false"
    if isinstance(found, int) and found.bit_length() > 1024:
        return "a whole number of more than 308 digits"
    if isinstance(found, int | float):
        return _shortened(str(found))
    names: dict[type, str] = {type(None): "nothing", dict: "a table", list: "a list", tuple: "a list"}
    return next(
        (name for known, name in names.items() if isinstance(found, known)), f"a value of type {type(found).__name__}"
    )


def _shortened(text: str) -> str:
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"


def _escaped(sign: str) -> str:
    """Make a sign visible that would break the line or hide in it."""
    if sign in '"\\':
        return "\\" + sign
    return sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii")


# Printing ----------------------------------------------------------------------------------------------------------

_EXACT = Context(prec=40)  # a float's shortest text has 17 digits at most


def _number_text(number: float, kind: Unit, digits: int | None) -> str:
    """Print a finite number with its prefix, or with an exponent where no prefix reaches."""
    exact = Decimal(repr(number))
    rounded = exact if digits is None else Context(prec=digits, rounding=ROUND_HALF_UP).plus(exact)
    magnitude = rounded.adjusted() if rounded else 0
    power, suffix = _step(magnitude, kind) if kind.symbol else _share(rounded)
    if -3 <= magnitude - power < 6:
        return _joined(_digits(rounded, power), suffix)
    return _joined(f"{_digits(rounded, magnitude)}e{magnitude}", kind.symbol)


def _step(magnitude: int, kind: Unit) -> tuple[int, str]:
    """Choose the power of ten that the suffix stands for, and the suffix."""
    power = min(max(magnitude // 3 * 3, kind.bottom), kind.top)
    return power, STEPS[power] + kind.symbol


def _share(number: Decimal) -> tuple[int, str]:
    """Choose percent for a share of a whole; what exceeds one is an exponent, a permittivity, a quality: a number."""
    return (-2, "%") if abs(number) <= 1 else (0, "")


def _digits(number: Decimal, power: int) -> str:
    """Write number / 10^power without exponent and trailing zeros."""
    return f"{number.scaleb(-power, _EXACT).normalize(_EXACT):f}"


def _endless_text(number: float, kind: Unit) -> str:
    """Print what is not a finite number."""
    sign = "NaN" if math.isnan(number) else "∞" if number > 0 else "-∞"
    return _joined(sign, kind.symbol)


def _joined(number: str, suffix: str) -> str:
    return f"{number} {suffix}" if suffix else number
