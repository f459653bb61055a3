"""What no single table can know: names that refer to each other, and a case that contradicts itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any

from models.case.document import Case
from models.codec import KeyPath, path_text
from models.errors import Problem, QuantityError
from models.network.edges import earth_edges
from models.quantity import format_quantity
from models.sources.mains_offset import MainsOffset
from models.sources.switch_node import SwitchNode

_SLENDER = 2.0
"""A wire in free space is a wire from this ratio of length to diameter on."""
_THINNEST_M = 1e-6

Finding = tuple[KeyPath, Problem]


def contradictions(case: Case) -> list[Finding]:
    """Return every way in which a case contradicts itself, with where it stands in the file."""
    return [
        (path, Problem(where=path_text(path), found=found, accepted=accepted)) for path, found, accepted in _all(case)
    ]


def _all(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    yield from _region_names(case)
    yield from _unique_names(case)
    yield from _known_ends(case)
    yield from _cables(case)
    yield from _sources(case)
    yield from _offsets(case)
    yield from _mains(case)
    yield from _limit_lines(case)
    yield from _lonely_regions(case)


def _region_names(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    names = Counter((*case.regions, case.surroundings.name))
    for name, count in names.items():
        if count > 1:
            yield ("pair",), f'"{name}" {count} times', "a different name for each region and for the surroundings"


def _unique_names(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    groups: tuple[tuple[str, tuple[Any, ...]], ...] = (
        ("transformer", case.transformers),
        ("coupling", case.couplings),
        ("cable", case.cables),
        ("candidate", case.candidates),
        ("source", case.sources),
    )
    for table, members in groups:
        seen: set[str] = set()
        for index, member in enumerate(members):
            if member.name in seen:
                yield (table, index, "name"), f'"{member.name}" a second time', f"a different name for each {table}"
            seen.add(member.name)


def _joins(case: Case) -> Iterator[tuple[KeyPath, Iterable[str]]]:
    """Yield everything that joins nodes: where it stands and which nodes."""
    for index, transformer in enumerate(case.transformers):
        yield ("transformer", index, "between"), transformer.between
    for index, coupling in enumerate(case.couplings):
        yield ("coupling", index, "between"), coupling.between
    for index, cable in enumerate(case.cables):
        yield ("cable", index, "region"), (cable.region,)
    for index, candidate in enumerate(case.candidates):
        for number, branch in enumerate(candidate.branches):
            yield ("candidate", index, "branch", number, "between"), case.ends_of(branch)


def _known_ends(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    nodes = (*case.regions, case.surroundings.name)
    listed = ", ".join(nodes)
    for path, ends in _joins(case):
        for name in ends:
            if name not in nodes:
                yield path, f'"{name}"', f"a region of the case: {listed}"


def _cables(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    for index, cable in enumerate(case.cables):
        if cable.region == case.surroundings.name:
            yield ("cable", index, "region"), f'"{cable.region}", the surroundings', "a region, which the cable leaves"
        if cable.diameter_m < _THINNEST_M:
            least = format_quantity(_THINNEST_M, "m")
            yield ("cable", index, "diameter"), format_quantity(cable.diameter_m, "m"), f"{least} or more"
        radius_m = 0.5 * cable.diameter_m
        if cable.height_m is not None and cable.height_m <= radius_m:
            found = format_quantity(cable.height_m, "m")
            yield ("cable", index, "height"), found, f"more than half the diameter, {format_quantity(radius_m, 'm')}"
        if cable.height_m is None and cable.length_m < _SLENDER * cable.diameter_m:
            least = format_quantity(_SLENDER * cable.diameter_m, "m")
            yield (
                ("cable", index, "length"),
                format_quantity(cable.length_m, "m"),
                f"at least twice the diameter, {least}",
            )


def _offsets(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    for index, source in enumerate(case.sources):
        if isinstance(source, MainsOffset) and not earth_edges(case, source.between[1]):
            accepted = "a second region that a cable or a coupling joins to the surroundings for direct current"
            yield ("source", index, "between"), f'"{source.between[1]}", which has no earth', accepted


def _sources(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    nodes = (*case.regions, case.surroundings.name)
    transformers = [transformer.name for transformer in case.transformers]
    for index, source in enumerate(case.sources):
        if source.through is not None and source.through not in transformers:
            accepted = ", ".join(f'"{name}"' for name in transformers) or "a transformer; the case has none"
            yield ("source", index, "through"), f'"{source.through}"', accepted
        if isinstance(source, SwitchNode) and source.also_through is not None:
            yield from _also_driven(case, index, source)
        for name in source.between or ():
            if name not in nodes:
                yield ("source", index, "between"), f'"{name}"', f"a region of the case: {', '.join(nodes)}"
        try:
            source.shape.harmonic_count(case.sweep.stop_hz)
        except QuantityError as error:
            yield ("source", index, "frequency"), error.found, error.accepted


def able_to_hang(case: Case, source: SwitchNode) -> tuple[str, ...]:
    """Return the couplings that can hang on a switch node: one end where its transformer begins, and no way for DC."""
    quiet = {each.between[0] for each in case.transformers if each.name == source.through}
    return tuple(
        each.name
        for each in case.couplings
        if quiet & set(each.between) and any(part.blocks_dc() for part in each.parts)
    )


def _also_driven(case: Case, index: int, source: SwitchNode) -> Iterator[tuple[KeyPath, str, str]]:
    able = able_to_hang(case, source)
    if source.also_through not in able:
        known = ", ".join(f'"{name}"' for name in able) or "none of this case"
        accepted = f"a coupling that blocks DC and ends where the switch node's transformer begins: {known}"
        yield ("source", index, "also_through"), f'"{source.also_through}"', accepted


def _mains(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    if case.mains is None:
        return
    for key, name in (("feeds", case.mains.feeds), ("touched", case.mains.touched)):
        if name not in case.regions:
            yield ("mains", key), f'"{name}"', f"a region of the case: {', '.join(case.regions)}"
    if case.mains.feeds == case.mains.touched:
        yield ("mains", "touched"), f'"{case.mains.touched}", which the mains feed', "another region than feeds"


def _limit_lines(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    wanted = [(index, each) for index, each in enumerate(case.requirements) if each.limit_line is not None]
    if not wanted:
        return
    from models.limits import limits  # read only where a case asks for a line

    lines = limits()
    for index, each in wanted:
        kind = each.kind.removesuffix("-emission")
        if lines.find(each.limit_line or "", kind) is None:
            known = ", ".join(f'"{name}"' for name in lines.names(kind))
            broken = "".join(f"; {message}" for message in lines.messages)
            yield ("requirement", index, "limit_line"), f'"{each.limit_line}"', f"a {kind} line: {known}{broken}"


def _lonely_regions(case: Case) -> Iterator[tuple[KeyPath, str, str]]:
    joined = {name for _, ends in _joins(case) for name in ends}
    keys = ("a", "b", *range(len(case.pair.others)))
    for key, name in zip(keys, case.regions, strict=True):
        if name not in joined:
            path: KeyPath = ("pair", key) if isinstance(key, str) else ("pair", "others", key)
            yield path, f'"{name}", which nothing joins', "a region that a coupling, transformer, cable or branch joins"
