"""A value of a case by where it stands in the file: ``candidate[1].branch[0].parts[0].capacitance``."""

from __future__ import annotations

import re
from typing import Any

from attrs import frozen

from app.sweep.faults import SweepError
from models.case.document import Case
from models.case.requirement import Requirement
from models.codec import MISSING, Between, Codec, KeyPath, ListOf, Place, Quantity, Text, path_text
from models.declare import Kinds, Table, get_path, keys_of, set_path
from models.errors import QuantityError

_STEP = re.compile(r"\.?([A-Za-z_][A-Za-z0-9_]*)|\[([0-9]{1,4})\]")
_TABLES = (Table, Kinds, ListOf, Between)
_LONGEST = 300


@frozen(kw_only=True)
class Address:
    """Where a value stands, and how it is read.

    Attributes
    ----------
    text : the path in the file's own keys, lists counted from 0
    path : attribute names and indices in the document
    codec : reads what a person types
    unit : SI unit; empty for a ratio, None for what is no quantity
    """

    text: str
    path: KeyPath
    codec: Codec
    unit: str | None

    @property
    def heading(self) -> str:
        """Name of its column in a table."""
        return f"{self.text} ({self.unit})" if self.unit else self.text

    def read(self, found: str) -> Any:
        """Return the value that a text stands for.

        Raises
        ------
        SweepError
            where it is none that the key can hold
        """
        place = Place((), [])
        value = self.codec.read(_plain(found, self.codec), place)
        if value is MISSING:
            problem = place.problems[0][1]
            raise SweepError(self.text, problem.found, problem.accepted)
        return value

    def put(self, case: Case, value: Any) -> Case:
        """Return the case with another value here.

        Raises
        ------
        QuantityError
            where the value does not go with what stands beside it
        """
        changed: Case = set_path(case, self.path, value)
        return changed


def find(case: Case, text: str) -> Address:
    """Return the address of a value that can be set.

    Raises
    ------
    SweepError
        where the path leads nowhere, or to a whole table; says what there is
    """
    walk = _Walk(text=text, owner=case)
    for step in _steps(text):
        walk = walk.into(step)
    return walk.address()


def _plain(found: str, codec: Codec) -> object:
    """Return what a file would have: a whole number as such, the rest as text."""
    whole = not isinstance(codec, Quantity | Text) and re.fullmatch(r"[0-9]{1,9}", found.strip())
    return int(found) if whole else found.strip()


def _steps(text: str) -> list[str | int]:
    steps: list[str | int] = []
    end = 0
    while end < len(text) and len(text) <= _LONGEST:
        match = _STEP.match(text, end)
        if match is None:
            break
        steps.append(match[1] or int(match[2]))
        end = match.end()
    if not steps or end < len(text) or text.startswith("."):
        raise SweepError(text[:_LONGEST] or "the path", "no path", "candidate[1].branch[0].parts[0].capacitance")
    return steps


@frozen(kw_only=True)
class _Walk:
    """How far a path was followed."""

    text: str
    owner: Any
    steps: KeyPath = ()
    path: KeyPath = ()
    codec: Codec | None = None
    unit: str | None = None

    def into(self, step: str | int) -> _Walk:
        return self._to_item(step) if isinstance(step, int) else self._to_key(step)

    def _to_item(self, index: int) -> _Walk:
        if not isinstance(self.codec, ListOf) or not isinstance(self.owner, tuple):
            raise self._lost(f"[{index}], where no list stands")
        if index >= len(self.owner):
            count = len(self.owner)
            there = f"0 to {count - 1}" if count else "nothing: the list is empty"
            raise SweepError(self.text, f"{path_text((*self.steps, index))}", f"a number from {there}, counted from 0")
        item = self.codec.item
        return _Walk(
            text=self.text,
            owner=self.owner[index],
            steps=(*self.steps, index),
            path=(*self.path, index),
            codec=item,
            unit=item.unit if isinstance(item, Quantity) else None,
        )

    def _to_key(self, name: str) -> _Walk:
        keys = keys_of(type(self.owner)) if hasattr(type(self.owner), "__attrs_attrs__") else {}
        if name not in keys:
            raise self._lost(f'"{name}"')
        key = keys[name]
        codec, unit = key.codec, key.unit
        if isinstance(self.owner, Requirement) and name == "limit":
            # the kind of a requirement decides the unit of its limit
            unit = self.owner.demand.unit or ""
            codec = Quantity(unit=unit)
        return _Walk(
            text=self.text,
            owner=get_path(self.owner, key.path),
            steps=(*self.steps, name),
            path=(*self.path, *key.path),
            codec=codec,
            unit=unit,
        )

    def _lost(self, found: str) -> SweepError:
        where = path_text(self.steps) if self.steps else "the case"
        if self.owner is None:
            return SweepError(self.text, f"nothing at {where}", "a value that the case has")
        return SweepError(self.text, found, self._offers(where))

    def _offers(self, where: str) -> str:
        if isinstance(self.owner, tuple):
            return f"a number in brackets after {where}, such as [0]"
        if hasattr(type(self.owner), "__attrs_attrs__"):
            return f"a key of {where}: {', '.join(keys_of(type(self.owner)))}"
        return f"{where} and nothing after it"

    def address(self) -> Address:
        if self.codec is None or isinstance(self.codec, _TABLES) or hasattr(type(self.owner), "__attrs_attrs__"):
            raise SweepError(self.text, "a whole table or list", f"one value in it, {self._offers(self.text)}")
        return Address(text=path_text(self.steps), path=self.path, codec=self.codec, unit=self.unit)


def put_all(case: Case, settings: dict[str, str]) -> Case:
    """Return the case with values set by path and text, as ``--set`` gives them.

    Raises
    ------
    SweepError
        where a path leads nowhere or a value cannot stand there
    """
    for path, text in settings.items():
        address = find(case, path)
        value = address.read(text)
        try:
            case = address.put(case, value)
        except QuantityError as error:
            raise SweepError(address.text, error.found, error.accepted) from None
    return case
