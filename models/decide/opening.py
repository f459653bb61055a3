"""A change that might open an empty window, and how much of it is needed."""

from __future__ import annotations

from attrs import frozen


@frozen(kw_only=True)
class Opening:
    """One change that opens the window.

    Attributes
    ----------
    change : what is changed, in the words of the trade
    now, needed, unit : the value as it is and as it has to be, SI; ``needed`` is None where this alone does not do
    text : the change as a sentence
    """

    change: str
    now: float
    needed: float | None
    unit: str
    text: str
