"""What the section drawing shows of a case: paths with their parts, sources, regions. No places and no currents yet."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen

from app.present.numbers import reading
from app.present.section_parts import part_class, part_name, part_value
from app.present.section_specs import ItemKey
from models.case.document import Branch, Cable, Candidate, Case, Coupling, Transformer
from models.network.edges import cable_edge
from models.parts.capacitor import Capacitor
from models.parts.part import Part
from models.quantity import format_quantity
from models.sources.measured import MeasuredSpectrum, MeasuredWaveform
from models.sources.source import Source

_FAR_ENDS = {"open": "open end", "earthed": "earthed", "lisn": "to the LISN"}


@frozen(kw_only=True, eq=False)
class Sign:
    """One symbol of a path, with its value."""

    kind: str
    value: str
    key: ItemKey
    name: str
    parts: tuple[Part, ...]
    suffix: str = ""
    """What is written behind the value where there is room."""


@frozen(kw_only=True, eq=False)
class Path:
    """Anything that joins two nodes and carries current."""

    key: ItemKey
    ends: tuple[str, str]
    name: str
    note: str
    parts: tuple[Part, ...]
    signs: tuple[Sign, ...] = ()
    foot: str = ""
    """How a cable ends: open, earthed, lisn or load."""

    @property
    def whole(self) -> bool:
        """Whether it is chosen as one thing, rather than part by part."""
        return self.key.kind != "branch"

    def joins(self, one: str, other: str) -> bool:
        """Return whether these are the path's ends, either way round."""
        return set(self.ends) == {one, other}


@frozen(kw_only=True, eq=False)
class Drive:
    """A source and the region on which it stands; none for one that acts in the earth."""

    key: ItemKey
    kind: str
    region: str | None
    name: str
    note: str
    way: str
    """Where it acts, in words."""


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
    """What to say in place of branches."""

    @property
    def above(self) -> tuple[Path, ...]:
        """What arcs over the gap, from top to bottom."""
        return (*self.transformers, *self.branches)

    @property
    def paths(self) -> tuple[Path, ...]:
        """Everything that carries current."""
        return (*self.transformers, *self.branches, *self.gaps, *self.links, *self.cables)


def contents(case: Case, selected: int) -> Contents:
    """Return what there is to draw of a case with the candidate at an index."""
    candidate = case.candidates[selected] if selected < len(case.candidates) else None
    across = case.pair.ends
    windings = tuple(_transformer(k, each) for k, each in enumerate(case.transformers))
    couplings = tuple(_coupling(k, each) for k, each in enumerate(case.couplings))
    branches = tuple(_branch(case, k, each) for k, each in enumerate(candidate.branches if candidate else ()))
    return Contents(
        a=case.pair.a,
        b=case.pair.b,
        others=case.pair.others,
        earth=case.surroundings.name,
        transformers=_joining(windings, across),
        branches=_joining(branches, across),
        gaps=_joining(couplings, across),
        links=tuple(each for each in (*windings, *couplings, *branches) if not each.joins(*across)),
        cables=tuple(_cable(case, k, each) for k, each in enumerate(case.cables)),
        drives=tuple(_drive(case, k, each) for k, each in enumerate(case.sources)),
        notes=_region_notes(case),
        most_branches=max((len(_across(case, each)) for each in case.candidates), default=0),
        most_parts=max((len(b.parts) for each in case.candidates for b in _across(case, each)), default=1),
        nothing="nothing joins the regions" if candidate else "no candidate yet",
    )


def _transformer(index: int, each: Transformer) -> Path:
    value = format_quantity(each.interwinding_capacitance_f, "F", digits=3)
    stand_in = (Capacitor(capacitance_f=each.interwinding_capacitance_f),)
    note = f"{format_quantity(each.driven_fraction, '', digits=2)} driven"
    key = ItemKey(kind="transformer", index=index)
    return _whole(key, each.between, (each.name, note), stand_in, ("transformer", value))


def _coupling(index: int, each: Coupling) -> Path:
    alone = len(each.parts) == 1
    symbol = (each.parts[0].kind, part_value(each.parts[0])) if alone else ("series", f"{len(each.parts)} parts")
    return _whole(ItemKey(kind="coupling", index=index), each.between, (each.name, ""), each.parts, symbol)


def _whole(
    key: ItemKey, ends: tuple[str, str], words: tuple[str, str], parts: tuple[Part, ...], symbol: tuple[str, str]
) -> Path:
    """Return a path that is drawn with one symbol and chosen as one thing."""
    (name, note), (kind, value) = words, symbol
    sign = Sign(kind=kind, value=value, key=key, name=f"{name} {value}", parts=parts)
    return Path(key=key, ends=ends, name=name, note=note, parts=parts, signs=(sign,))


def _cable(case: Case, index: int, each: Cable) -> Path:
    loaded = not isinstance(each.far_end, str)
    foot = "load" if loaded else str(each.far_end)
    ending = f"{reading(float(each.far_end), 'ohm')} to earth" if loaded else _FAR_ENDS[foot]
    return Path(
        key=ItemKey(kind="cable", index=index),
        ends=(each.region, case.surroundings.name),
        name=each.name,
        note=f"{format_quantity(each.length_m, 'm', digits=3)}, {ending}",
        parts=cable_edge(case, each).parts,
        foot=foot,
    )


def _branch(case: Case, index: int, each: Branch) -> Path:
    return Path(
        key=ItemKey(kind="branch", index=index),
        ends=case.ends_of(each),
        name=f"branch {index + 1}",
        note="",
        parts=each.parts,
        signs=tuple(_part_sign(index, place, part) for place, part in enumerate(each.parts)),
    )


def _part_sign(branch: int, place: int, part: Part) -> Sign:
    value, suffix = part_value(part), part_class(part)
    return Sign(
        kind=part.kind,
        value=value,
        suffix=suffix,
        key=ItemKey(kind="branch", index=branch, part=place),
        name=f"{part_name(part)} {value}{suffix}, branch {branch + 1}",
        parts=(part,),
    )


def _drive(case: Case, index: int, each: Source) -> Drive:
    first, second = case.source_ends(each)
    level = "measured" if isinstance(each, MeasuredWaveform | MeasuredSpectrum) else reading(each.level(), each.unit)
    return Drive(
        key=ItemKey(kind="source", index=index),
        kind=each.kind,
        region=None if each.kind == "mains-offset" or first == case.surroundings.name else first,
        name=each.name,
        note=f"{level}, {format_quantity(each.wave.frequency_hz, 'Hz', digits=3)}",
        way=f"through {_ways(each)}" if each.through else f"{first} to {second}",
    )


def _ways(source: Source) -> str:
    """Return what a source acts through, in words."""
    also = getattr(source, "also_through", None)
    return f"{source.through} and {also}" if also else f"{source.through}"


def _joining(paths: Iterable[Path], across: tuple[str, str]) -> tuple[Path, ...]:
    return tuple(each for each in paths if each.joins(*across))


def _across(case: Case, candidate: Candidate) -> tuple[Branch, ...]:
    return tuple(branch for branch in candidate.branches if case.is_across(branch))


def _region_notes(case: Case) -> dict[str, str]:
    if case.mains is None:
        return {}
    fed = f"mains {format_quantity(case.mains.voltage_v, 'V')}"
    return {case.mains.touched: "can be touched", case.mains.feeds: fed}
