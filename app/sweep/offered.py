"""What can be varied in a case, what can be read of it, and how far a value is varied at first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from attrs import frozen

from app.sweep.address import Address, find
from app.sweep.columns import Columns
from app.sweep.faults import SweepError
from models.case.document import Case
from models.codec import Quantity
from models.declare import get_path, keys_of
from models.quantity import format_quantity

_SPAN = 10.0
_PEAK, _TOUCH = "{}: peak_v", {"worst_unweighted": "worst", "worst_weighted": "worst, weighted"}


@frozen(kw_only=True)
class Result:
    """A number that a map shows: its name, its unit, the group it is computed in, and its columns.

    Two columns are the parts of a complex number, whose magnitude is shown.
    """

    label: str
    unit: str
    group: str
    columns: tuple[str, ...]


def values(case: Case, candidate: int) -> tuple[Address, ...]:
    """Return the quantities of a case that stand off their default, without those of the other candidates."""
    found = (find(case, text) for text in _texts(case, ""))
    return tuple(each for each in found if each.path[0] != "candidates" or each.path[1] == candidate)


def _texts(owner: Any, before: str) -> Iterator[str]:
    for name, key in keys_of(type(owner)).items():
        value = get_path(owner, key.path)
        if isinstance(key.codec, Quantity):
            if isinstance(value, float | int) and (key.required or value != key.default()):
                yield f"{before}{name}"
        elif before or name != "sweep":
            several = value if isinstance(value, tuple) else (value,)
            for number, each in enumerate(several):
                if hasattr(type(each), "__attrs_attrs__"):
                    yield from _texts(
                        each, f"{before}{name}[{number}]." if isinstance(value, tuple) else f"{before}{name}."
                    )


def named(case: Case, address: Address) -> str:
    """Return an address in words: whose value it is, and which."""
    owners = [get_path(case, address.path[:end]) for end in range(1, len(address.path))]
    names = [name for each in owners if (name := getattr(each, "name", None))]
    kinds = [kind for each in owners[-1:] if (kind := getattr(each, "kind", None)) and not getattr(each, "name", None)]
    what = address.text.rpartition(".")[2].replace("_", " ")
    return " · ".join([*(names or [str(address.path[0])][: not kinds]), *kinds, what])


def usual_span(case: Case, address: Address) -> tuple[str, str, bool]:
    """Return the ends between which a value is varied at first, as they are typed, and whether over a logarithm."""
    value = float(get_path(case, address.path))
    if value <= 0.0:
        return "0", "1", False
    if address.path[0] == "mains":
        # mains differ by a factor of two all over the world
        return format_quantity(value / 2.0, address.unit or ""), format_quantity(1.2 * value, address.unit or ""), False
    low, high = value / _SPAN, value * _SPAN
    if not address.unit and value <= 1.0:
        low, high = value / 2.0, min(2.0 * value, 1.0)
    unit = address.unit or ""
    return format_quantity(low, unit, digits=3), format_quantity(high, unit, digits=3), bool(address.unit)


def results(case: Case, at_hz: float) -> tuple[Result, ...]:
    """Return the numbers that a map of this case can show."""
    at = format_quantity(at_hz, "Hz")
    parts = tuple(f"in_circuit_{part}_ohm at {at}" for part in ("re", "im"))
    found = [Result(label=f"Impedance in circuit at {at}", unit="Ω", group="impedance", columns=parts)]
    found += [
        Result(label=f"Peak of {each.name}", unit="V", group="common-mode", columns=(_PEAK.format(each.name),))
        for each in case.sources
    ]
    if case.mains is not None:
        found += [
            Result(label=f"Touch current, {words}", unit="A", group="touch-current", columns=(f"touch_{name}_a_rms",))
            for name, words in _TOUCH.items()
        ]
    for number, each in enumerate(case.requirements):
        if each.kind == "blocks-dc":
            continue
        column = f"requirement[{number}] {each.kind}: margin_db"
        label = f"Margin, {each.kind.replace('-', ' ')}"
        found.append(Result(label=label, unit="dB", group="verdicts", columns=(column,)))
    return tuple(found)


def columns_of(result: Result, at_hz: float) -> Columns:
    """Return what a sweep has to compute for a result."""
    return Columns(groups=(result.group,), at_hz=(at_hz,) if result.group == "impedance" else ())


def with_values(case: Case, settings: tuple[tuple[Address, str], ...]) -> Case:
    """Return the case with values put in by what was typed.

    Raises
    ------
    SweepError, QuantityError
        where a value cannot stand there
    """
    for address, text in settings:
        if not text.strip():
            raise SweepError(address.text, "no value", "a point of the map, or a value that is typed")
        case = address.put(case, address.read(text))
    return case
