"""The values of an object as fields of a form: walked from their declarations, so that a new key needs no line here."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import attrs
from attrs import frozen

from app.present.specs import FieldSpec
from app.state.typed import ARROW, IMPEDANCE, NONE
from models.case.check import able_to_hang
from models.case.document import Case, FarEnd
from models.case.requirement import Requirement
from models.codec import Between, Count, KeyPath, ListOf, Quantity, Text
from models.declare import Key, Table, get_path, keys_of
from models.eseries import standard_values
from models.limits import limits
from models.parts.measured import Measured
from models.quantity import format_quantity
from models.sources.record import TableFile
from models.sources.switch_node import SwitchNode

_LABELS = {
    "esr": "ESR",
    "esl": "ESL",
    "rdc": "DC resistance",
    "dissipation_factor": "Loss, tan δ",
    "driven_fraction": "Driven share",
    "withstand": "Withstand voltage",
    "bead_bias": "Bias of beads",
}
_ALWAYS = (
    "driven_fraction",
    "esr",
    "esl",
    "rdc",
    "resistance",
    "inductance",
    "capacitance",
    "tolerance",
    "height",
    "between",
)
"""Keys that are shown even where they stand at their default: what a practitioner looks for first."""
TABLES = "Tables (*.csv *.tsv *.txt *.dat);;All files (*)"
MEASUREMENTS = "Measurements (*.s1p *.s2p *.csv *.tsv *.txt);;All files (*)"
_SERIES = {"F": 6, "ohm": 12, "H": 12}
_BEYOND = 10.0
"""How far a slider reaches beyond a value that lies outside the usual range."""


@frozen(kw_only=True)
class Walk:
    """How the values of a case are walked: which case, and whether those at their default are shown too."""

    case: Case
    everything: bool = False

    def fields(self, path: KeyPath, only: tuple[str, ...] | None = None) -> Iterator[FieldSpec]:
        """Yield the fields of the object at a path, those of named keys only where some are named."""
        owner: Any = get_path(self.case, path) if path else self.case
        yield from self.fields_of(owner, path, only)

    def fields_of(self, owner: Any, path: KeyPath = (), only: tuple[str, ...] | None = None) -> Iterator[FieldSpec]:
        """Yield the fields of any object with declared values, as if it stood at a path."""
        for name, key in keys_of(type(owner)).items():
            if only is None or name in only:
                yield from self._of_key(owner, path, key)

    def hidden(self, path: KeyPath) -> bool:
        """Return whether some values of the object at a path are not shown."""
        owner = get_path(self.case, path)
        return any(self._hides(owner, key) for key in keys_of(type(owner)).values())

    def _hides(self, owner: Any, key: Key) -> bool:
        if self.everything or key.required or key.key in _ALWAYS:
            return False
        return bool(get_path(owner, key.path) == key.default())

    def _of_key(self, owner: Any, path: KeyPath, key: Key) -> Iterator[FieldSpec]:
        if self._hides(owner, key):
            return
        place: KeyPath = (*path, *key.path)
        if isinstance(key.codec, Quantity):
            yield quantity_field(owner, place, key)
        elif isinstance(key.codec, FarEnd):
            yield from _far_end_fields(place, key, get_path(owner, key.path))
        elif isinstance(key.codec, ListOf) and isinstance(key.codec.item, Table):
            for number in range(len(get_path(owner, key.path) or ())):
                label = key.key.removesuffix("es" if key.key.endswith("ches") else "s")
                for each in Walk(case=self.case, everything=True).fields((*place, number)):
                    yield attrs.evolve(each, label=f"{label.capitalize()} {number + 1}, {each.label.lower()}")
        else:
            field = self._plain(owner, place, key)
            if field is not None:
                yield field

    def _plain(self, owner: Any, place: KeyPath, key: Key) -> FieldSpec | None:
        value = get_path(owner, key.path)
        if isinstance(key.codec, TableFile):
            return _file_field(place, key, value.file, value.folder, TABLES)
        if isinstance(owner, Measured) and key.key == "file":
            return _file_field(place, key, owner.file, owner.folder, MEASUREMENTS)
        if isinstance(key.codec, Text):
            return _text_field(place, key, value, self._references(owner, key.key))
        if isinstance(key.codec, Count):
            return FieldSpec(path=place, label=_label(key.key), text=str(value), help=key.doc)
        if isinstance(key.codec, Between):
            nodes = (*self.case.regions, self.case.surroundings.name)
            unset = NONE if _acts_elsewhere(owner) else ARROW.join(self.case.pair.ends)
            joined = tuple(ARROW.join((one, other)) for one in nodes for other in nodes if one != other)
            return FieldSpec(
                path=place,
                label="From, to",
                text=ARROW.join(value) if value else unset,
                choices=(NONE, *joined) if unset == NONE else joined,
                help=key.doc,
            )
        return None

    def _references(self, owner: Any, key: str) -> tuple[str, ...]:
        """Return the names that a text can refer to; none for a text of its own."""
        if isinstance(owner, Requirement) and key == "limit_line":
            kind = owner.kind.removesuffix("-emission")
            return tuple(dict.fromkeys((*_present(owner.limit_line), *limits().names(kind))))
        if isinstance(owner, SwitchNode) and key == "also_through":
            return able_to_hang(self.case, owner)
        if key == "through":
            return tuple(each.name for each in self.case.transformers)
        return self.case.regions if key in ("region", "feeds", "touched") else ()


def _acts_elsewhere(owner: Any) -> bool:
    """Return whether a source without ends acts through a transformer instead."""
    return getattr(owner, "through", None) is not None


def _present(text: str | None) -> tuple[str, ...]:
    return (text,) if text else ()


def _far_end_fields(place: KeyPath, key: Key, value: str | float) -> Iterator[FieldSpec]:
    """Yield what the far end of a cable is, and its impedance where it is one."""
    words = (*FarEnd.words, IMPEDANCE)
    choices = tuple(each.upper() if each == "lisn" else each for each in words)
    chosen = choices[words.index(value if isinstance(value, str) else IMPEDANCE)]
    yield FieldSpec(path=place, label="Far end", text=chosen, choices=choices, help=f"{key.doc}; a LISN ends mains")
    if not isinstance(value, str):
        yield FieldSpec(
            path=place,
            label="Load",
            text=format_quantity(value, "ohm"),
            unit="ohm",
            value=value,
            low=1.0,
            high=10e3,
            steps=standard_values(_SERIES["ohm"], 1.0, 10e3),
            help="impedance from the far end to the surroundings",
        )


def _file_field(place: KeyPath, key: Key, name: str, folder: str, files: str) -> FieldSpec:
    return FieldSpec(path=place, label=_label(key.key), text=name, help=key.doc, files=files, folder=folder)


def _text_field(place: KeyPath, key: Key, value: str | None, references: tuple[str, ...]) -> FieldSpec:
    assert isinstance(key.codec, Text)
    choices = key.codec.choices or references
    if choices and not key.required and key.default() is None:
        choices = (NONE, *choices)
    return FieldSpec(
        path=place,
        label=_label(key.key),
        text=value or (NONE if choices else ""),
        choices=choices,
        help=key.doc,
        optional=not key.required,
    )


def quantity_field(owner: Any, place: KeyPath, key: Key) -> FieldSpec:
    """Return the field of a physical value, with a slider over its usual range where it has one."""
    value = get_path(owner, key.path)
    unit = key.unit or ""
    if isinstance(owner, Requirement):
        unit = owner.demand.unit or ""
    low, high = _slider(value, key.attribute.metadata.get("usual"))
    return FieldSpec(
        path=place,
        label=_label(key.key),
        text="" if value is None else format_quantity(value, unit),
        unit=unit,
        value=value,
        low=low,
        high=high,
        zero=key.attribute.default == 0.0,
        steps=_steps(unit, low, high) if low and high and unit in _SERIES else (),
        help=key.doc,
        optional=not key.required,
    )


@lru_cache(maxsize=512)
def _steps(unit: str, low: float, high: float) -> tuple[float, ...]:
    """Return the standard values of a slider; remembered, since a drag asks for the same in every frame."""
    return standard_values(_SERIES[unit], low, high)


def _slider(value: float | None, usual: tuple[float, float] | None) -> tuple[float | None, float | None]:
    """Return the ends of the slider: the usual range, widened where the value lies outside it; none without a range."""
    if usual is None or value is None:
        return None, None
    low = usual[0] if usual[0] > 0.0 else usual[1] / 1e3
    if 0.0 < value < low:
        low = value / _BEYOND
    return low, max(usual[1], value * _BEYOND if value > usual[1] else 0.0)


def _label(key: str) -> str:
    return _LABELS.get(key, key.replace("_", " ").capitalize())
