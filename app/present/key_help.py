"""Every table and key that a case file may have, from the declarations themselves: the product's own help."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

import attrs
from attrs import evolve, frozen

from models.case import document
from models.case.document import FarEnd
from models.case.read import FORMAT
from models.case.requirement import DEMANDS, Demand, Requirement
from models.catalogue.codec import CATALOGUE
from models.codec import Between, Count, ListOf, Quantity, Text
from models.declare import Key, Table, keys_of
from models.parts.bead import Cell
from models.parts.capacitor import SlowBranch
from models.parts.measured import Measured
from models.parts.registry import part_kinds
from models.quantity import format_quantity
from models.sources.record import TableFile
from models.sources.registry import source_kinds
from models.units import UNITS


@frozen(kw_only=True)
class KeyHelp:
    """One key: what a file may write, what a missing key stands for, and what it means."""

    key: str
    accepted: str
    default: str
    meaning: str


@frozen(kw_only=True)
class TableHelp:
    """One table or kind with its keys."""

    name: str
    meaning: str
    keys: tuple[KeyHelp, ...]


def tables() -> tuple[TableHelp, ...]:
    """Return every table of a case file, then every kind of part and source."""
    measured = table_of(f"part {Measured.kind}", Measured)
    parts = (*_kinds("part", part_kinds()), measured, _CATALOGUE_PART)
    return (*_case_tables(), *parts, *_kinds("source", source_kinds()), _requirement_kinds())


def matching(name: str | None) -> tuple[TableHelp, ...]:
    """Return the tables whose name has the word in it, or that have such a key; all without a word."""
    if name is None:
        return tables()
    word = name.lower()
    return tuple(
        table for table in tables() if word in table.name.lower() or any(word == each.key for each in table.keys)
    )


_WORDS: Mapping[type, str] = MappingProxyType(
    {Between: "two regions", TableFile: "a file", Table: "a table", ListOf: "a list"}
)
_VERSION = KeyHelp(key="isthmus", accepted=str(FORMAT), default="required", meaning="version of the format")
_CATALOGUE_PART = TableHelp(
    name=f"part {CATALOGUE}",
    meaning="A part of the catalogue; any key of its kind stands beside and takes the place of the entry's.",
    keys=(
        KeyHelp(key="part", accepted="a text", default="required", meaning="id of the entry; isthmus parts lists them"),
        KeyHelp(key="without", accepted="a list", default="none", meaning="keys of the entry that it does not have"),
    ),
)


def _case_tables() -> Iterator[TableHelp]:
    yield evolve(table_of("the file itself", document.Case), keys=(_VERSION, *table_of("", document.Case).keys))
    named: tuple[tuple[str, type], ...] = (
        ("[pair]", document.Pair),
        ("[surroundings]", document.Surroundings),
        ("[sweep]", document.Sweep),
        ("[[transformer]]", document.Transformer),
        ("[[coupling]]", document.Coupling),
        ("[[cable]]", document.Cable),
        ("[[candidate]]", document.Candidate),
        ("[[candidate.branch]]", document.Branch),
        ("[mains]", document.Mains),
        ("[[requirement]]", Requirement),
        ("cells of a bead or a choke", Cell),
        ("branches of a capacitor", SlowBranch),
    )
    yield from (table_of(name, of) for name, of in named)


def _kinds(what: str, kinds: Mapping[str, type]) -> Iterator[TableHelp]:
    return (table_of(f"{what} {kind}", of) for kind, of in kinds.items())


def _requirement_kinds() -> TableHelp:
    keys = tuple(
        KeyHelp(
            key=kind,
            accepted=", ".join(_asked(each)),
            default="",
            meaning=each.question.replace("{}", "the limit"),
        )
        for kind, each in DEMANDS.items()
    )
    return TableHelp(name="kinds of requirement", meaning="What each kind asks for.", keys=keys)


def _asked(demand: Demand) -> Iterator[str]:
    if demand.unit is not None:
        yield f"limit: {UNITS[demand.unit].noun}"
    if demand.band:
        yield "band: two frequencies"
    if demand.line:
        yield "limit_line: its name"


def table_of(name: str, of: type) -> TableHelp:
    """Return the keys that a declared class has."""
    meaning = (of.__doc__ or "").strip().split("\n\n")[0].replace("\n", " ")
    return TableHelp(name=name, meaning=" ".join(meaning.split()), keys=tuple(map(_key, keys_of(of).values())))


def _key(key: Key) -> KeyHelp:
    return KeyHelp(key=key.key, accepted=_accepted(key), default=_default(key), meaning=key.doc)


def _accepted(key: Key) -> str:
    match key.codec:
        case Quantity(unit=unit):
            return _quantity(key) or f"{UNITS[unit].noun}, {UNITS[unit].example}"
        case Text(choices=choices):
            return _either(choices) or "a text"
        case Count(low=low, high=high):
            return f"a whole number, {low} to {high}"
        case FarEnd(words=words):
            return f"{_either(words)} or {UNITS['ohm'].noun}"
    return _WORDS[type(key.codec)]


def _either(words: Sequence[str]) -> str:
    return " or ".join(f'"{word}"' for word in words)


def _quantity(key: Key) -> str:
    """Return what a value without a unit of its own is, where it is no share of anything; empty for any other."""
    if key.attribute is attrs.fields_dict(Requirement)["limit"]:
        return "a value in the unit of its kind"
    _, most = key.attribute.metadata["usual"] or (None, None if key.required else key.default())
    return "a number" if key.unit == "" and most is not None and most > 1.0 else ""


def _default(key: Key) -> str:
    if key.required:
        return "required"
    default = key.default()
    if default is None or default == ():
        return "none"
    if isinstance(key.codec, Quantity):
        return format_quantity(default, key.codec.unit)
    return str(default) if isinstance(default, str | int) else "its defaults"
