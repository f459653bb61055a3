"""What the words of a lesson point at: a curve or a part that is brought forward, and a frequency."""

from __future__ import annotations

from attrs import evolve, frozen

from models.quantity import parse_quantity


@frozen(kw_only=True)
class Pointing:
    """What is brought forward on a page, and where its cursor is."""

    under_hand: str = ""
    chosen: str = ""
    """What stays when the hand leaves the words."""
    at_hz: float | None = None
    """None where the step's own frequency holds."""

    @property
    def strong(self) -> str:
        """The name of what is brought forward; empty for nothing."""
        return self.under_hand or self.chosen

    def follow(self, link: str, *, chosen: bool) -> Pointing:
        """Return what a link points at, such as ``curve:Copper``: one under the hand, or one that is chosen.

        An empty link is none under the hand; what is chosen a second time is let go.
        """
        kind, _, target = link.partition(":")
        if not chosen:
            return evolve(self, under_hand=target if kind in ("curve", "part") else "")
        if kind == "at":
            return evolve(self, at_hz=parse_quantity(target, "Hz"))
        return evolve(self, chosen="" if self.chosen == target else target)
