"""From a case to TOML, keeping a person's comments, order and way of writing wherever the value did not change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from models.case.document import Case
from models.case.read import FORMAT, parse_case
from models.catalogue.codec import PartKinds, is_reference
from models.codec import Codec, ListOf
from models.declare import Key, get_path, keys_of, write_object
from models.errors import CaseError, DataError

if TYPE_CHECKING:
    from tomlkit.items import AoT, Array, InlineTable, Table

_PARTS_KEYS = ("parts", "cells", "branches")


def case_text(case: Case, original: str | None = None) -> str:
    """Return the case as TOML.

    Parameters
    ----------
    case : the document
    original : the text it was read from; what did not change is kept to the letter, comments included

    Returns
    -------
    str; reading it gives an equal case
    """
    import tomlkit

    before = None if original is None else _as_read(original)
    if original is None or before is None:
        document = tomlkit.document()
        document["isthmus"] = FORMAT
        _fill(document, write_object(case))
        return tomlkit.dumps(document)
    document = tomlkit.parse(original)
    _merge(document, before, case)
    return tomlkit.dumps(document)


def part_text(plain: Mapping[str, Any]) -> str:
    """Return the keys of a part as a case file has them: an inline table, ready to paste into a list of parts."""
    return _inline(plain).as_string()


def keys_text(plain: Mapping[str, Any]) -> str:
    """Return the keys of a table one to a line, as they stand under its header."""
    import tomlkit

    document = tomlkit.document()
    _fill(document, plain)
    return tomlkit.dumps(document)


def _as_read(original: str) -> Case | None:
    """Return the case that a text holds; None where the catalogue that it refers to has lost an entry meanwhile."""
    try:
        return parse_case(original, folder=None)
    except (CaseError, DataError):
        return None


def _merge(table: Any, old: Any, new: Any) -> None:
    """Bring a table from the old object's values to the new one's, touching only what differs."""
    for name, key in keys_of(type(new)).items():
        before, after = get_path(old, key.path), get_path(new, key.path)
        if before == after:
            continue
        if after is None or (name in table and after == ()):
            table.pop(name, None)
        elif name in table and _merge_inside(table, name, key, before, after):
            continue
        else:
            table[name] = _fitting(table, name, key.codec.write(after))


def _merge_inside(table: Any, name: str, key: Key, before: Any, after: Any) -> bool:
    """Merge a table or list of tables in place; False where the value has to be written anew."""
    if isinstance(key.codec, ListOf) and _tabular(before) and _tabular(after):
        if _aligned(before, after):
            for item, old, new in zip(table[name], before, after, strict=True):
                _merge_entry(item, old, new, key.codec.item)
        else:
            table[name] = _rearranged(table[name], before, after, key, name)
        return True
    if before is not None and _tabular((after,)) and type(before) is type(after):
        _merge(table[name], before, after)
        return True
    return False


def _merge_entry(table: Any, old: Any, new: Any, codec: Codec) -> None:
    """Merge one table of a list; a part of the catalogue by what its file says, not by what it comes to."""
    if isinstance(codec, PartKinds) and old != new and (is_reference(old) or is_reference(new)):
        _merge_plain(table, codec.write(old), codec.write(new))
    else:
        _merge(table, old, new)


def _merge_plain(table: Any, before: Mapping[str, Any], after: Mapping[str, Any]) -> None:
    for name in [name for name in table if name not in after]:
        table.pop(name)
    for name, value in after.items():
        if name not in table or before.get(name) != value:
            table[name] = _fitting(table, name, value)


def _tabular(values: Sequence[Any]) -> bool:
    return len(values) > 0 and all(hasattr(type(value), "__attrs_attrs__") for value in values)


def _identity(value: Any) -> tuple[type, Any]:
    return type(value), getattr(value, "name", None)


def _aligned(before: Sequence[Any], after: Sequence[Any]) -> bool:
    """Return whether entries were edited where they stand: none added, removed or moved."""
    if len(before) != len(after) or any(type(old) is not type(new) for old, new in zip(before, after, strict=True)):
        return False
    changed = [(old, new) for old, new in zip(before, after, strict=True) if old != new]
    olds, names = [old for old, _ in changed], [_identity(new) for _, new in changed]
    return not any(
        new in olds or (_identity(old) != _identity(new) and _identity(old) in names) for old, new in changed
    )


def _rearranged(items: Any, before: Sequence[Any], after: Sequence[Any], key: Key, name: str) -> Any:
    """Return the list in its new order, each surviving entry with its own text, new ones written anew."""
    spare = list(zip(before, items, strict=True))
    kept: list[Any] = []
    codec: Codec = key.codec.item  # type: ignore[attr-defined]
    for new, fresh in zip(after, key.codec.write(after), strict=True):
        twin = next((pair for pair in spare if pair[0] == new), None) or next(
            (pair for pair in spare if _identity(pair[0]) == _identity(new) and pair[0] not in after), None
        )
        if twin is None:
            kept.append(fresh)
            continue
        spare.remove(twin)
        _merge_entry(twin[1], twin[0], new, codec)
        kept.append(twin[1])
    return _fitting(items, name, kept)


def _fill(table: Any, plain: Mapping[str, Any]) -> None:
    for name, value in _scalars_first(plain):
        table[name] = _item(name, value)


def _scalars_first(plain: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """Yield plain values before tables: in TOML a key after a sub-table's header would belong to that."""
    yield from ((name, value) for name, value in plain.items() if not _is_block(name, value))
    yield from ((name, value) for name, value in plain.items() if _is_block(name, value))


def _is_block(name: str, value: Any) -> bool:
    if isinstance(value, Mapping):
        return True
    return name not in _PARTS_KEYS and _is_listing(value)


def _is_listing(value: Any) -> bool:
    """Return whether a value is a list of tables."""
    return isinstance(value, list) and bool(value) and isinstance(value[0], Mapping)


def _fitting(holder: Any, name: str, value: Any) -> Any:
    """Return the TOML item for a value in a table or list; what is held inline can hold no table with a header."""
    from tomlkit.items import Array, InlineTable

    if isinstance(holder, InlineTable | Array):
        return _inline(value) if isinstance(value, Mapping) else _inline_list(value) if _is_listing(value) else value
    return _item(name, value)


def _item(name: str, value: Any) -> Any:
    """Return the TOML item for a plain value: tables with headers, parts as inline tables, one to a line."""
    if name in _PARTS_KEYS:
        return _inline_list(value)
    if isinstance(value, Mapping):
        return _table(value)
    if _is_block(name, value):
        return _tables(value)
    return value


def _tables(values: Sequence[Any]) -> AoT:
    import tomlkit
    from tomlkit.items import Table

    array = tomlkit.aot()
    for value in values:
        array.append(value if isinstance(value, Table) else _table(value))
    return array


def _table(plain: Mapping[str, Any]) -> Table:
    import tomlkit

    table = tomlkit.table()
    _fill(table, plain)
    return table


def _inline_list(values: Sequence[Any]) -> Array:
    import tomlkit

    array = tomlkit.array()
    array.extend(_inline(value) for value in values)
    return array.multiline(len(values) > 1)


def _inline(plain: Any) -> InlineTable:
    import tomlkit
    from tomlkit.items import InlineTable

    if isinstance(plain, InlineTable):
        return plain
    table = tomlkit.inline_table()
    for name, value in plain.items():
        table[name] = _inline_list(value) if _is_listing(value) else value
    return table
