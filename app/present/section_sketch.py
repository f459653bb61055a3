"""The sheet on which the section drawing is put together, and the few things drawn in many places alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from attrs import Factory, define

from app.present.section_contents import Path, Sign
from app.present.section_currents import Currents
from app.present.section_density import Density
from app.present.section_levels import Plan
from app.present.section_parts import share_text
from app.present.section_specs import (
    BadgeSpec,
    Box,
    ItemKey,
    ItemSpec,
    LineSpec,
    Measure,
    Point,
    RibbonSpec,
    StripSpec,
    SymbolSpec,
    TextSpec,
)
from app.present.section_text import elided

Stop = tuple[float, float]
"""From where to where a wire is interrupted."""


@define
class Sketch:
    """Collects what is drawn."""

    plan: Plan
    measure: Measure
    currents: Currents
    subject: tuple[str, int]
    chosen: ItemKey | None
    board: list[StripSpec] = Factory(list)
    metal: list[StripSpec] = Factory(list)
    ribbons: list[RibbonSpec] = Factory(list)
    lines: list[LineSpec] = Factory(list)
    symbols: list[SymbolSpec] = Factory(list)
    badges: list[BadgeSpec] = Factory(list)
    texts: list[TextSpec] = Factory(list)
    items: list[ItemSpec] = Factory(list)

    @property
    def density(self) -> Density:
        """The sizes that hold."""
        return self.plan.density

    def text(
        self,
        text: str,
        box: Box,
        *,
        role: str = "text",
        face: str = "small",
        align: str = "left",
        ground: bool = False,
        cut: bool = True,
    ) -> Box | None:
        """Write a line as far as it fits its box, or not at all where it must not be cut; return what it covers."""
        shown = elided(text, box.width, face, self.measure)
        if shown != text and not cut:
            return None
        if not shown:
            return None
        width = self.measure(shown, face)
        left = {"left": box.left, "right": box.right - width, "middle": box.middle[0] - width / 2}[align]
        covered = Box(left=left, top=box.top, width=width, height=box.height)
        self.texts.append(TextSpec(text=shown, box=covered, role=role, face=face, ground=ground))
        return covered

    def badge(self, path: Path, at: Point, *, align: str = "middle") -> Box | None:
        """Put up the percentage of a path, where it is worth one."""
        text = share_text(self.currents.share(path))
        if not text:
            return None
        density = self.density
        width, height = self.measure(text, density.badge_face) + 16.0, density.badge[1]
        left = {"left": at[0], "middle": at[0] - width / 2, "right": at[0] - width}[align]
        box = Box(left=left, top=at[1] - height / 2, width=width, height=height)
        self.badges.append(BadgeSpec(text=text, box=box, face=density.badge_face))
        return box

    def ribbon_width(self, path: Path) -> float:
        """Return the width of the ribbon of a path."""
        return self.currents.share(path) * self.density.ribbon

    def current(self, path: Path, points: tuple[Point, ...], radius: float) -> None:
        """Draw the ribbon of a path."""
        if self.currents.flows(path):
            width, share = self.ribbon_width(path), self.currents.share(path)
            corner = max(radius, width / 2)
            self.ribbons.append(RibbonSpec(key=path.key, points=points, radius=corner, width=width, share=share))

    def wire(self, path: Path, points: Sequence[Point], radius: float = 0.0) -> None:
        """Draw a piece of a path's wire: dashed in the candidate's ink where current flows."""
        if self.currents.flows(path):
            width = min(max(self.ribbon_width(path) * 0.2, 1.6), 4.0)
            corner = max(radius, self.ribbon_width(path) / 2)
            self.lines.append(LineSpec(points=tuple(points), radius=corner, width=width, role="flow"))
        else:
            self.lines.append(LineSpec(points=tuple(points), radius=radius, width=1.2, role="muted"))

    def lanes(self, paths: Sequence[Path]) -> list[float]:
        """Return the centre of each path's ribbon where they run beside each other, the outermost first."""
        widths = [self.ribbon_width(path) for path in paths]
        at = (self.density.ribbon - sum(widths)) / 2
        return [at + sum(widths[:place]) + width / 2 for place, width in enumerate(widths)]

    def path_item(self, path: Path, box: Box) -> None:
        """Make a path choosable as a whole."""
        self.item(path.key, self.currents.name(path), box, partial(self.currents.path_card, path))

    def part_item(self, path: Path, sign: Sign, box: Box) -> None:
        """Make one part of a branch choosable."""
        text = share_text(self.currents.share(path))
        name = f"{sign.name}, {text} of the current" if text else sign.name
        self.item(sign.key, name, box, partial(self.currents.part_card, path, sign))

    def item(self, key: ItemKey, name: str, box: Box, card: Callable[[], str]) -> None:
        """Make something choosable."""
        whole = key.kind not in ("branch", "gap") and (key.kind, key.index) == self.subject
        self.items.append(ItemSpec(key=key, name=name, box=box, card=card, selected=whole or key == self.chosen))


def around(boxes: Sequence[Box], margin: float = 2.0) -> Box:
    """Return the rectangle around others."""
    left, top = min(each.left for each in boxes), min(each.top for each in boxes)
    right, bottom = max(each.right for each in boxes), max(each.bottom for each in boxes)
    return Box(left=left, top=top, width=right - left, height=bottom - top).grown(margin)
