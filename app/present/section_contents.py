"""What the section drawing shows of a case: paths with their parts and shares, sources, regions. No places yet."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from attrs import frozen

from app.present.numbers import reading
from app.present.section_parts import impedance_ohm, part_name, part_value, share_text
from app.present.section_specs import ItemKey
from app.state.results import Reading
from app.state.view import View
from models.case.document import Branch, Cable, Candidate, Case, Coupling, Transformer
from models.network.edges import cable_edge
from models.outcomes.paths import PathShare
from models.parts.capacitor import Capacitor
from models.parts.part import Part
from models.quantity import format_quantity
from models.sources.registry import Source

Card = Callable[[], str]


@frozen(kw_only=True, eq=False)
class Sign:
    """One symbol of a path, with its value."""

    kind: str
    value: str
    key: ItemKey
    name: str
    card: Card


@frozen(kw_only=True, eq=False)
class Path:
    """Anything that joins two nodes and carries current."""

    key: ItemKey
    ends: tuple[str, str]
    name: str
    note: str
    signs: tuple[Sign, ...]
    share: float
    card: Card
    foot: str = ""
    """How a cable ends: open, earthed, lisn or load."""

    def joins(self, one: str, other: str) -> bool:
        """Return whether these are the path's ends, either way round."""
        return set(self.ends) == {one, other}


@frozen(kw_only=True, eq=False)
class Drive:
    """A source and the region on which it stands; none for one that acts between the earths."""

    key: ItemKey
    kind: str
    region: str | None
    name: str
    note: str
    card: Card


@frozen(kw_only=True, eq=False)
class Contents:
    """All that is drawn, sorted by where it goes."""

    a: str
    b: str
    others: tuple[str, ...]
    earth: str
    transformers: tuple[Path, ...]
    branches: tuple[Path, ...]
    gaps: tuple[Path, ...]
    """Couplings straight across the pair."""
    links: tuple[Path, ...]
    """Whatever joins other nodes than the pair."""
    cables: tuple[Path, ...]
    drives: tuple[Drive, ...]
    notes: dict[str, str]
    """What to say beside the name of a region."""
    most_branches: int
    most_parts: int
    """The most branches across the pair, and parts in one, of any candidate: room for these is kept."""
    nothing: str

    @property
    def above(self) -> tuple[Path, ...]:
        """What arcs over the gap, from top to bottom."""
        return (*self.transformers, *self.branches)

    @property
    def paths(self) -> tuple[Path, ...]:
        """Everything that carries current."""
        return (*self.transformers, *self.branches, *self.gaps, *self.links, *self.cables)


def contents(case: Case, readings: tuple[Reading, ...], view: View) -> Contents:
    """Return what there is to draw of a case with the selected candidate."""
    candidate = case.candidates[view.candidate] if view.candidate < len(case.candidates) else None
    measured = readings[view.candidate].paths if view.candidate < len(readings) else ()
    teller = _Teller(case=case, f_hz=view.cursor_hz, measured=measured)
    across = case.pair.a, case.pair.b
    windings = tuple(teller.transformer(k, each) for k, each in enumerate(case.transformers))
    couplings = tuple(teller.coupling(k, each) for k, each in enumerate(case.couplings))
    branches = tuple(teller.branch(k, each) for k, each in enumerate(candidate.branches if candidate else ()))
    standing = (*windings, *couplings, *branches)
    return Contents(
        a=case.pair.a,
        b=case.pair.b,
        others=case.pair.others,
        earth=case.surroundings.name,
        transformers=_joining(windings, across),
        branches=_joining(branches, across),
        gaps=_joining(couplings, across),
        links=tuple(each for each in standing if not each.joins(*across)),
        cables=tuple(teller.cable(k, each) for k, each in enumerate(case.cables)),
        drives=tuple(teller.drive(k, each) for k, each in enumerate(case.sources)),
        notes=_region_notes(case),
        most_branches=max((len(_across(case, each)) for each in case.candidates), default=0),
        most_parts=max((len(b.parts) for each in case.candidates for b in _across(case, each)), default=1),
        nothing="nothing joins the regions" if candidate else "no candidate yet",
    )


@frozen(kw_only=True, eq=False)
class _Teller:
    """Puts names, values and cards to the things of a case."""

    case: Case
    f_hz: float
    measured: tuple[PathShare, ...]

    def transformer(self, index: int, each: Transformer) -> Path:
        value = format_quantity(each.interwinding_capacitance_f, "F", digits=3)
        stand_in = (Capacitor(capacitance_f=each.interwinding_capacitance_f),)
        note = f"{format_quantity(each.driven_fraction, '', digits=2)} driven"
        key = ItemKey(kind="transformer", index=index)
        return self._whole(key, each.between, each.name, note, stand_in, symbol=("transformer", value))

    def coupling(self, index: int, each: Coupling) -> Path:
        alone = len(each.parts) == 1
        kind = each.parts[0].kind if alone else "series"
        value = part_value(each.parts[0]) if alone else f"{len(each.parts)} parts"
        key = ItemKey(kind="coupling", index=index)
        return self._whole(key, each.between, each.name, "", each.parts, symbol=(kind, value))

    def cable(self, index: int, each: Cable) -> Path:
        loaded = not isinstance(each.far_end, str)
        foot = "load" if loaded else str(each.far_end)
        ending = f"{reading(float(each.far_end), 'ohm')} to earth" if loaded else _FAR_ENDS[foot]
        note = f"{format_quantity(each.length_m, 'm', digits=3)}, {ending}"
        key = ItemKey(kind="cable", index=index)
        ends = (each.region, self.case.surroundings.name)
        share, current = self._measured("cable", index)
        card = partial(self._cable_card, each, note, share, current)
        return Path(key=key, ends=ends, name=each.name, note=note, signs=(), share=share, card=card, foot=foot)

    def branch(self, index: int, each: Branch) -> Path:
        share, current = self._measured("branch", index)
        name = f"branch {index + 1}"
        card = partial(self._card, name, share, current, each.parts)
        signs = tuple(self._part_sign(index, place, part, share) for place, part in enumerate(each.parts))
        key = ItemKey(kind="branch", index=index)
        ends = self.case.ends_of(each)
        return Path(key=key, ends=ends, name=name, note="", signs=signs, share=share, card=card)

    def drive(self, index: int, each: Source) -> Drive:
        unit = "V" if hasattr(each, "amplitude_v") or hasattr(each, "voltage_v") else "A"
        note = f"{reading(each.level(), unit)}, {format_quantity(each.wave.frequency_hz, 'Hz', digits=3)}"
        first, second = self.case.source_ends(each)
        through = getattr(each, "through", None)
        way = f"through {through}" if through else f"{first} to {second}"
        return Drive(
            key=ItemKey(kind="source", index=index),
            kind=each.kind,
            region=None if each.kind == "mains-offset" else first,
            name=each.name,
            note=note,
            card=lambda: f"{each.name}\n{note}\n{each.kind.replace('-', ' ')}, {way}",
        )

    def _whole(
        self,
        key: ItemKey,
        ends: tuple[str, str],
        name: str,
        note: str,
        parts: tuple[Part, ...],
        *,
        symbol: tuple[str, str],
    ) -> Path:
        """Return a path that is drawn and chosen as one thing."""
        share, current = self._measured(key.kind, key.index)
        kind, value = symbol
        card = partial(self._card, f"{name}, {value}", share, current, parts)
        sign = Sign(kind=kind, value=value, key=key, name=f"{name} {value}", card=card)
        return Path(key=key, ends=ends, name=name, note=note, signs=(sign,), share=share, card=card)

    def _measured(self, role: str, index: int) -> tuple[float, float]:
        """Return share and current per ampere of the path that is the index-th of its role."""
        same = [each for each in self.measured if each.role == role]
        if index >= len(same):
            return 0.0, 0.0
        return float(same[index].share[0]), float(abs(same[index].current[0]))

    def _part_sign(self, branch: int, place: int, part: Part, share: float) -> Sign:
        value = part_value(part)
        name = f"{part_name(part)} {value}"
        text = share_text(share)
        return Sign(
            kind=part.kind,
            value=value,
            key=ItemKey(kind="branch", index=branch, part=place),
            name=f"{name}, branch {branch + 1}" + (f", {text} of the current" if text else ""),
            card=lambda: "\n".join((f"{name}, branch {branch + 1}", self._at_cursor((part,)), _share_line(share))),
        )

    def _card(self, name: str, share: float, current: float, parts: tuple[Part, ...]) -> str:
        return "\n".join((name, _share_line(share), _current_line(current), self._at_cursor(parts)))

    def _cable_card(self, cable: Cable, note: str, share: float, current: float) -> str:
        parts = cable_edge(self.case, cable).parts
        return self._card(f"{cable.name}, {note}", share, current, parts)

    def _at_cursor(self, parts: tuple[Part, ...]) -> str:
        frequency = format_quantity(self.f_hz, "Hz", digits=3)
        return f"|Z| {reading(impedance_ohm(parts, self.f_hz), 'ohm')} at {frequency}"


_FAR_ENDS = {"open": "open end", "earthed": "earthed", "lisn": "to the LISN"}


def _share_line(share: float) -> str:
    return f"{share_text(share) or 'under 0.5 %'} of the return current"


def _current_line(current: float) -> str:
    return f"{reading(current, 'A')} for each ampere that returns"


def _joining(paths: Iterable[Path], across: tuple[str, str]) -> tuple[Path, ...]:
    return tuple(each for each in paths if each.joins(*across))


def _across(case: Case, candidate: Candidate) -> tuple[Branch, ...]:
    return tuple(branch for branch in candidate.branches if case.is_across(branch))


def _region_notes(case: Case) -> dict[str, str]:
    return dict(_mains_notes(case))


def _mains_notes(case: Case) -> Iterator[tuple[str, str]]:
    if case.mains is not None:
        yield case.mains.touched, "can be touched"
        yield case.mains.feeds, f"mains {format_quantity(case.mains.voltage_v, 'V')}"
