"""Who is shown in a frame: all at once where there is time, in turns while a hand drags."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence

from attrs import frozen

_WORK_S = 3e-3
"""Work of a hurried frame after which the rest waits for the next one: painting takes as long again and more."""


@frozen(kw_only=True)
class Piece:
    """A part of the window: what it depends on, and how it is brought up to date."""

    name: str
    key: Callable[[], tuple[object, ...]]
    """All that it depends on; it is due where this is not what it was shown for."""
    render: Callable[[], bool]
    """Shows it; False where it needs further turns until all of it is up to date."""
    weight: int = 1
    """How much faster than others it comes forward while it waits; 0 for what is shown in every frame."""


class Turns:
    """Brings the parts of a window up to date; in a hurry the longest waiting first, and the rest in later frames.

    At least one part that waits is shown in every frame, and who waits comes forward: each gets its turn.
    """

    def __init__(self, clock: Callable[[], float] = time.thread_time) -> None:
        self._clock = clock
        self._shown: dict[str, tuple[object, ...]] = {}
        self._waited: dict[str, int] = {}

    def forget(self, name: str) -> None:
        """Let a part be due although what it depends on is the same."""
        self._shown.pop(name, None)

    def run(self, pieces: Sequence[Piece], *, hurried: bool) -> bool:
        """Show what is due, in the order given, or in a hurry in turns; return whether all is up to date now."""
        end = self._clock() + (_WORK_S if hurried else math.inf)
        worked = False
        for piece in sorted(pieces, key=self._place) if hurried else pieces:
            if not self._due(piece):
                continue
            if worked and self._clock() > end:
                self._waited[piece.name] = self._waited.get(piece.name, 0) + 1
            else:
                self._show(piece)
                worked |= piece.weight > 0
        return not any(self._due(piece) for piece in pieces)

    def _place(self, piece: Piece) -> tuple[bool, int]:
        return piece.weight > 0, -piece.weight * self._waited.get(piece.name, 0)

    def _due(self, piece: Piece) -> bool:
        return self._shown.get(piece.name) != piece.key()

    def _show(self, piece: Piece) -> None:
        self._waited[piece.name] = 0
        self._shown[piece.name] = piece.key()
        if not piece.render():
            self.forget(piece.name)
