"""The errors a person can cause and mend.

    IsthmusError
    ├── QuantityError      a text that is not the quantity its key wants
    ├── CaseError          a case file that cannot be used; carries every Problem found
    └── DataError          a measurement or picture that cannot be used

The text of each says where, what was found and what is accepted.
"""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen


class IsthmusError(Exception):
    """Base of every error that is shown to a person as one message."""


class QuantityError(IsthmusError):
    """A text that is not the quantity its key wants; the key of a table where the error is about one of several."""

    def __init__(self, found: str, accepted: str, key: str | None = None) -> None:
        super().__init__(f"found {found}; accepted: {accepted}")
        self.found = found
        self.accepted = accepted
        self.key = key


@frozen(kw_only=True)
class Problem:
    """One thing wrong with a case: where it stands, empty where that is plain, what was found, what is accepted."""

    where: str
    found: str
    accepted: str
    line: int | None = None

    def text(self) -> str:
        """Return the one line that a person reads."""
        place = self.where if self.line is None else f"line {self.line}, {self.where}"
        return f"{place}{': ' if place else ''}found {self.found}; accepted: {self.accepted}"


class CaseError(IsthmusError):
    """A case that cannot be used, with every problem found in it."""

    def __init__(self, problems: Sequence[Problem], source: str = "case") -> None:
        self.problems = tuple(problems)
        self.source = source
        start = f"{source}: " if source else ""
        super().__init__("\n".join(f"{start}{problem.text()}" for problem in self.problems))


class DataError(IsthmusError):
    """A measurement that cannot be used: which file, which line, what is accepted."""

    def parts(self) -> tuple[str, str]:
        """Return what was found, with the place in its file, and what is accepted, apart."""
        found, _, accepted = str(self).partition("; accepted: ")
        return found.replace(": found ", ": ", 1), accepted or "a measurement that can be read"
