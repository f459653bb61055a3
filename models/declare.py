"""How a class of the case declares its values: once, with unit, meaning, default and limits.

The file reader, the file writer, the form in the window and the tests all walk these declarations, so a new key
is one line in one class. A field's key in the file is its name without the unit: ``esl_h`` is ``esl``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterator, Mapping
from functools import cache
from typing import Any, cast

import attrs
from attrs import Attribute, frozen

from models.codec import MISSING, Codec, KeyPath, Place, Quantity, describe
from models.errors import QuantityError

_SUFFIX = {"ohm": "_ohm", "F": "_f", "H": "_h", "V": "_v", "A": "_a", "Hz": "_hz", "s": "_s", "m": "_m", "": ""}


@frozen(kw_only=True)
class Table:
    """One object of a declared class."""

    of: type

    def read(self, found: object, place: Place) -> Any:
        """Read a table into an object of the class."""
        return read_object(self.of, found, place)

    def write(self, value: Any) -> dict[str, Any]:
        """Write the object's keys."""
        return write_object(value)


@frozen(kw_only=True)
class Kinds:
    """One object of a registry of kinds, told apart by the key ``kind``."""

    registry: Callable[[], Mapping[str, type]]

    def read(self, found: object, place: Place) -> Any:
        """Look the kind up and read the rest of the table."""
        if not isinstance(found, dict):
            return place.reject(describe(found), "a table with a kind")
        kinds = self.registry()
        kind = found.get("kind", MISSING)
        if kind is MISSING or not isinstance(kind, str) or kind not in kinds:
            shown = "nothing" if kind is MISSING else describe(kind)
            return place.at("kind").reject(shown, ", ".join(kinds))
        return read_object(kinds[kind], {key: value for key, value in found.items() if key != "kind"}, place)

    def write(self, value: Any) -> dict[str, Any]:
        """Write the kind first, then the object's keys."""
        return {"kind": value.kind, **write_object(value)}


def quantity(
    unit: str,
    doc: str,
    *,
    default: Any = attrs.NOTHING,
    positive: bool = False,
    high: float = math.inf,
    usual: tuple[float, float] | None = None,
) -> Any:
    """Declare a physical value: unit, meaning, default, limits, and the range that is usual (for sliders)."""
    codec = Quantity(unit=unit, positive=positive, high=high)

    def validate(_: Any, attribute: Attribute[Any], value: float | None) -> None:
        if value is not None:
            try:
                codec.check(value)
            except QuantityError as error:
                raise QuantityError(f"{attribute.name} = {error.found}", error.accepted) from None

    return attrs.field(
        default=default, validator=validate, metadata={"codec": codec, "unit": unit, "doc": doc, "usual": usual}
    )


def value(codec: Codec, doc: str, *, default: Any = attrs.NOTHING, factory: Any = None, key: str | None = None) -> Any:
    """Declare a value that is not a quantity, with the codec that reads and writes it, and its key if it differs."""
    metadata = {"codec": codec, "doc": doc} | ({} if key is None else {"key": key})
    return attrs.field(default=default if factory is None else attrs.Factory(factory), metadata=metadata)


def flat(of: type, *, default: Any = attrs.NOTHING) -> Any:
    """Declare a group of values whose keys stand in the same table as the owner's."""
    return attrs.field(default=default, metadata={"flat": of})


@frozen(kw_only=True)
class Key:
    """One key of a class as files know it."""

    key: str
    path: tuple[str, ...]
    """Attribute names from the owner to the value."""
    attribute: Attribute[Any]
    codec: Codec

    @property
    def unit(self) -> str | None:
        """SI unit, or None for what is not a quantity."""
        unit: str | None = self.attribute.metadata.get("unit")
        return unit

    @property
    def doc(self) -> str:
        """What the value means, in a few words."""
        return str(self.attribute.metadata["doc"])

    @property
    def required(self) -> bool:
        """Whether a file must have the key."""
        return self.attribute.default is attrs.NOTHING

    def default(self) -> Any:
        """Return the value that a missing key stands for."""
        default: Any = self.attribute.default
        return default.factory() if isinstance(default, attrs.Factory) else default  # type: ignore[arg-type]


def keys_of(of: type) -> Mapping[str, Key]:
    """Return every key that a class declares, those of its flat groups included, in the order of declaration."""
    return _keys_of(cast(Hashable, of))


@cache
def _keys_of(of: Any) -> Mapping[str, Key]:
    return {key.key: key for key in _walk(of, ())}


def _walk(of: type, prefix: tuple[str, ...]) -> Iterator[Key]:
    for attribute in attrs.fields(of):
        if "flat" in attribute.metadata:
            yield from _walk(attribute.metadata["flat"], (*prefix, attribute.name))
        elif "codec" in attribute.metadata:
            unit = attribute.metadata.get("unit", "")
            yield Key(
                key=attribute.metadata.get("key", attribute.name.removesuffix(_SUFFIX[unit])),
                path=(*prefix, attribute.name),
                attribute=attribute,
                codec=attribute.metadata["codec"],
            )


def read_object(of: type, found: object, place: Place) -> Any:
    """Read a table into an object of a declared class; every problem in it is noted."""
    if not isinstance(found, dict):
        return place.reject(describe(found), "a table")
    keys = keys_of(of)
    before = len(place.problems)
    for name in found:
        if name not in keys:
            place.at(name).reject("an unknown key", ", ".join(keys))
    values: dict[tuple[str, ...], Any] = {}
    for name, key in keys.items():
        if name in found:
            values[key.path] = key.codec.read(found[name], place.at(name))
        elif key.required:
            place.at(name).reject("nothing", f"{key.attribute.metadata['doc']} (the key is required)")
    if len(place.problems) > before:
        return MISSING
    try:
        return _build(of, (), values)
    except QuantityError as error:
        return (place if error.key is None else place.at(error.key)).reject(error.found, error.accepted)


def _build(of: type, prefix: tuple[str, ...], values: Mapping[tuple[str, ...], Any]) -> Any:
    arguments = {}
    for attribute in attrs.fields(of):
        path = (*prefix, attribute.name)
        if "flat" in attribute.metadata:
            arguments[attribute.name] = _build(attribute.metadata["flat"], path, values)
        elif path in values:
            arguments[attribute.name] = values[path]
    return of(**arguments)


def get_path(owner: Any, path: KeyPath) -> Any:
    """Return the value at a path of attribute names and indices."""
    for step in path:
        owner = owner[step] if isinstance(step, int) else getattr(owner, step)
    return owner


def set_path(owner: Any, path: KeyPath, new: Any) -> Any:
    """Return a copy of the owner with the value at the path replaced."""
    if not path:
        return new
    step, rest = path[0], path[1:]
    if isinstance(step, int):
        return (*owner[:step], set_path(owner[step], rest, new), *owner[step + 1 :])
    return attrs.evolve(owner, **{step: set_path(getattr(owner, step), rest, new)})


def write_object(owner: Any) -> dict[str, Any]:
    """Write an object's keys as a file has them, those that stand at their default left out."""
    plain = {}
    for name, key in keys_of(type(owner)).items():
        present = get_path(owner, key.path)
        if present is not None and (key.required or present != key.default()):
            plain[name] = key.codec.write(present)
    return plain
