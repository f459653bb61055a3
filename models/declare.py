"""How a class of the case declares its values: once, with unit, meaning, default and limits.

The file reader, the file writer, the form in the window and the tests all walk these declarations, so a new key
is one line in one class. A field's key in the file is its name without the unit: ``esl_h`` is ``esl``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterator, Mapping
from functools import cache
from pathlib import Path as FilePath
from typing import Any, Protocol, cast

import attrs
from attrs import Attribute, frozen

from models.errors import Problem, QuantityError
from models.quantity import format_quantity, parse_quantity

_LONGEST_SHOWN, _LONGEST_NAME = 44, 200
_SUFFIX = {"ohm": "_ohm", "F": "_f", "H": "_h", "V": "_v", "A": "_a", "Hz": "_hz", "s": "_s", "m": "_m", "": ""}

LEAST, MOST = 1e-30, 1e30
"""No quantity of a board lies outside, and no product of two overflows inside."""

MISSING: Any = object()
"""What a codec returns for a value it had to reject; the problem is then in the place's list."""


class Place:
    """Where the reader stands in a file, and the list of problems that it fills."""

    def __init__(
        self,
        path: tuple[str | int, ...],
        problems: list[tuple[tuple[str | int, ...], Problem]],
        folder: FilePath | None = None,
    ) -> None:
        self.path = path
        self.problems = problems
        self.folder = folder
        """Where the files that a case names are looked for; None where they are not to be opened."""

    def at(self, step: str | int) -> Place:
        """Return the place one step further in."""
        return Place((*self.path, step), self.problems, self.folder)

    def reject(self, found: str, accepted: str) -> Any:
        """Note a problem here and return MISSING."""
        self.problems.append((self.path, Problem(where=path_text(self.path), found=found, accepted=accepted)))
        return MISSING


def path_text(path: tuple[str | int, ...]) -> str:
    """Write a path as a person reads it: ``candidate[1].branch[0].parts[0].capacitance``."""
    text = ""
    for step in path:
        name = shown(step) if isinstance(step, str) else f"[{step}]"
        text += f".{name}" if text and isinstance(step, str) else name
    return text or "file"


def shown(text: str) -> str:
    """Return a text short and on one line, as a message can quote it."""
    visible = "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii") for sign in text)
    return visible if len(visible) <= _LONGEST_SHOWN else visible[: _LONGEST_SHOWN - 1] + "…"


def describe(found: object) -> str:
    """Say in a few words what stood in the file."""
    if isinstance(found, dict):
        return "a table"
    if isinstance(found, list):
        return f"a list of {len(found)}"
    if isinstance(found, bool):
        return "true" if found else "false"
    if isinstance(found, int) and found.bit_length() > 256:
        return "a whole number of more than 77 digits"
    return f'"{shown(found)}"' if isinstance(found, str) else shown(str(found))


class Codec(Protocol):
    """Turns what stands in a file into a value and back."""

    def read(self, found: object, place: Place) -> Any:
        """Return the value, or MISSING with a problem noted."""

    def write(self, value: Any) -> Any:
        """Return what stands in the file for this value."""


@frozen(kw_only=True)
class Quantity:
    """A physical value in one unit, within limits."""

    unit: str
    positive: bool = False
    high: float = math.inf

    def read(self, found: object, place: Place) -> Any:
        """Parse a quantity text or a bare number in SI units."""
        try:
            value = parse_quantity(found, self.unit)
        except QuantityError as error:
            return place.reject(error.found, error.accepted)
        try:
            self.check(value)
        except QuantityError as error:
            return place.reject(describe(found), error.accepted)
        return value

    def write(self, value: float) -> str | float:
        """Return the shortest text that reads back as the same number."""
        return format_quantity(value, self.unit) if self.unit else value

    def check(self, value: float) -> None:
        """Raise QuantityError where the value is outside what the key can hold."""
        fits = LEAST <= value <= min(self.high, MOST) or (value == 0 and not self.positive)
        if not fits:
            text = format_quantity(value, self.unit) if math.isfinite(value) else str(value)
            raise QuantityError(text, self._limits(value))

    def _limits(self, value: float) -> str:
        if 0 < value < LEAST or MOST < value < math.inf:
            return f"{LEAST:g} to {MOST:g}" + ("" if self.positive else ", or 0")
        least = "more than 0" if self.positive else "0 or more"
        return least if self.high == math.inf else f"{least} and at most {format_quantity(self.high, self.unit)}"


@frozen(kw_only=True)
class Text:
    """A text; up to 200 characters it is a name and stands on one line."""

    limit: int = 200
    choices: tuple[str, ...] = ()

    def read(self, found: object, place: Place) -> Any:
        """Accept a text of sensible length, or one of the choices."""
        if self.choices and (not isinstance(found, str) or found not in self.choices):
            return place.reject(describe(found), " or ".join(f'"{choice}"' for choice in self.choices))
        if not isinstance(found, str) or not found.strip() or len(found) > self.limit:
            return place.reject(describe(found), f"a text of 1 to {self.limit} characters")
        if self.limit <= _LONGEST_NAME and not found.isprintable():
            return place.reject(describe(found), "a name on one line, without control characters")
        return found

    def write(self, value: str) -> str:
        """Return the text itself."""
        return value


@frozen(kw_only=True)
class Count:
    """A whole number within limits."""

    low: int = 1
    high: int = 1000

    def read(self, found: object, place: Place) -> Any:
        """Accept a whole number."""
        if not isinstance(found, int) or isinstance(found, bool) or not self.low <= found <= self.high:
            return place.reject(describe(found), f"a whole number from {self.low} to {self.high}")
        return found

    def write(self, value: int) -> int:
        """Return the number itself."""
        return value


@frozen(kw_only=True)
class Between:
    """The names of two different regions."""

    def read(self, found: object, place: Place) -> Any:
        """Accept a list of two different names."""
        if (
            not isinstance(found, list)
            or len(found) != 2
            or not all(isinstance(name, str) and name for name in found)
            or found[0] == found[1]
        ):
            shown = f"[{', '.join(map(describe, found[:4]))}]" if isinstance(found, list) else describe(found)
            return place.reject(shown, 'two different regions, such as ["primary", "secondary"]')
        return tuple(found)

    def write(self, value: tuple[str, str]) -> list[str]:
        """Return the two names as a list."""
        return list(value)


@frozen(kw_only=True)
class ListOf:
    """Several of the same."""

    item: Codec
    least: int = 0
    most: int = 200
    noun: str = "a list"

    def read(self, found: object, place: Place) -> Any:
        """Read every item, so that all problems are found at once."""
        if not isinstance(found, list) or not self.least <= len(found) <= self.most:
            return place.reject(describe(found), f"{self.noun} with {self.least} to {self.most} entries")
        values = [self.item.read(entry, place.at(index)) for index, entry in enumerate(found)]
        return MISSING if any(value is MISSING for value in values) else tuple(values)

    def write(self, value: tuple[Any, ...]) -> list[Any]:
        """Write every item."""
        return [self.item.write(entry) for entry in value]


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


def get_path(owner: Any, path: tuple[str | int, ...]) -> Any:
    """Return the value at a path of attribute names and indices."""
    for step in path:
        owner = owner[step] if isinstance(step, int) else getattr(owner, step)
    return owner


def set_path(owner: Any, path: tuple[str | int, ...], new: Any) -> Any:
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
