"""Parts as files have them: of a kind, or taken from the catalogue with some keys of their own.

A part from the catalogue is an ordinary part of its kind that remembers the id it came from (`Rating.catalogue`), so
that everything that works on parts works on it; what differs from the entry is written beside the id. ``without`` lists
the keys of the entry that the part does not have.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from attrs import frozen

from models.codec import MISSING, Place, describe
from models.declare import Kinds, get_path, keys_of, read_object, write_object
from models.errors import DataError, QuantityError
from models.parts.measured import Measured
from models.parts.measured_file import opened
from models.parts.part import Part
from models.parts.registry import part_kinds

if TYPE_CHECKING:
    from models.catalogue.entry import Entry

CATALOGUE = "catalogue"
_MEASURED = Measured.kind
_OWN_KEYS = ("kind", "part", "without")


@frozen(kw_only=True)
class PartKinds:
    """Reads and writes one part; to be used wherever a case holds parts."""

    def read(self, found: object, place: Place) -> Any:
        """Read a part of any kind, those of the catalogue included."""
        if isinstance(found, dict) and found.get("kind") == CATALOGUE:
            return _read_reference(found, place)
        if isinstance(found, dict) and found.get("kind") == _MEASURED:
            return _read_measured(found, place)
        kinds = part_kinds()
        if isinstance(found, dict) and found.get("kind") not in tuple(kinds):  # a list is no key to look up
            shown = describe(found["kind"]) if "kind" in found else "nothing"
            return place.at("kind").reject(shown, ", ".join((*kinds, _MEASURED, CATALOGUE)))
        return Kinds(registry=part_kinds).read(found, place)

    def write(self, value: Any) -> dict[str, Any]:
        """Write the part by its id and what differs, or in full where it is of no entry that is still there."""
        entry = _entry_of(value)
        if entry is None:
            return Kinds(registry=part_kinds).write(value)
        return {"kind": CATALOGUE, "part": entry.id, **_overrides(entry.subject, value)}


def is_reference(part: Part) -> bool:
    """Return whether a part came from the catalogue."""
    return part.rating.catalogue is not None


def _entry_of(part: Part) -> Entry | None:
    if part.rating.catalogue is None:
        return None
    from models.catalogue.shelf import catalogue  # read only where a case refers to the catalogue

    entry = catalogue().entries.get(part.rating.catalogue)
    return entry if entry is not None and entry.kind == part.kind else None


def _read_reference(found: dict[str, Any], place: Place) -> Any:
    entry = _find(found.get("part", MISSING), place.at("part"))
    if entry is MISSING:
        return MISSING
    from models.catalogue.entry import from_catalogue

    table = write_object(entry.subject)
    for name in _without(found.get("without", []), table, place.at("without")):
        table.pop(name, None)
    table |= {name: value for name, value in found.items() if name not in _OWN_KEYS}
    part = read_object(type(entry.subject), table, place)
    return part if part is MISSING else from_catalogue(part, entry.id)


def _read_measured(found: dict[str, Any], place: Place) -> Any:
    """Read a measured part and open its file, unless files are to stay closed."""
    part = read_object(Measured, {name: value for name, value in found.items() if name != "kind"}, place)
    if part is MISSING or place.folder is None:
        return part
    try:
        return opened(part, place.folder)
    except DataError as error:
        return place.at("file").reject(*error.parts())
    except QuantityError as error:
        return place.reject(error.found, error.accepted)


def _find(id: object, place: Place) -> Any:
    from models.catalogue.entry import Construction
    from models.catalogue.shelf import catalogue

    shelf = catalogue()
    entry = shelf.entries.get(id) if isinstance(id, str) else None
    if entry is None:
        found = "nothing" if id is MISSING else describe(id)
        near = ", ".join(shelf.near(id)) if isinstance(id, str) else ", ".join(tuple(shelf.entries)[:4])
        broken = "".join(f"; {message}" for message in shelf.messages)
        return place.reject(found, f"an id of the catalogue, such as {near}; `isthmus parts` lists them all{broken}")
    if isinstance(entry.subject, Construction):
        return place.reject(
            f'"{entry.id}", a transformer', "a part; a transformer's values belong under [[transformer]]"
        )
    return entry


def _without(found: object, table: dict[str, Any], place: Place) -> list[str]:
    if isinstance(found, list) and all(isinstance(name, str) and name in table for name in found):
        return found
    place.reject(describe(found), f"a list of keys that the entry has: {', '.join(table)}")
    return []


def _overrides(base: Any, part: Any) -> dict[str, Any]:
    """Return what a file has to say beside the id: keys that differ, and keys that the part does not have."""
    plain, entry = write_object(part), write_object(base)
    keys = keys_of(type(part))
    changed = {name: text for name, text in plain.items() if entry.get(name, MISSING) != text}
    missing = [name for name in entry if name not in plain]
    reset = {name: get_path(part, keys[name].path) for name in missing}
    changed |= {name: keys[name].codec.write(value) for name, value in reset.items() if value is not None}
    without = [name for name, value in reset.items() if value is None]
    return {**changed, **({"without": without} if without else {})}
