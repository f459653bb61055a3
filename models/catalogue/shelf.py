"""The whole catalogue: what ships, and what a person's own folder adds."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path
from types import MappingProxyType

from attrs import field, frozen

from models.assets import ASSETS
from models.catalogue.entry import Entry
from models.catalogue.folder import Stamp, own_folder, stamps
from models.catalogue.read import CatalogueFile, read_catalogue_file

SHIPPED = ASSETS / "catalogue"
_MOST_FILES = 500


@frozen(kw_only=True, eq=False)
class Catalogue:
    """Entries by id, in order, and a message for every file that is broken in part or whole."""

    entries: Mapping[str, Entry] = field(factory=dict)
    messages: tuple[str, ...] = ()

    @property
    def families(self) -> tuple[str, ...]:
        """What entries can be looked under, in the order of the catalogue."""
        return tuple(dict.fromkeys(entry.family for entry in self.entries.values()))

    def chosen(self, *, kind: str | None = None, contains: str | None = None) -> tuple[Entry, ...]:
        """Return the entries of a family or kind whose id, title or note has every one of the words.

        A value counts with and without its space, a Y-capacitor by that name.
        """
        words = (contains or "").lower().split()
        return tuple(
            entry
            for entry in self.entries.values()
            if kind in (None, entry.family, entry.kind) and all(word in _said_of(entry) for word in words)
        )

    def near(self, id: str) -> tuple[str, ...]:
        """Return the ids that come closest to one that is not there."""
        close = difflib.get_close_matches(id.lower(), self.entries, n=4, cutoff=0.5)
        if close:
            return tuple(close)
        return tuple(sorted(self.entries, key=lambda known: -_common(known, id))[:4])


def catalogue(folder: Path | None = None) -> Catalogue:
    """Return the catalogue with what the folder adds: the person's own one by default. Read once until files change."""
    own = own_folder() if folder is None else folder
    return _joined(stamps(own, _MOST_FILES))


@cache
def shipped() -> tuple[CatalogueFile, ...]:
    """Return the files that ship with the program."""
    return tuple(read_catalogue_file(path) for path in sorted(SHIPPED.glob("*.toml")))


@lru_cache(maxsize=4)
def _joined(found: tuple[Stamp, ...]) -> Catalogue:
    files = (*shipped(), *(read_catalogue_file(path, own=True) for path, _, _ in found))
    entries: dict[str, Entry] = {}
    messages = [each.message for each in files if each.message]
    for entry in (entry for each in files for entry in each.entries):
        if entry.id in entries:
            first = "your own catalogue" if entries[entry.id].own else "the shipped catalogue"
            messages.append(f'catalogue entry "{entry.id}" of your own takes the place of that of {first}')
        entries[entry.id] = entry
    return Catalogue(entries=MappingProxyType(entries), messages=tuple(messages))


def _said_of(entry: Entry) -> str:
    safety = entry.part.rating.safety_class or ""
    trade = f"{safety[:1]}-{entry.kind}" if safety else ""
    return f"{entry.id} {entry.title} {entry.title.replace(' ', '')} {trade} {entry.note}".lower()


def _common(one: str, other: str) -> int:
    """Return how many words two ids share."""
    return len(set(one.split("-")) & set(other.lower().split("-")))
