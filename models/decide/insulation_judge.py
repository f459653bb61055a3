"""Judges of what keeps the regions apart. Blocking DC, galvanic separation and withstand are three different things."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

from models.case.document import Case, Coupling
from models.case.requirement import Requirement
from models.decide.links import Link, direct_way, grade_of, least_way, links_of, way_text, weakest_way
from models.decide.subject import Subject
from models.decide.verdict import SAFETY_CAUTION, Verdict, listed, ratio_db, shown
from models.network.edges import islands
from models.sources.current import CrossingSignal

_GRADES = {"functional": 0, "basic": 1, "supplementary": 1, "reinforced": 2}
_BOND_OHM = 1.0
"""What leads to earth over more than this protects nobody; standards ask for a tenth of it."""
_CLASS_SOURCE = "IEC 60384-14, classes of capacitors; IEC 60664-1, kinds of insulation. Editions to be checked."


def judge_blocks_dc(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge whether every way from one region to the other has a part that blocks DC, insulation left out."""
    case, links = subject.case, links_of(subject.case, subject.candidate)
    way = direct_way(links, *case.pair.ends)
    ohm = subject.dc.in_circuit_ohm
    found = ohm if way is not None and math.isfinite(ohm) else None
    why = (
        "Every way between the regions has a part that blocks DC. That alone is no separation: see its rating."
        if way is None
        else f"{hopeless(case) or f'Direct current passes through {way_text(way)}.'}{_amount(found)}{_trap(way, links)}"
    )
    return Verdict(
        requirement=requirement.kind,
        outcome="pass" if way is None else "fail",
        value=found,
        unit="ohm",
        why=why,
        equation="" if found is None else f"R between the regions = {shown(found, 'ohm')}",
        assumed=("Insulation resistances are left out.", *_signals(case)),
        source="Kirchhoff's laws at 0 Hz, over every branch, coupling, cable and converter",
    )


def judge_separation(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge whether every way between the regions is a rated barrier, good for the insulation it has to bridge."""
    case, links = subject.case, links_of(subject.case, subject.candidate)
    way = direct_way(links, *case.pair.ends)
    wanted = requirement.insulation or needed_insulation(case)
    assumed = (*([] if requirement.insulation else [_need_text(case, wanted)]), *_assumptions(case, links))
    if way is not None:
        return _ruled(
            requirement, hopeless(case) or f"Direct current passes through {way_text(way)}: no separation.", assumed
        )
    problem = _ungraded(case, links, wanted)
    return _ruled(requirement, problem, assumed, good=_separated(links, wanted))


def _separated(links: Sequence[Link], wanted: str) -> str:
    sound = [link.name for link in links if link.taken_as_sound]
    if not sound:
        return f"Every way is a rated barrier, fit for {wanted} insulation."
    taken = f"{listed(sound)} {'is' if len(sound) == 1 else 'are'} taken as sound"
    if any(link.rated for link in links):
        return f"Every rated way is a barrier fit for {wanted} insulation; {taken}."
    return f"No rated part stands across the pair; {taken} for {wanted} insulation."


def judge_withstand(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge what the weakest way between the regions withstands, and the insulation it bridges where one is asked."""
    case, links = subject.case, links_of(subject.case, subject.candidate)
    limit = requirement.limit
    assert limit is not None
    weakest, way = weakest_way(links, *case.pair.ends)
    assumed = _assumptions(case, links)
    if weakest == 0.0:
        always = weakest_way(links_of(case, None), *case.pair.ends)[0] == 0.0
        return _ruled(requirement, (hopeless(case) if always else None) or _no_barrier(way), assumed, value=0.0)
    wanted = requirement.insulation
    problem = _ungraded(case, links, wanted) if wanted else None
    if weakest == math.inf:
        return _ruled(
            requirement,
            problem,
            assumed,
            good="No rated part stands across the pair; what always stands has to carry it.",
        )
    why = f"The weakest way, {way_text(way)}, withstands {shown(weakest, 'V')}; {shown(limit, 'V')} is asked for."
    short = why if weakest < limit else None
    return _ruled(
        requirement,
        " ".join(filter(None, (short, problem))) or None,
        assumed,
        good=why,
        value=weakest,
        margin_db=None if problem and not short else ratio_db(weakest, limit),
        equation=f"{shown(weakest, 'V')} {'≥' if weakest >= limit else '<'} {shown(limit, 'V')}",
    )


def needed_insulation(case: Case) -> str:
    """Return what the mains make of the barrier: reinforced between mains and a person, functional without mains.

    Where what is touched is bonded to earth, insulation and earth protect together, and basic insulation is enough.
    """
    mains = case.mains
    if mains is None:
        return "functional"
    alone = case.pair.is_joined_by((mains.feeds, mains.touched)) and not _bonded(case, mains.touched)
    return "reinforced" if alone else "basic"


def _bonded(case: Case, region: str) -> bool:
    """Return whether couplings of metal join a region to the surroundings, over others or directly."""
    island = islands(each.between for each in case.couplings if _is_bond(each))
    return region in island and island[region] == island.get(case.surroundings.name)


def _is_bond(coupling: Coupling) -> bool:
    return sum(part.dc_ohm() for part in coupling.parts) <= _BOND_OHM


def hopeless(case: Case) -> str | None:
    """Return why no candidate at all can isolate the pair of a case, None where one could."""
    way = direct_way(links_of(case, None), *case.pair.ends)
    if way is None:
        return None
    converters = [link.name for link in way if link.role == "converter"]
    if converters:
        return (
            f"No candidate can isolate: {listed(converters)} comes back over the pair, so its converter is not "
            "isolated, or has one ground terminal, and joins the regions itself."
        )
    return f"No candidate can isolate: direct current passes through {way_text(way)}, which is always there."


def _ruled(
    requirement: Requirement, problem: str | None, assumed: Sequence[str], *, good: str = "", **numbers: Any
) -> Verdict:
    return Verdict(
        requirement=requirement.kind,
        outcome="pass" if problem is None else "fail",
        limit=requirement.limit,
        unit=requirement.demand.unit,
        why=problem or good,
        assumed=tuple(assumed),
        source=_CLASS_SOURCE,
        caution=SAFETY_CAUTION,
        **numbers,
    )


def _ungraded(case: Case, links: Sequence[Link], wanted: str) -> str | None:
    """Return what stands against the insulation that is asked for, None where every way is fit for it."""
    weakest, way = weakest_way(links, *case.pair.ends)
    if weakest == 0.0:
        return _no_barrier(way)
    lowest = least_way(links, *case.pair.ends, lambda link: float(link.grade))
    if lowest is None or grade_of(lowest) >= _GRADES[wanted]:
        return None
    reasons = "; ".join(f"{link.name}: {link.by}" for link in lowest)
    return f"{wanted.capitalize()} insulation has to be bridged, and that takes {_takes(wanted)} ({reasons})."


def _takes(wanted: str) -> str:
    return "one Y1, or two equal Y2 in series" if _GRADES[wanted] == 2 else "a Y2 or a Y1"


def _no_barrier(way: Sequence[Link]) -> str:
    if way and not any(link.blocks for link in way):
        return (
            f"Direct current passes through {way_text(way)}, and nothing there is rated: nothing withstands a voltage."
        )
    return f"{way_text(way)[:1].upper()}{way_text(way)[1:]} has no part with a stated withstand voltage or a Y class."


def _amount(ohm: float | None) -> str:
    return "" if ohm is None else f" It sees {shown(ohm, 'ohm')} between the regions."


def _trap(way: Sequence[Link], links: Iterable[Link]) -> str:
    kinds = {part.kind for link in way if link.role == "branch" for part in link.parts}
    if "bead" in kinds:
        return " A bead is a resistance at high frequency and a wire at DC: it isolates nothing."
    bypassed = any(not link.standing and link.blocks for link in links)
    return " It leads around the capacitor beside it." if "resistor" in kinds and bypassed else ""


def _signals(case: Case) -> tuple[str, ...]:
    names = [source.name for source in case.sources if isinstance(source, CrossingSignal)]
    return (f"{listed(names)}: every signal that crosses does so through an isolator.",) if names else ()


def _assumptions(case: Case, links: Sequence[Link]) -> tuple[str, ...]:
    sound = [link.name for link in links if link.taken_as_sound]
    stated = [link.name for link in links if link.standing and link.rated and not _classed(link)]
    series = any(sum(part.blocks_dc() for part in link.parts) > 1 for link in links if link.rated)
    classed = any(_classed(link) for link in links if any(part.rating.withstand_v is None for part in link.parts))
    said = (
        f"{listed(sound)}: no withstand voltage is stated; spacing and barrier are taken as sound." if sound else "",
        f"{listed(stated)}: which insulation it is approved for, its own certificate says." if stated else "",
        "Alternating voltage shares inversely to capacitance; a direct test voltage may share otherwise."
        if series
        else "",
        "Where only a Y class is stated, its type test counts: Y1 4 kV, Y2 2 kV or more." if classed else "",
    )
    return (*filter(None, said), *_signals(case))


def _classed(link: Link) -> bool:
    return any((part.rating.safety_class or "").startswith("Y") for part in link.parts)


def _need_text(case: Case, wanted: str) -> str:
    if case.mains is None:
        return "No mains in the case: functional insulation."
    earthed = ", which is bonded to earth" if _bonded(case, case.mains.touched) else ""
    return f"The mains feed {case.mains.feeds} and a person touches {case.mains.touched}{earthed}: {wanted} insulation."
