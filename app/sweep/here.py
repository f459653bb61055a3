"""The plainest executor: this thread, at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from attrs import frozen


@frozen(kw_only=True)
class Kept:
    """A value that is there already."""

    value: Any

    def result(self) -> Any:
        """Return it."""
        return self.value

    def cancel(self) -> bool:
        """Say that it is too late."""
        return False


@frozen(kw_only=True)
class Here:
    """Calls where it stands; for a single process, and for tests."""

    def submit(self, fn: Callable[..., Any], /, *args: Any) -> Kept:
        """Call the function and keep what it returns."""
        return Kept(value=fn(*args))
