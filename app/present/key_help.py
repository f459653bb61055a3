"""Every table and key that a case file may have, from the declarations themselves: the product's own help."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import frozen

from models.case import document
from models.case.requirement import DEMANDS, Demand, Requirement
from models.codec import ListOf, Quantity, Text
from models.declare import Key, keys_of
from models.parts.bead import Cell
from models.parts.registry import part_kinds
from models.quantity import format_quantity
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
    return (*_case_tables(), *_kinds("part", part_kinds()), *_kinds("source", source_kinds()), _requirement_kinds())


def matching(name: str | None) -> tuple[TableHelp, ...]:
    """Return the tables whose name has the word in it, or that have such a key; all without a word."""
    if name is None:
        return tables()
    word = name.lower()
    return tuple(
        table for table in tables() if word in table.name.lower() or any(word == each.key for each in table.keys)
    )


def _case_tables() -> Iterator[TableHelp]:
    named: tuple[tuple[str, type], ...] = (
        ("the file itself", document.Case),
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
        ("cells of a bead", Cell),
    )
    return (_table(name, of) for name, of in named)


def _kinds(what: str, kinds: Mapping[str, type]) -> Iterator[TableHelp]:
    return (_table(f"{what} {kind}", of) for kind, of in kinds.items())


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


def _table(name: str, of: type) -> TableHelp:
    meaning = (of.__doc__ or "").strip().split("\n\n")[0].replace("\n", " ")
    return TableHelp(name=name, meaning=" ".join(meaning.split()), keys=tuple(map(_key, keys_of(of).values())))


def _key(key: Key) -> KeyHelp:
    return KeyHelp(key=key.key, accepted=_accepted(key), default=_default(key), meaning=key.doc)


def _accepted(key: Key) -> str:
    if isinstance(key.codec, Quantity):
        return f"{UNITS[key.codec.unit].noun}, {UNITS[key.codec.unit].example}"
    if isinstance(key.codec, Text):
        return " or ".join(f'"{choice}"' for choice in key.codec.choices) or "a text"
    return "a list" if isinstance(key.codec, ListOf) else ""


def _default(key: Key) -> str:
    if key.required:
        return "required"
    default = key.default()
    if default is None or default == ():
        return "none"
    if isinstance(key.codec, Quantity):
        return format_quantity(default, key.codec.unit)
    return str(default) if isinstance(default, str | int) else "its defaults"
