"""From a catalogue file to its entries; what is broken is one message, and stops nothing else."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from attrs import frozen

from models.catalogue.entry import Construction, Entry
from models.codec import MISSING, Place, Text, describe
from models.declare import Kinds
from models.errors import CaseError, Problem
from models.parts.registry import part_kinds
from models.toml_text import parse_tables, read_text

FORMAT = 1
_ID = re.compile(r"[a-z0-9][a-z0-9.-]{0,79}")
_NAMES = {"id": "own", "title": Text(limit=80), "family": Text(limit=40), "caution": Text(limit=2000)}


def subject_kinds() -> Mapping[str, type]:
    """Return every kind of subject that an entry can have."""
    return {**part_kinds(), Construction.kind: Construction}


@frozen(kw_only=True)
class CatalogueFile:
    """What one file gave: its entries, and a message where something in it is broken."""

    entries: tuple[Entry, ...] = ()
    message: str | None = None


def read_catalogue_file(path: Path, *, own: bool = False) -> CatalogueFile:
    """Read a catalogue file; broken entries are left out and named in the message."""
    try:
        table = parse_tables(read_text(path, "catalogue file"), path.name)
    except CaseError as error:
        return CatalogueFile(message=_message(path, list(error.problems)))
    return _entries(path, table, own)


def _entries(path: Path, table: dict[str, Any], own: bool) -> CatalogueFile:
    version = table.get("isthmus_catalogue")
    if version != FORMAT or isinstance(version, bool):
        found = "isthmus_catalogue missing" if version is None else f"isthmus_catalogue = {describe(version)}"
        return _refused(path, found, f"isthmus_catalogue = {FORMAT}, the format version")
    place = Place((), [])
    shared: dict[str, Any] = {name: table[name] for name in ("family", "caution") if name in table}
    for name in table.keys() - {"isthmus_catalogue", "family", "caution", "entry"}:
        place.at(name).reject("an unknown key", "isthmus_catalogue, family, caution, entry")
    listed = table.get("entry", [])
    if not isinstance(listed, list):
        place.at("entry").reject(describe(listed), "entries, each under [[entry]]")
        listed = []
    read = [_entry(found, place.at("entry").at(number), shared, own) for number, found in enumerate(listed)]
    kept = tuple(entry for entry in read if entry is not None)
    return CatalogueFile(entries=kept, message=_message(path, [problem for _, problem in place.problems]))


def _entry(found: object, place: Place, shared: Mapping[str, Any], own: bool) -> Entry | None:
    if not isinstance(found, dict):
        place.reject(describe(found), "a table")
        return None
    table = {**shared, **found}
    before = len(place.problems)
    names = {name: _name(name, table[name], place.at(name)) for name in _NAMES if name in table}
    for name in ("id", "title"):
        if name not in table:
            place.at(name).reject("nothing", f"the {name} of the entry")
    subject = Kinds(registry=subject_kinds).read({k: v for k, v in table.items() if k not in _NAMES}, place)
    if len(place.problems) > before or subject is MISSING:
        return None
    return Entry(subject=subject, own=own, **{"family": subject.kind, **names})


def _name(name: str, found: object, place: Place) -> Any:
    codec = _NAMES[name]
    if isinstance(codec, Text):
        return codec.read(found, place)
    if not isinstance(found, str) or not _ID.fullmatch(found):
        return place.reject(describe(found), 'small letters, digits, "-" and ".", at most 80')
    return found


def _refused(path: Path, found: str, accepted: str) -> CatalogueFile:
    return CatalogueFile(message=_message(path, [Problem(where="file", found=found, accepted=accepted)]))


def _message(path: Path, problems: list[Problem]) -> str | None:
    if not problems:
        return None
    more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
    return f"catalogue file {path}: {problems[0].text()}{more}"
