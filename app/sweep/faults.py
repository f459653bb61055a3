"""What a person can get wrong about a sweep."""

from __future__ import annotations

from typing import Self

from models.errors import IsthmusError


class SweepError(IsthmusError):
    """A sweep that cannot be run: which option or file, what was found, what is accepted."""

    def __init__(self, where: str, found: str, accepted: str) -> None:
        super().__init__(f"{where}: found {found}; accepted: {accepted}")
        self.where = where
        self.found = found
        self.accepted = accepted

    @classmethod
    def at(cls, place: str, error: Self) -> Self:
        """Return the same error with the place in a file before it."""
        return cls(f"{place}, {error.where}", error.found, error.accepted)
