"""The sheet on which the section drawing is put together, and the few things drawn in many places alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import Factory, define

from app.present.section_contents import Path
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
from app.present.section_zones import Density

SHOWN_FROM = 0.005
"""Below this share a path's current is not drawn."""

Stop = tuple[float, float]
"""From where to where a wire is interrupted."""


@define
class Sketch:
    """Collects what is drawn."""

    plan: Plan
    measure: Measure
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

    def text(self, text: str, box: Box, *, role: str = "text", face: str = "small", align: str = "left") -> Box | None:
        """Write a line as far as it fits its box; return what it covers."""
        shown = elided(text, box.width, face, self.measure)
        if not shown:
            return None
        width = self.measure(shown, face)
        left = {"left": box.left, "right": box.right - width, "middle": box.middle[0] - width / 2}[align]
        covered = Box(left=left, top=box.top, width=width, height=box.height)
        self.texts.append(TextSpec(text=shown, box=covered, role=role, face=face, align=align))
        return covered

    def badge(self, share: float, at: Point, *, align: str = "middle") -> Box | None:
        """Put up the percentage of a path, where it is worth one."""
        text = share_text(share)
        if not text:
            return None
        density = self.density
        width, height = self.measure(text, density.badge_face) + 16.0, density.badge[1]
        left = {"left": at[0], "middle": at[0] - width / 2, "right": at[0] - width}[align]
        box = Box(left=left, top=at[1] - height / 2, width=width, height=height)
        self.badges.append(BadgeSpec(text=text, box=box, face=density.badge_face))
        return box

    def current(self, path: Path, points: tuple[Point, ...], radius: float) -> None:
        """Draw the ribbon of a path."""
        if path.share >= SHOWN_FROM:
            width = path.share * self.density.ribbon
            corner = max(radius, width / 2)
            self.ribbons.append(RibbonSpec(key=path.key, points=points, radius=corner, width=width, share=path.share))

    def wire(self, path: Path, points: Sequence[Point], radius: float = 0.0) -> None:
        """Draw a piece of a path's wire: dashed in the candidate's ink where current flows."""
        if path.share >= SHOWN_FROM:
            width = min(max(path.share * self.density.ribbon * 0.2, 1.6), 4.0)
            corner = max(radius, path.share * self.density.ribbon / 2)
            self.lines.append(LineSpec(points=tuple(points), radius=corner, width=width, role="flow"))
        else:
            self.lines.append(LineSpec(points=tuple(points), radius=radius, width=1.2, role="muted"))

    def item(self, key: ItemKey, name: str, box: Box, card: Callable[[], str]) -> None:
        """Make something choosable."""
        whole = key.kind not in ("branch", "gap") and (key.kind, key.index) == self.subject
        self.items.append(ItemSpec(key=key, name=name, box=box, card=card, selected=whole or key == self.chosen))


def around(boxes: Sequence[Box], margin: float = 2.0) -> Box:
    """Return the rectangle around others."""
    left, top = min(each.left for each in boxes), min(each.top for each in boxes)
    right, bottom = max(each.right for each in boxes), max(each.bottom for each in boxes)
    return Box(left=left, top=top, width=right - left, height=bottom - top).grown(margin)


def lanes(paths: Sequence[Path], ribbon: float) -> list[float]:
    """Return the centre of each path's ribbon where they run beside each other, the outermost first."""
    at = (ribbon - ribbon * sum(each.share for each in paths)) / 2
    centres = []
    for path in paths:
        centres.append(at + path.share * ribbon / 2)
        at += path.share * ribbon
    return centres


def path_name(path: Path) -> str:
    """Return a path as assistive tools speak of it."""
    values = ", ".join(sign.value for sign in path.signs)
    text = share_text(path.share)
    told = (path.name, values or path.note, f"{text} of the current" if text else "")
    return " ".join(each for each in told[:2] if each) + (f", {told[2]}" if text else "")
