"""From what a person typed into a field to the value that the document holds."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import attrs

from models.case.document import FarEnd
from models.case.requirement import Requirement
from models.codec import Between, Codec, Count, KeyPath, ListOf, Place, Quantity
from models.declare import get_path
from models.errors import QuantityError
from models.sources.record import TableFile

ARROW = " → "
NONE = "none"
IMPEDANCE = "impedance"
"""Stands for an impedance at the far end of a cable until a person types one."""
_USUAL_LOAD_OHM = 150.0


def value_typed(case: Any, path: KeyPath, text: str) -> Any:
    """Return the value that a text means at a path of the document, or of any object with declared values.

    Raises
    ------
    QuantityError
        saying what was found and what is accepted
    """
    if isinstance(path[-1], int):
        return _item_typed(case, path, text)
    owner = get_path(case, path[:-1]) if len(path) > 1 else case
    attribute = attrs.fields_dict(type(owner))[path[-1]]
    if attribute.default is None and text.strip() in ("", NONE):
        return None
    codec = _codec(owner, attribute)
    if isinstance(codec, FarEnd) and text.strip() == IMPEDANCE:
        return _USUAL_LOAD_OHM
    if isinstance(codec, TableFile):
        return _read(codec, path, text, folder=Path(get_path(case, path).folder))
    return _read(codec, path, text)


def _item_typed(case: Any, path: KeyPath, text: str) -> Any:
    """Return what a text means as an entry of a list, such as the name of a further region."""
    owner = get_path(case, path[:-2])
    codec = attrs.fields_dict(type(owner))[str(path[-2])].metadata["codec"]
    assert isinstance(codec, ListOf)
    return _read(codec.item, path, text)


def _read(codec: Codec, path: KeyPath, text: str, folder: Path | None = None) -> Any:
    problems: list[Any] = []
    value = codec.read(as_in_file(codec, text), Place(path, problems, folder))
    if problems:
        raise QuantityError(problems[0][1].found, problems[0][1].accepted)
    return value


def _codec(owner: Any, attribute: attrs.Attribute[Any]) -> Codec:
    if isinstance(owner, Requirement) and attribute.name == "limit":
        return Quantity(unit=owner.demand.unit or "")
    codec: Codec = attribute.metadata["codec"]
    return codec


def as_in_file(codec: Codec, text: str) -> object:
    """Return the text as a file would hold it."""
    if isinstance(codec, Between):
        return text.split(ARROW)
    if isinstance(codec, Count) and text.strip().isdecimal():
        return int(text)
    return text.strip()
