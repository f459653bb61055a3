"""Named edits: a case in, a changed case out. Nothing here knows of undo or of the window."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from attrs import evolve

from models.case.document import Branch, Candidate, Case, Mains
from models.codec import KeyPath
from models.declare import get_path, set_path
from models.parts.measured import Measured
from models.parts.measured_file import opened
from models.parts.part import Part

if TYPE_CHECKING:
    from models.catalogue.entry import Construction
from models.sources.switch_node import SwitchNode


def set_value(case: Case, path: KeyPath, value: Any) -> Case:
    """Return the case with one value replaced; references to a renamed thing follow it.

    Raises
    ------
    QuantityError
        when the object that holds the value refuses it
    DataError
        when it names a measurement that cannot be read
    """
    changed: Case = set_path(case, path, value)
    if path[-1] in ("file", "connection") and isinstance(part := get_path(changed, path[:-1]), Measured):
        return set_path(changed, path[:-1], opened(part))  # type: ignore[no-any-return]
    if path[0] == "transformers" and path[-1] == "name":
        return _follow_transformer(changed, get_path(case, path), value)
    if path[0] == "couplings" and path[2:] == ("name",):
        return _hang_on(changed, get_path(case, path), value)
    if path[0] == "pair" and isinstance(value, str):
        return _follow_region(changed, get_path(case, path), value)
    if path == ("surroundings", "name"):
        return _follow_region(changed, case.surroundings.name, value)
    return changed


def _follow_transformer(case: Case, old: str, new: str) -> Case:
    sources = tuple(
        evolve(source, through=new) if source.through == old else source  # type: ignore[misc]
        for source in case.sources
    )
    return evolve(case, sources=sources)


def _hang_on(case: Case, old: str, new: str | None) -> Case:
    """Return the case whose switch nodes know a coupling by another name, or no more."""
    sources = tuple(
        evolve(each, also_through=new) if isinstance(each, SwitchNode) and each.also_through == old else each
        for each in case.sources
    )
    return evolve(case, sources=sources)


def _follow_region(case: Case, old: str, new: str) -> Case:
    def ends(between: tuple[str, str]) -> tuple[str, str]:
        first, second = (new if name == old else name for name in between)
        return first, second

    def moved(item: Any) -> Any:
        return evolve(item, between=ends(item.between)) if getattr(item, "between", None) else item

    mains = case.mains
    if mains is not None:
        feeds, touched = ends((mains.feeds, mains.touched))
        mains = evolve(mains, feeds=feeds, touched=touched)
    return evolve(
        case,
        transformers=tuple(moved(each) for each in case.transformers),
        couplings=tuple(moved(each) for each in case.couplings),
        cables=tuple(evolve(each, region=new) if each.region == old else each for each in case.cables),
        sources=tuple(moved(each) for each in case.sources),
        candidates=tuple(
            evolve(each, branches=tuple(moved(branch) for branch in each.branches)) for each in case.candidates
        ),
        mains=mains,
    )


def free_name(wanted: str, taken: tuple[str, ...]) -> str:
    """Return the wanted name, with a number where it is taken."""
    if wanted not in taken:
        return wanted
    number = 2
    while f"{wanted} {number}" in taken:
        number += 1
    return f"{wanted} {number}"


def add_candidate(case: Case, candidate: Candidate, index: int | None = None) -> Case:
    """Return the case with one more candidate, under a free name."""
    names = tuple(each.name for each in case.candidates)
    place = len(names) if index is None else index
    fresh = evolve(candidate, name=free_name(candidate.name, names))
    return evolve(case, candidates=(*case.candidates[:place], fresh, *case.candidates[place:]))


def remove_at(case: Case, path: KeyPath) -> Case:
    """Return the case without the list entry at the path."""
    *owner, index = path
    assert isinstance(index, int)
    entries = get_path(case, tuple(owner))
    changed: Case = set_path(case, tuple(owner), (*entries[:index], *entries[index + 1 :]))
    return _hang_on(changed, entries[index].name, None) if owner == ["couplings"] else changed


def move_at(case: Case, path: KeyPath, by: int) -> Case:
    """Return the case with a list entry moved up or down."""
    *owner, index = path
    assert isinstance(index, int)
    entries = list(get_path(case, tuple(owner)))
    target = min(max(index + by, 0), len(entries) - 1)
    entries.insert(target, entries.pop(index))
    changed: Case = set_path(case, tuple(owner), tuple(entries))
    return changed


def append_at(case: Case, path: KeyPath, entry: Any) -> Case:
    """Return the case with an entry appended to the list at the path."""
    changed: Case = set_path(case, path, (*get_path(case, path), entry))
    return changed


def add_branch(case: Case, candidate: int, part: Part) -> Case:
    """Return the case with one more branch across the pair in a candidate."""
    return append_at(case, ("candidates", candidate, "branches"), Branch(parts=(part,)))


def add_part(case: Case, candidate: int, branch: int, part: Part) -> Case:
    """Return the case with one more part in series in a branch."""
    return append_at(case, ("candidates", candidate, "branches", branch, "parts"), part)


def remove_part(case: Case, candidate: int, branch: int, part: int) -> Case:
    """Return the case without a part; a branch that loses its last part goes with it."""
    branch_path: KeyPath = ("candidates", candidate, "branches", branch)
    if len(get_path(case, (*branch_path, "parts"))) == 1:
        return remove_at(case, branch_path)
    return remove_at(case, (*branch_path, "parts", part))


def wound_as(case: Case, index: int, construction: Construction) -> Case:
    """Return the case with the values of a construction in a transformer, which keeps its name and its ends."""
    taken = evolve(
        case.transformers[index],
        interwinding_capacitance_f=construction.interwinding_capacitance_f,
        driven_fraction=construction.driven_fraction,
        tolerance=construction.tolerance,
    )
    changed: Case = set_path(case, ("transformers", index), taken)
    return changed


def remove_region(case: Case, name: str) -> Case:
    """Return the case without a further region, and without all that joined it."""

    def stays(item: Any) -> bool:
        return name not in (getattr(item, "between", None) or ())

    transformers = tuple(filter(stays, case.transformers))
    left = {each.name for each in transformers}
    for gone in (each.name for each in case.couplings if not stays(each)):
        case = _hang_on(case, gone, None)
    return evolve(
        case,
        pair=evolve(case.pair, others=tuple(each for each in case.pair.others if each != name)),
        transformers=transformers,
        couplings=tuple(filter(stays, case.couplings)),
        cables=tuple(each for each in case.cables if each.region != name),
        sources=tuple(each for each in case.sources if stays(each) and each.through in (None, *left)),
        candidates=tuple(evolve(each, branches=tuple(filter(stays, each.branches))) for each in case.candidates),
        mains=_mains_without(case, name),
    )


def _mains_without(case: Case, name: str) -> Mains | None:
    """Return the mains without a region: none where it was fed, the other end of the pair touched where it was."""
    mains = case.mains
    if mains is None or name == mains.feeds:
        return None
    if name != mains.touched:
        return mains
    return evolve(mains, touched=case.pair.a if mains.feeds == case.pair.b else case.pair.b)
