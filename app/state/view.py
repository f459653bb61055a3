"""What is looked at: selection, cursor, modes. Changing it never solves the network and is not undone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import attrs
from attrs import frozen

from models.fitting.data import Measurement


@frozen(kw_only=True)
class EventChoice:
    """The discharge, burst or surge that is looked at."""

    kind: str = "discharge"
    level_v: float = 4e3
    into: str | None = None
    """The region it hits; None for the second of the pair."""
    shows: str = "voltage"
    """voltage, currents, left or ratings."""


@frozen(kw_only=True)
class View:
    """The view of the present document."""

    candidate: int = 0
    """Index of the selected candidate."""
    source: int | None = None
    """Index of the source whose waveform is shown; None for the one with the highest peak."""
    subject: tuple[str, int] = ("candidate", 0)
    """What the inspector shows: candidate, coupling, transformer, source, pair, mains, requirement; with an index."""
    cursor_hz: float = 1e6
    """The one cursor frequency of the whole window."""
    bridge_alone: bool = False
    """Whether impedances are those of the bridge alone, rather than in circuit."""
    z_shows: str = "magnitude"
    """What of the impedances is shown: magnitude, phase, resistance or reactance."""
    reference: str | None = None
    """Name of the candidate that the others are compared with at the cursor; None for no comparison."""
    measured: Measurement | None = None
    """A measurement of the built pair, shown over the impedances in circuit."""
    mode: str = "waveform"
    """Which consequence is shown: waveform, spectrum, conducted, radiated or event."""
    cable: int = 0
    """Index of the cable along which the current is shown."""
    radiated_shows: str = "field"
    """What is shown of radiated emission: field, or cable for the current along a cable."""
    detector: str | None = None
    """Detector that reads emission; None for the one that comes closest to the limit line."""
    conducted_line: str | None = None
    """Name of the limit line of conducted emission; None for the case's own, empty for none at all."""
    radiated_line: str | None = None
    """The same for radiated emission."""
    distance_m: float | None = None
    """Distance at which the field is shown; None for that of its limit line."""
    event: EventChoice = EventChoice()
    """Which event is let into which region, and what is shown of it."""
    everything: bool = False
    """Whether the inspector shows values that stand at their default too."""
    tolerances: bool = True
    """Whether the case is drawn within its tolerances, and bands and yields of the draws are shown."""
    theme: str = "system"
    """system, light, dark or contrast."""


class ViewStore:
    """The view, and who wants to know of its changes."""

    def __init__(self, view: View | None = None) -> None:
        self._view = view or View()
        self._listeners: list[Callable[[], None]] = []

    @property
    def view(self) -> View:
        """The present view."""
        return self._view

    def listen(self, listener: Callable[[], None]) -> None:
        """Have a function called after every change."""
        self._listeners.append(listener)

    def change(self, **changes: Any) -> None:
        """Change the named parts of the view."""
        self.replace(attrs.evolve(self._view, **changes))

    def replace(self, view: View) -> None:
        """Make another view the present one."""
        if view != self._view:
            self._view = view
            for listener in self._listeners:
                listener()
