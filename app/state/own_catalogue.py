"""Parts that a person keeps: written into a catalogue file of their own."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from attrs import evolve

from app.state.files import write_whole
from models.case.write import keys_text
from models.catalogue.codec import PartKinds
from models.catalogue.entry import from_catalogue
from models.catalogue.folder import own_folder
from models.catalogue.read import FORMAT
from models.catalogue.shelf import catalogue
from models.errors import CaseError, DataError
from models.parts.measured import Measured
from models.parts.part import Part
from models.toml_text import parse_tables, read_text

FILE = "my-parts.toml"


def keep_part(part: Part, title: str, note: str, folder: Path | None = None) -> str:
    """Add a part to the person's own catalogue and return the id it got.

    Raises
    ------
    DataError
        where the file there cannot be added to, or the part needs a file beside it
    """
    if isinstance(part, Measured):
        raise DataError("found a part that needs its measurement file; accepted: the part fitted to it")
    folder = folder or own_folder()
    path = folder / FILE
    id = _free_id(title, folder)
    owner: Any = from_catalogue(part, None)
    plain = PartKinds().write(evolve(owner, rating=evolve(owner.rating, note=note or None)))
    entry = keys_text({"id": id, "title": title[:80], "family": part.kind, **plain})
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(path, f"{_before(path)}\n[[entry]]\n{entry}")
    except OSError as error:
        raise DataError(f"{path}: not written: {error.strerror}") from None
    return id


def _before(path: Path) -> str:
    """Return what stands in the file, checked so that an entry can follow it."""
    if not path.exists():
        return f"isthmus_catalogue = {FORMAT}\n"
    try:
        text = read_text(path, "catalogue file")
        version = parse_tables(text, path.name).get("isthmus_catalogue")
    except CaseError as error:
        raise DataError(f"{path}: {error.problems[0].text()}") from None
    if version != FORMAT:
        raise DataError(f"{path}: found no catalogue file; accepted: isthmus_catalogue = {FORMAT}")
    return text if text.endswith("\n") else text + "\n"


def _free_id(title: str, folder: Path) -> str:
    taken = catalogue(folder).entries
    start = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:60] or "part"
    number, id = 1, start
    while id in taken:
        number += 1
        id = f"{start}-{number}"
    return id
