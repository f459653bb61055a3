"""Where things stand in the section drawing: how much width each asks for, and the column it gets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate, pairwise

from attrs import frozen

from app.present.section_contents import Contents, Drive, Path
from app.present.section_density import Density
from app.present.section_specs import Measure

LABEL_LEAST = 26.0
"""A label narrower than this says nothing and gives its room to the drawing."""
METAL_NAME = 72.0
"""Room for the name of a further region before the signs of sources on it."""
_LABEL_MOST = 150.0
_MARGIN = 4.0
_MOST_ROWS = 3
"""So many sources stand above each other before they give up their names."""


@frozen(kw_only=True)
class Demand:
    """How much width something cannot do without, and how much it would like."""

    least: float
    wanted: float


@frozen(kw_only=True)
class Span:
    """A stretch from left to right."""

    left: float
    right: float

    @property
    def width(self) -> float:
        """Its length."""
        return self.right - self.left


@frozen(kw_only=True, eq=False)
class Zones:
    """The columns of the drawing, and what stands in each of them."""

    left: Span
    centre: Span
    right: Span
    slots: tuple[tuple[Path, Span, str], ...]
    """Links with their column and side."""
    cables: tuple[tuple[Path, Span, str], ...]
    """Cables from the outermost inwards, with their column and side."""
    offsets: tuple[Span, ...]
    """Columns of the sources between earths."""
    ease: float
    """The width there is over the width that would be wanted."""


def shared(start: float, width: float, demands: Sequence[Demand]) -> tuple[Span, ...]:
    """Return stretches beside each other that fill a width: the least for each, then what is wanted, then all alike."""
    least = sum(each.least for each in demands)
    greed = sum(each.wanted - each.least for each in demands)
    spare = width - least
    if spare <= 0.0:
        widths = [each.least * width / least for each in demands] if least else []
    else:
        part = min(1.0, spare / greed) if greed > 0.0 else 0.0
        rest = (spare - part * greed) / max(len(demands), 1)
        widths = [each.least + part * (each.wanted - each.least) + rest for each in demands]
    edges = list(accumulate(widths, initial=start))
    return tuple(Span(left=low, right=high) for low, high in pairwise(edges))


def _at_ease(span: Span, need: Demand) -> Span:
    """Return the middle of a stretch that is longer than anyone wanted."""
    margin = max(span.width - need.wanted, 0.0) / 2
    return Span(left=span.left + margin, right=span.right - margin)


def earth_room(what: Contents, width: float, measure: Measure) -> float:
    """Return how much of the right end the name of the surroundings takes."""
    return min(measure(what.earth, "small"), width / 4) + 9.0


def zones(what: Contents, density: Density, width: float, measure: Measure) -> Zones:
    """Return the columns of a drawing."""
    if any(cable_side(what, each) == "right" for each in what.cables):
        width -= earth_room(what, width, measure)
    links = {side: _sorted_links(what, side) for side in ("left", "centre", "right")}
    cables = {side: _sorted_cables(what, side) for side in ("left", "right")}
    offsets = [each for each in what.drives if each.region is None]
    needs = {side: [_link_demand(each, measure) for each in links[side]] for side in links}
    needs["centre"] += [_label_demand((each.name,), measure) for each in offsets]
    outer = {side: [_cable_demand(each, len(cables[side]), measure) for each in cables[side]] for side in cables}
    demands = (
        _sum(outer["left"]),
        _board_demand(what, what.a, needs["left"], density, measure),
        _centre_demand(what, needs["centre"], density, measure, most=0.42 * width),
        _board_demand(what, what.b, needs["right"], density, measure),
        _sum(outer["right"]),
    )
    five = _five(width, demands)
    columns = dict(zip(("left", "centre", "right"), five[1:4], strict=True))
    slots: list[tuple[Path, Span, str]] = []
    for side, column in columns.items():
        inner = _inner(column, side, density)
        spans = tuple(map(_at_ease, shared(inner.left, inner.width, needs[side]), needs[side]))
        slots += [(path, span, side) for path, span in zip(links[side], spans, strict=False)]
        if side == "centre":
            offset_spans = spans[len(links[side]) :]
    return Zones(
        left=five[1],
        centre=five[2],
        right=five[3],
        slots=tuple(slots),
        cables=(
            *_cable_slots(cables["left"], five[0], outer["left"], "left"),
            *_cable_slots(cables["right"], five[4], outer["right"], "right"),
        ),
        offsets=tuple(offset_spans),
        ease=width / sum(each.wanted for each in demands),
    )


def source_columns(what: Contents, region: str, density: Density, width: float, measure: Measure) -> int:
    """Return in how many columns the sources on a region stand: beside each other as far as their names fit."""
    own = [each for each in what.drives if each.region == region]
    widest = max((source_width(each, density, measure) for each in own), default=1.0)
    fit = max(int(width / widest), math.ceil(len(own) / _MOST_ROWS))
    return max(min(fit, len(own), int(width / (2 * density.source + 8.0))), 1)


def source_width(drive: Drive, density: Density, measure: Measure) -> float:
    """Return the width of a source with all that is written beside it."""
    texts = (drive.name, drive.note) if density.notes else (drive.name,)
    return 2 * density.source + 16.0 + max(measure(text, "small") for text in texts)


def _cable_slots(cables: list[Path], zone: Span, needs: list[Demand], side: str) -> list[tuple[Path, Span, str]]:
    spans = shared(zone.left, zone.width, needs if side == "left" else needs[::-1])
    ordered = spans if side == "left" else spans[::-1]
    return [(cable, span, side) for cable, span in zip(cables, ordered, strict=True)]


def _five(width: float, wanted: tuple[Demand, ...]) -> tuple[Span, ...]:
    """Return the columns; what is to spare makes the two sides alike first, then goes to copper and gap."""
    demands = list(wanted)
    spare = width - sum(each.wanted for each in demands)
    if spare > 0.0:
        sides = demands[0].wanted + demands[1].wanted, demands[3].wanted + demands[4].wanted
        even = min(abs(sides[0] - sides[1]), spare)
        extra = [even if sides[0] < sides[1] else 0.0, 0.0, even if sides[0] >= sides[1] else 0.0]
        share = (spare - even) / 3.0
        for place, more in zip((1, 2, 3), extra, strict=True):
            grown = demands[place].wanted + more + share
            demands[place] = Demand(least=grown, wanted=grown)
        for place in (0, 4):
            demands[place] = Demand(least=demands[place].wanted, wanted=demands[place].wanted)
    return shared(0.0, width, demands)


def _inner(column: Span, side: str, density: Density) -> Span:
    """Return the part of a column in which things hang, away from the edges of the board and of the gap."""
    if side == "centre":
        room = density.trunk / 2
        return Span(left=column.left + room, right=column.right - room)
    return Span(left=column.left + _MARGIN, right=column.right - _MARGIN)


def side_of(what: Contents, path: Path) -> str:
    """Return on which side of the gap a link stands."""
    return "left" if what.a in path.ends else "right" if what.b in path.ends else "centre"


def depth_of(what: Contents, node: str) -> int:
    """Return the level of a node: 0 the board, then the further regions, the earth last."""
    if node in (what.a, what.b):
        return 0
    return what.others.index(node) + 1 if node in what.others else len(what.others) + 1


def _sorted_links(what: Contents, side: str) -> list[Path]:
    """Return the links of a side: what goes deepest stands outermost, so that it passes the other regions by."""
    links = [each for each in what.links if side_of(what, each) == side]
    return sorted(
        links, key=lambda each: max(depth_of(what, end) for end in each.ends) * (1 if side == "right" else -1)
    )


def _sorted_cables(what: Contents, side: str) -> list[Path]:
    """Return the cables of a side from the outermost, which leaves highest, inwards."""
    chosen = [each for each in what.cables if cable_side(what, each) == side]
    return sorted(chosen, key=lambda each: depth_of(what, each.ends[0]))


def cable_side(what: Contents, cable: Path) -> str:
    """Return at which end a cable leaves; those of further regions leave in turn at the left and at the right."""
    region = cable.ends[0]
    if region in (what.a, what.b):
        return "left" if region == what.a else "right"
    return ("right", "left")[what.cables.index(cable) % 2]


def _link_demand(path: Path, measure: Measure) -> Demand:
    if not path.whole:
        return _label_demand(tuple(sign.value for sign in path.signs), measure, extra=50.0)
    return _label_demand((path.name, *(sign.value for sign in path.signs)), measure)


def _cable_demand(cable: Path, count: int, measure: Measure) -> Demand:
    """Return the width of a cable: one that leaves alone keeps room for its longest word."""
    asked = _label_demand((cable.name, cable.note), measure)
    word = max(measure(each, "small") for each in (*cable.name.split(), ""))
    least = 40.0 + min(word, 60.0) if count == 1 else asked.least
    return Demand(least=least, wanted=max(asked.wanted, least))


def _label_demand(texts: tuple[str, ...], measure: Measure, *, extra: float = 0.0) -> Demand:
    widest = max(measure(text, "small") for text in texts)
    return Demand(least=28.0, wanted=40.0 + max(min(widest + extra, _LABEL_MOST), 56.0))


def _board_demand(what: Contents, region: str, links: list[Demand], density: Density, measure: Measure) -> Demand:
    name = measure(region, "strong") + 24.0
    note = what.notes.get(region, "")
    if density.notes and note:
        name += measure(note, "small") + 10.0
    sources = [each for each in what.drives if each.region == region]
    label = max((measure(each.name, "small") for each in sources), default=0.0)
    drives = (2 * density.source + min(label, _LABEL_MOST) + 30.0 + 15.0 * len(sources)) if sources else 0.0
    below = _sum(links, margin=2 * _MARGIN)
    return Demand(
        least=max(below.least, 70.0, 2 * density.source + 44.0 if sources else 0.0),
        wanted=max(below.wanted, name, drives, 120.0),
    )


def _centre_demand(what: Contents, links: list[Demand], density: Density, measure: Measure, *, most: float) -> Demand:
    trunks = 2 * density.trunk
    text = max((measure(f"{each.name}  {each.signs[0].value}", "small") for each in what.gaps), default=0.0)
    wanted = max(what.most_parts * 84.0 + 2 * density.badge[0], min(text, 190.0) + density.badge[0] + 40.0, 180.0)
    below = _sum(links)
    parts = min(what.most_parts * 70.0 + trunks + density.badge[0] + 24.0, most)
    return Demand(
        least=max(parts, what.most_parts * 24.0 + trunks + density.badge[0], below.least + trunks, trunks + 110.0),
        wanted=max(trunks + wanted, below.wanted + trunks),
    )


def _sum(demands: list[Demand], *, margin: float = _MARGIN) -> Demand:
    return Demand(
        least=margin + sum(each.least for each in demands), wanted=margin + sum(each.wanted for each in demands)
    )
