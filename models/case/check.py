"""What no single table can know: names that refer to each other, and a case that contradicts itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any

from models.case.document import Case
from models.declare import path_text
from models.errors import Problem, QuantityError

Path = tuple[str | int, ...]
Finding = tuple[Path, Problem]


def contradictions(case: Case) -> list[Finding]:
    """Return every way in which a case contradicts itself, with where it stands in the file."""
    return [
        (path, Problem(where=path_text(path), found=found, accepted=accepted)) for path, found, accepted in _all(case)
    ]


def _all(case: Case) -> Iterator[tuple[Path, str, str]]:
    yield from _region_names(case)
    yield from _unique_names(case)
    yield from _known_ends(case)
    yield from _sources(case)
    yield from _mains(case)
    yield from _lonely_regions(case)


def _region_names(case: Case) -> Iterator[tuple[Path, str, str]]:
    names = Counter((*case.regions, case.surroundings.name))
    for name, count in names.items():
        if count > 1:
            yield ("pair",), f'"{name}" {count} times', "a different name for each region and for the surroundings"


def _unique_names(case: Case) -> Iterator[tuple[Path, str, str]]:
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


def _joins(case: Case) -> Iterator[tuple[Path, Iterable[str]]]:
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


def _known_ends(case: Case) -> Iterator[tuple[Path, str, str]]:
    nodes = (*case.regions, case.surroundings.name)
    listed = ", ".join(nodes)
    for path, ends in _joins(case):
        for name in ends:
            if name not in nodes:
                yield path, f'"{name}"', f"a region of the case: {listed}"


def _sources(case: Case) -> Iterator[tuple[Path, str, str]]:
    nodes = (*case.regions, case.surroundings.name)
    transformers = [transformer.name for transformer in case.transformers]
    for index, source in enumerate(case.sources):
        through = getattr(source, "through", None)
        if through is not None and through not in transformers:
            accepted = ", ".join(f'"{name}"' for name in transformers) or "a transformer; the case has none"
            yield ("source", index, "through"), f'"{through}"', accepted
        for name in getattr(source, "between", ()):
            if name not in nodes:
                yield ("source", index, "between"), f'"{name}"', f"a region of the case: {', '.join(nodes)}"
        try:
            source.wave.harmonic_count(case.sweep.stop_hz)
        except QuantityError as error:
            yield ("source", index, "frequency"), error.found, error.accepted


def _mains(case: Case) -> Iterator[tuple[Path, str, str]]:
    if case.mains is None:
        return
    for key, name in (("feeds", case.mains.feeds), ("touched", case.mains.touched)):
        if name not in case.regions:
            yield ("mains", key), f'"{name}"', f"a region of the case: {', '.join(case.regions)}"
    if case.mains.feeds == case.mains.touched:
        yield ("mains", "touched"), f'"{case.mains.touched}", which the mains feed', "another region than feeds"


def _lonely_regions(case: Case) -> Iterator[tuple[Path, str, str]]:
    joined = {name for _, ends in _joins(case) for name in ends}
    keys = ("a", "b", *range(len(case.pair.others)))
    for key, name in zip(keys, case.regions, strict=True):
        if name not in joined:
            path: Path = ("pair", key) if isinstance(key, str) else ("pair", "others", key)
            yield path, f'"{name}", which nothing joins', "a region that a coupling, transformer, cable or branch joins"
