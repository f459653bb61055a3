"""What the columns of a table mean, and how they make an impedance."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

import numpy as np
from attrs import frozen

from models.arrays import Real
from models.fitting.column_units import ACCEPTED, factor_of, is_decibel, is_unit
from models.fitting.data import fault

ROLES = "frequency with |Z|, |Z| and phase, R and X, R and C, C and D, R and L, Cp and Rp, Lp and Rp, or G and B"

_NAMES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "f": ("f", "fr", "freq", "freq.", "frequency", "frequenz", "fréquence", "frequencia", "frecuencia"),
        "z": ("z", "|z|", "zmag", "magz", "abs(z)", "absz", "mag(z)", "impedance", "magnitude", "|impedance|", "mag"),
        "phase": (
            *("phase", "phi", "φ", "ϕ", "theta", "θ", "ang", "angle", "arg", "arg(z)", "ang(z)", "phase(z)", "∠z"),
            *("phasez", "zphase", "thetaz", "zang", "argz", "phaseangle", "ztheta", "∠"),
        ),
        "r": (
            *("r", "rs", "esr", "re", "re(z)", "rez", "real", "real(z)", "z'", "zre", "zreal", "resistance"),
            *("seriesresistance", "realz", "rser"),
        ),
        "x": (
            *("x", "xs", "im", "im(z)", "imz", "imag", "imag(z)", "z''", 'z"', "zim", "zimag", "reactance", "imagz"),
            *("imaginary", "imag.", "zimaginary"),
        ),
        "c": ("c", "capacitance"),
        "cs": ("cs", "seriescapacitance", "cser"),
        "cp": ("cp", "parallelcapacitance", "cpar"),
        "l": ("l", "inductance"),
        "ls": ("ls", "seriesinductance", "lser"),
        "lp": ("lp", "parallelinductance", "lpar"),
        "d": ("d", "tand", "tanδ", "tandelta", "df", "dissipation", "dissipationfactor", "lossfactor", "losstangent"),
        "q": ("q", "quality", "qualityfactor", "qfactor"),
        "rp": ("rp", "parallelresistance", "rpar"),
        "g": ("g", "gp", "conductance"),
        "b": ("b", "bp", "susceptance"),
    }
)
_ROLE_OF = {name: role for role, names in _NAMES.items() for name in names}

_BASE: Mapping[str, str] = MappingProxyType(
    {"f": "Hz", "z": "ohm", "r": "ohm", "x": "ohm", "rp": "ohm", "g": "S", "b": "S"}
    | {"c": "F", "cs": "F", "cp": "F", "l": "H", "ls": "H", "lp": "H", "d": "ratio", "q": "ratio"}
)


@frozen(kw_only=True, eq=False)
class Column:
    """One column that is used, in SI units and radian."""

    role: str
    values: Real


def reads_frequency(line: str) -> bool:
    """Return whether one of the words in a line names a frequency."""
    cells = [*re.split(r"[,;\t]|\s{2,}", line), *line.split()]
    return any(_role(cell.strip(' "'))[0] == "f" for cell in cells)


def units_only(cells: Sequence[str]) -> bool:
    """Return whether cells are all units, as in a line under the names."""
    return all(is_unit(cell.strip("()[]")) for cell in cells)


def read_columns(names: Sequence[str], table: Real, source: str) -> tuple[list[Column], list[str]]:
    """Give every column its meaning and bring it to SI units.

    Parameters
    ----------
    names : header of each column
    table : (F, N) numbers
    source : name for messages

    Returns
    -------
    list of Column, list of sentences about columns that are not used

    Raises
    ------
    DataError
        For a unit that does not suit, a phase of unknown unit, two columns of one meaning, or no frequency.
    """
    columns: list[Column] = []
    unused = []
    for place, name in enumerate(names):
        role, unit = _role(name)
        if not role:
            unused.append(name or f"column {place + 1}")
            continue
        if any(column.role == role for column in columns):
            raise fault(source, None, f'two columns like "{name}"', "one column of each meaning")
        columns.append(Column(role=role, values=_in_si(role, unit, table[:, place], name, source)))
    if not any(column.role == "f" for column in columns):
        raise fault(source, None, f"the columns {', '.join(names)}"[:120], ROLES)
    return columns, [f"not used: {', '.join(unused)}"] if unused else []


def _role(name: str) -> tuple[str, str]:
    """Return what a column's name says: its role and its unit, each empty where it does not say."""
    text = name.strip()
    match = re.fullmatch(r"(.*?)\s*[(\[]([^()\[\]]*)[)\]]", text) or re.fullmatch(r"(.+?)\s*[/_,]\s*([^/_,\s]+)", text)
    if match and match[1].strip() and (role := _ROLE_OF.get(_plain(match[1]), "")):
        return role, match[2].strip()
    match = re.fullmatch(r"(.+)\s+(\S+)", text)
    if match and (role := _ROLE_OF.get(_plain(match[1]), "")):
        return role, match[2]
    return _ROLE_OF.get(_plain(text), ""), ""


def _plain(name: str) -> str:
    return re.sub(r"[\s_\-]", "", name.lower())


def _in_si(role: str, unit: str, values: Real, name: str, source: str) -> Real:
    if role == "phase":
        return _phase(unit, values, name, source)
    if role == "z" and is_decibel(unit):
        return np.asarray(10 ** (values / 20), np.float64)
    factor = factor_of(unit, _BASE[role]) if unit else 1.0
    if factor is None:
        raise fault(source, None, f'the unit "{unit}" in the column "{name}"', ACCEPTED[_BASE[role]])
    return values * factor


def _phase(unit: str, values: Real, name: str, source: str) -> Real:
    factor = factor_of(unit, "angle")
    if unit and factor is None:
        raise fault(source, None, f'the unit "{unit}" in the column "{name}"', ACCEPTED["angle"])
    if not unit and np.abs(values[np.isfinite(values)]).max(initial=0.0) <= 3.2:
        accepted = 'the unit in its name: "Phase (deg)" or "Phase (rad)"'
        raise fault(source, None, f'the column "{name}" without unit', accepted)
    return values * (factor or np.pi / 180)
