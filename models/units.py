"""The units of a case: how each is shown, how the trade types it, and with which prefixes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from attrs import frozen

_POWERS = {"f": -15, "p": -12, "n": -9, "µ": -6, "m": -3, "c": -2, "": 0, "k": 3, "M": 6, "G": 9, "T": 12}
_ALSO_TYPED = {"µ": ("u",), "k": ("K",), "M": ("meg", "Meg", "MEG")}
STEPS: Mapping[int, str] = {power: prefix for prefix, power in _POWERS.items() if power % 3 == 0}


@frozen(kw_only=True)
class Unit:
    """One unit: how it is shown, how it may be typed, and what to say when it is typed wrongly.

    Parameters
    ----------
    symbol : str
        Sign shown behind the prefix; empty for a ratio.
    spellings : tuple of str
        Texts accepted for the unit, in the reader's own signs (U+03A9 for Ω).
    noun : str
        The quantity with its article, for messages.
    example : str
        Accepted texts, quoted, for messages.
    prefixes : str
        Prefixes accepted before a spelled unit.
    implied : str
        Prefixes accepted where the unit is left to the key; only those that the trade reads in one way.
    point : str
        The unit's letter that may stand for the decimal point (``4R7``, ``3V3``).
    top, bottom : int
        Powers of ten of the largest and the smallest prefix shown.
    """

    symbol: str
    spellings: tuple[str, ...]
    noun: str
    example: str
    prefixes: str = "fpnµmkMGT"
    implied: str = ""
    point: str = ""
    top: int = 0
    bottom: int = -15


UNITS: Mapping[str, Unit] = MappingProxyType(
    {
        "ohm": Unit(
            symbol="Ω",
            spellings=("Ω", "ohm", "ohms", "Ohm", "Ohms", "R"),
            noun="a resistance",
            example='"40 mΩ" or "4k7"',
            implied="pnµmkMGT",
            point="R",
            top=12,
        ),
        # the trade counts in pF and pH down to the smallest: 0.6 pF, never 600 fF
        # no mega and no implied kilo: the trade also writes MF for µF, and 4k7 for 4700 pF
        "F": Unit(
            symbol="F",
            spellings=("F", "farad", "farads"),
            noun="a capacitance",
            example='"2.2 nF" or "2n2"',
            prefixes="fpnµmk",
            implied="pnµm",
            bottom=-12,
        ),
        "H": Unit(
            symbol="H",
            spellings=("H", "henry", "henries", "henrys"),
            noun="an inductance",
            example='"12 nH" or "4u7"',
            implied="pnµm",
            bottom=-12,
        ),
        "V": Unit(
            symbol="V",
            spellings=("V", "volt", "volts"),
            noun="a voltage",
            example='"50 mV" or "3V3"',
            implied="nµmk",
            point="V",
            top=3,
        ),
        "A": Unit(
            symbol="A",
            spellings=("A", "amp", "amps", "ampere", "amperes"),
            noun="a current",
            example='"0.25 mA" or "250u"',
            implied="pnµmk",
            point="A",
            top=3,
        ),
        # no implied milli: a frequency typed 20m is a slip of the shift key
        "Hz": Unit(
            symbol="Hz",
            spellings=("Hz", "hertz"),
            noun="a frequency",
            example='"120 kHz" or "30M"',
            implied="kMG",
            top=9,
        ),
        "s": Unit(
            symbol="s",
            spellings=("s", "sec", "second", "seconds"),
            noun="a time",
            example='"30 ns" or "1.5 s"',
            implied="pnµm",
        ),
        # no implied milli: a lone m is the metre itself
        "m": Unit(
            symbol="m",
            spellings=("m", "metre", "metres", "meter", "meters"),
            noun="a length",
            example='"1.6 mm" or "35 µm"',
            prefixes="fpnµmckMGT",
            implied="nµ",
            top=3,
        ),
        "": Unit(symbol="", spellings=(), noun="a ratio", example='"20 %" or 0.2', prefixes=""),
    }
)
"""Units by the SI name that declarations carry; the ratio's name is empty."""


def _typed(prefixes: str) -> Iterator[tuple[str, int]]:
    """Give every way to type each of these prefixes, with its power of ten."""
    for prefix in prefixes:
        for text in (prefix, *_ALSO_TYPED.get(prefix, ())):
            yield text, _POWERS[prefix]


def suffix_powers(kind: Unit) -> dict[str, int]:
    """Map what may stand behind a number to its power of ten."""
    if not kind.symbol:
        return {"": 0, "%": -2}
    spelled = {prefix + name: power for name in kind.spellings for prefix, power in _typed(kind.prefixes)}
    return dict(_typed(kind.implied)) | spelled | dict.fromkeys((*kind.spellings, ""), 0)


def point_powers(kind: Unit) -> dict[str, int]:
    """Map each letter that may stand for the decimal point to its power of ten."""
    letters = {text: power for text, power in _typed(kind.implied) if len(text) == 1}
    return letters | ({kind.point: 0} if kind.point else {})
