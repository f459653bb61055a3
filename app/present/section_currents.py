"""The current on the section drawing at the cursor: each path's share, and what the cards say of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from attrs import frozen

from app.present.numbers import reading
from app.present.section_contents import Contents, Drive, Path, Sign
from app.present.section_parts import impedance_ohm, share_text
from app.present.section_specs import ItemKey
from models.outcomes.paths import PathShare
from models.parts.part import Part
from models.quantity import format_quantity

SHOWN_FROM = 0.005
"""Below this share a path's current is not drawn."""


@frozen(kw_only=True, eq=False)
class Currents:
    """Share and current of every path at one frequency; 0 where nothing was computed."""

    f_hz: float
    shares: Mapping[ItemKey, tuple[float, float]]

    def share(self, path: Path) -> float:
        """Return the share of a path, 0 to 1."""
        return self.shares.get(path.key, (0.0, 0.0))[0]

    def flows(self, path: Path) -> bool:
        """Return whether a path carries enough current to be drawn."""
        return self.share(path) >= SHOWN_FROM

    def name(self, path: Path) -> str:
        """Return a path as assistive tools speak of it."""
        values = ", ".join(sign.value for sign in path.signs) or path.note
        text = share_text(self.share(path))
        return f"{path.name} {values}" + (f", {text} of the current" if text else "")

    def summary(self, what: Contents) -> str:
        """Return the paths that carry current, the largest first, in one sentence."""
        flowing = sorted((path for path in what.paths if self.flows(path)), key=lambda path: -self.share(path))
        return "; ".join(self.name(path) for path in flowing) or what.nothing

    def path_card(self, path: Path) -> str:
        """Return what the card of a path says."""
        values = ", ".join(sign.value for sign in path.signs) or path.note
        current = self.shares.get(path.key, (0.0, 0.0))[1]
        flow = f"{reading(current, 'A')} for each ampere that returns"
        return "\n".join((f"{path.name}, {values}", self._share_line(path), flow, self._impedance(path.parts)))

    def part_card(self, path: Path, sign: Sign) -> str:
        """Return what the card of one part of a branch says."""
        return "\n".join((sign.name, self._share_line(path), self._impedance(sign.parts)))

    def _share_line(self, path: Path) -> str:
        return f"{share_text(self.share(path)) or 'under 0.5 %'} of the return current"

    def _impedance(self, parts: tuple[Part, ...]) -> str:
        at = format_quantity(self.f_hz, "Hz", digits=3)
        return f"|Z| {reading(impedance_ohm(parts, self.f_hz), 'ohm')} at {at}"


def currents(f_hz: float, measured: Iterable[PathShare]) -> Currents:
    """Return the currents of the paths that were computed for one frequency."""
    shares: dict[ItemKey, tuple[float, float]] = {}
    counts: dict[str, int] = {}
    for each in measured:
        # paths come in the order of the case within each role
        index = counts.get(each.role, 0)
        counts[each.role] = index + 1
        shares[ItemKey(kind=each.role, index=index)] = float(each.share[0]), float(abs(each.current[0]))
    return Currents(f_hz=f_hz, shares=shares)


def drive_card(drive: Drive) -> str:
    """Return what the card of a source says."""
    return f"{drive.name}\n{drive.note}\n{drive.kind.replace('-', ' ')}, {drive.way}"


def region_card(what: Contents, name: str) -> str:
    """Return what the card of a region says."""
    role = "a further region" if name in what.others else "one of the pair"
    lines = (f"{name}, {role}", what.notes.get(name, ""))
    return "\n".join(line for line in lines if line)
