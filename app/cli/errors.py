"""An error of several files at once."""

from __future__ import annotations

from collections.abc import Sequence

from models.errors import CaseError, IsthmusError


class CasesError(IsthmusError):
    """Several files, some of which cannot be used; carries the error of each."""

    def __init__(self, errors: Sequence[CaseError]) -> None:
        self.errors = tuple(errors)
        super().__init__("\n".join(map(str, errors)))
