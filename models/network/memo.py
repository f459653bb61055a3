"""A memory of computed values that forgets what the last round did not use."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

T = TypeVar("T")
_ABSENT = object()


class Memo:
    """Values by key. `turn` starts a round; what two rounds did not ask for is dropped, so memory follows the case."""

    def __init__(self) -> None:
        self._young: dict[Hashable, Any] = {}
        self._old: dict[Hashable, Any] = {}

    def turn(self) -> None:
        """Start a new round."""
        self._old, self._young = self._young, {}

    def get(self, key: Hashable, compute: Callable[[], T]) -> T:
        """Return the value of a key, computed once."""
        # one look each, since hashing a key walks all it is made of
        value = self._young.get(key, _ABSENT)
        if value is _ABSENT:
            value = self._old.get(key, _ABSENT)
            if value is _ABSENT:
                value = compute()
            self._young[key] = value
        found: T = value
        return found
