"""How high the section drawing stands: branches over the board, further regions under it, the earth at the bottom."""

from __future__ import annotations

import math

from attrs import frozen

from app.present.section_contents import Contents, Path
from app.present.section_density import COMPACT, ROOMY, Density
from app.present.section_specs import Measure
from app.present.section_zones import Zones, depth_of, source_columns, zones

LEAST_HEIGHT = 150.0
_MOST_HEIGHT = 280.0
_OFFSET_ROOM = 16.0
_LEAST_EASE = 0.86
"""Where the width is shorter of what is wanted, the drawing is compact."""
_AIR = 1.15
"""How much more than its least height lets a drawing breathe."""


@frozen(kw_only=True, eq=False)
class Levels:
    """Heights from top to bottom."""

    rungs: tuple[float, ...]
    """Of what arcs over the gap, transformers first."""
    copper: float
    """Upper edge of the copper."""
    board: float
    """Upper edge of the board."""
    floor: float
    """Lower edge of the board."""
    metal: tuple[float, ...]
    """Upper edges of the further regions."""
    earth: float
    height: float


@frozen(kw_only=True, eq=False)
class Plan:
    """Everything that says where: density, columns, heights."""

    density: Density
    zones: Zones
    levels: Levels


def plan(what: Contents, width: float, height: float, measure: Measure) -> Plan:
    """Return the roomiest plan that fits; where none does, the compact one in the height that it needs."""
    kept = max(what.most_branches, 1)
    own = max(len(what.branches), 1)
    for density, rows in ((ROOMY, kept), (ROOMY, own), (COMPACT, kept), (COMPACT, own)):
        columns = zones(what, density, width, measure)
        if density is ROOMY and columns.ease < _LEAST_EASE:
            continue
        needs = _Needs(what=what, density=density, columns=columns, measure=measure, rows=rows)
        if needs.total <= height or (density is COMPACT and rows == own):
            return Plan(density=density, zones=columns, levels=_levels(needs, max(height, needs.total)))
    raise AssertionError("the last plan is always taken")


def wanted_height(what: Contents, width: float, measure: Measure) -> float:
    """Return the height at which a drawing is at ease with any candidate of its case."""
    columns = zones(what, ROOMY, width, measure)
    needs = _Needs(what=what, density=ROOMY, columns=columns, measure=measure, rows=max(what.most_branches, 1))
    return min(max(_AIR * needs.total, LEAST_HEIGHT), _MOST_HEIGHT)


@frozen(kw_only=True, eq=False)
class _Needs:
    """The heights that a drawing asks for."""

    what: Contents
    density: Density
    columns: Zones
    measure: Measure
    rows: int
    """Branches for which there is room."""

    @property
    def above(self) -> float:
        """Over the copper."""
        return max(self.arcs, self._sources(self.what.a), self._sources(self.what.b))

    @property
    def arcs(self) -> float:
        """What the branches and transformers take."""
        density, count = self.density, len(self.what.transformers)
        return density.first + (self.rows - 1) * density.pitch + count * density.winding + density.top

    @property
    def intervals(self) -> tuple[float, ...]:
        """Under the board and under each further region."""
        return tuple(self._interval(level) for level in range(len(self.what.others) + 1))

    @property
    def total(self) -> float:
        """From top to bottom."""
        density = self.density
        metal = len(self.what.others) * density.metal
        return self.above + density.copper + density.board + sum(self.intervals) + metal + density.earth

    def _interval(self, level: int) -> float:
        density, what = self.density, self.what
        needs = [density.interval]
        if level == 0:
            needs.append(len(what.gaps) * density.gap_pitch + 9.0)
        needs += [len(each.signs) * density.part_pitch + 8.0 for each in what.links if _stands_in(what, each, level)]
        offset = _OFFSET_ROOM if level == len(what.others) and self.columns.offsets else 0.0
        return max(needs) + offset

    def _sources(self, region: str) -> float:
        """Return the height that the sources on a region take, beside each other where the width allows."""
        count = sum(each.region == region for each in self.what.drives)
        if not count:
            return 0.0
        column = self.columns.left if region == self.what.a else self.columns.right
        columns = source_columns(self.what, region, self.density, column.width - 10.0, self.measure)
        return math.ceil(count / columns) * self.density.source_pitch + 6.0


def _stands_in(what: Contents, path: Path, level: int) -> bool:
    """Return whether the symbols of a link may stand under a level: its last interval is kept free for them."""
    return max(depth_of(what, end) for end in path.ends) == level + 1


def _levels(needs: _Needs, height: float) -> Levels:
    density, intervals = needs.density, needs.intervals
    spare = height - needs.total
    above = needs.above + min(spare * 0.5, needs.above * 0.35)
    more = min((spare - (above - needs.above)) / len(intervals), density.interval * 0.6)
    left_over = spare - (above - needs.above) - more * len(intervals)
    copper = left_over / 2 + above
    floor = copper + density.copper + density.board
    metal: list[float] = []
    edge = floor
    for interval in intervals[:-1]:
        metal.append(edge + interval + more)
        edge = metal[-1] + density.metal
    return Levels(
        rungs=_rungs(needs, copper, above),
        copper=copper,
        board=copper + density.copper,
        floor=floor,
        metal=tuple(metal),
        earth=edge + intervals[-1] + more,
        height=height,
    )


def _rungs(needs: _Needs, copper: float, above: float) -> tuple[float, ...]:
    """Return the heights of transformers and branches, spread over the room that is kept for them."""
    density, windings = needs.density, len(needs.what.transformers)
    room = (above - needs.arcs) / (needs.rows + windings)
    pitch = density.pitch + min(room, density.pitch * 0.4)
    winding = density.winding + min(room, density.winding * 0.4)
    first = copper - density.first - min(room, 12.0)
    own = max(len(needs.what.branches), 1)
    lowest = first - (needs.rows - own) * pitch / 2
    highest = first - (needs.rows - 1) * pitch
    branches = [lowest - k * pitch for k in reversed(range(own))]
    return (*(highest - (k + 1) * winding for k in reversed(range(windings))), *branches)
