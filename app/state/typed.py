"""From what a person typed into a field to the value that the document holds."""

from __future__ import annotations

from typing import Any

import attrs

from models.case.document import Case
from models.case.requirement import Requirement
from models.declare import Between, Codec, Count, Place, Quantity, get_path
from models.errors import QuantityError

Path = tuple[str | int, ...]
ARROW = " → "
NONE = "none"


def value_typed(case: Case, path: Path, text: str) -> Any:
    """Return the value that a text means at a path of the document.

    Raises
    ------
    QuantityError
        saying what was found and what is accepted
    """
    owner = get_path(case, path[:-1]) if len(path) > 1 else case
    attribute = attrs.fields_dict(type(owner))[str(path[-1])]
    if attribute.default is None and text.strip() in ("", NONE):
        return None
    codec = _codec(owner, attribute)
    problems: list[Any] = []
    value = codec.read(_as_in_file(codec, text), Place(path, problems))
    if problems:
        raise QuantityError(problems[0][1].found, problems[0][1].accepted)
    return value


def _codec(owner: Any, attribute: attrs.Attribute[Any]) -> Codec:
    if isinstance(owner, Requirement) and attribute.name == "limit":
        return Quantity(unit=owner.demand.unit or "")
    codec: Codec = attribute.metadata["codec"]
    return codec


def _as_in_file(codec: Codec, text: str) -> object:
    """Return the text as a file would hold it."""
    if isinstance(codec, Between):
        return text.split(ARROW)
    if isinstance(codec, Count) and text.strip().isdecimal():
        return int(text)
    return text.strip()
