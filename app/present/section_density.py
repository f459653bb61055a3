"""The two ways of drawing the section: at ease, and where room is short."""

from __future__ import annotations

from attrs import frozen


@frozen(kw_only=True)
class Density:
    """Sizes of one way of drawing, in logical pixels."""

    pitch: float
    """Between branches over the gap."""
    winding: float
    """From what is below it to a transformer, whose name stands beside it."""
    first: float
    """From the copper to the lowest branch."""
    top: float
    corner: float
    """Radius at which an arc bends."""
    gap_pitch: float
    """Between couplings under the gap."""
    ribbon: float
    """Width of the ribbon that carries everything."""
    symbol: tuple[float, float]
    """Length and height of a symbol."""
    upright: float
    """Length of a symbol that stands upright."""
    copper: float
    board: float
    interval: float
    """Least height between the board, a further region and the earth."""
    part_pitch: float
    metal: float
    earth: float
    source: float
    """Radius of the sign of a source."""
    source_pitch: float
    badge: tuple[float, float]
    badge_face: str
    line: float
    notes: bool
    labels_under: bool

    @property
    def trunk(self) -> float:
        """Width at each edge of the gap that the ribbons rising there take."""
        return self.ribbon + 10.0


ROOMY = Density(
    pitch=40.0,
    winding=28.0,
    first=30.0,
    top=14.0,
    corner=18.0,
    gap_pitch=17.0,
    ribbon=22.0,
    symbol=(36.0, 18.0),
    upright=20.0,
    copper=7.0,
    board=18.0,
    interval=40.0,
    part_pitch=26.0,
    metal=16.0,
    earth=10.0,
    source=11.0,
    source_pitch=32.0,
    badge=(48.0, 16.0),
    badge_face="strong",
    line=15.0,
    notes=True,
    labels_under=True,
)
COMPACT = Density(
    pitch=22.0,
    winding=20.0,
    first=18.0,
    top=12.0,
    corner=10.0,
    gap_pitch=18.0,
    ribbon=16.0,
    symbol=(24.0, 12.0),
    upright=15.0,
    copper=6.0,
    board=16.0,
    interval=31.0,
    part_pitch=19.0,
    metal=15.0,
    earth=9.0,
    source=8.0,
    source_pitch=17.0,
    badge=(42.0, 15.0),
    badge_face="tiny",
    line=14.0,
    notes=False,
    labels_under=False,
)
