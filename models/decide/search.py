"""Which bridges meet every requirement: all that the parts can make, judged the cheap way first."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator

from attrs import frozen

from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.decide.judges import JUDGES, judge_one
from models.decide.loudness import Loudness, loudness
from models.decide.quick_peaks import QuickPeaks, quick_peaks
from models.decide.structures import Offer, Structure, grown_structures, is_bridge, plain_structures
from models.decide.subject import Subject
from models.decide.verdict import Verdict
from models.network.solver import Solver

Progress = Callable[[float], None]
Cancelled = Callable[[], bool]

_COST = {kind: place for place, kind in enumerate(JUDGES)}
_OF_SPECTRUM = ("common-mode-voltage", "conducted-emission", "radiated-emission")
_YES_OR_NO = ("blocks-dc", "separation", "withstand")
"""Met or not: a rating that is met exactly leaves no margin and wants none."""
_ROUND = 16
_ROUNDING = 1.0 + 1e-9
"""The quick way and the verdict round differently; what lies between is left to the verdict."""


@frozen(kw_only=True)
class Found:
    """A bridge that meets every requirement.

    Attributes
    ----------
    structure : what it is made of
    candidate : ready for the case
    verdicts : in the order of the case's requirements
    tightest : the verdict with the least margin of those that are graded; None where none is
    peak_v : common-mode peak of the loudest source in the worst case, V
    loudness : what the case emits with it
    touch_a : touch current in the worst case, A; 0 without mains
    """

    structure: Structure
    candidate: Candidate
    verdicts: tuple[Verdict, ...]
    tightest: Verdict | None
    peak_v: float
    loudness: Loudness
    touch_a: float

    @property
    def margin_db(self) -> float:
        """The least margin of any graded requirement, dB; ``inf`` where none is graded."""
        margin = None if self.tightest is None else self.tightest.margin_db
        return math.inf if margin is None else margin


@frozen(kw_only=True)
class SearchResult:
    """What a search found: ordered by number of parts, then by price, then by margin; and how many it tried."""

    found: tuple[Found, ...]
    tried: int

    def pareto(self) -> tuple[Found, ...]:
        """Return those that no other beats in both emission and touch current, quietest first."""
        front: list[Found] = []
        for each in sorted(self.found, key=lambda it: (it.loudness.value, it.touch_a, it.structure.count)):
            if not front or each.touch_a < front[-1].touch_a:
                front.append(each)
        return tuple(front)


def search(
    case: Case,
    offers: Iterable[Offer],
    *,
    solver: Solver | None = None,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> SearchResult | None:
    """Try every bridge that the parts can make, and return those that meet every requirement.

    Bridges of one part, of two equal Y2 in series and none at all come first. What passes there on safety and DC is
    tried with damping in series and with a bleed resistor across. Every requirement is judged as `isthmus check` does,
    tolerances and single faults included; a bridge is left at the first one it fails.

    Parameters
    ----------
    case : with its requirements
    offers : parts that can be had; kinds that make no bridge are left out
    solver : of its own; a new one by default
    progress : called with the share done, from 0 to 1
    cancelled : asked between bridges; where it says yes the search ends

    Returns
    -------
    SearchResult, or None where it was cancelled
    """
    usable = [offer for offer in offers if is_bridge(offer.part)]
    solver = solver or Solver()
    trial = _Trial(case=case, solver=solver, peaks=quick_peaks(solver, case))
    plain = list(plain_structures(usable))
    quiet: list[Structure] = []
    found: list[Found] = []
    tried = 0

    def follow(structures: list[Structure], start: float, share: float) -> Iterator[Structure]:
        for number, structure in enumerate(structures):
            if progress is not None:
                progress(start + share * number / len(structures))
            # every bridge is new to the memory, which would keep them all; what they share is asked for in each round
            if number % _ROUND == 0:
                solver.memo.turn()
            yield structure

    for structure in follow(plain, 0.0, 0.4):
        if cancelled is not None and cancelled():
            return None
        tried += 1
        if trial.is_safe(structure):
            quiet.append(structure)
            found.extend(trial.judged(structure))
    grown = [each for structure in quiet for each in grown_structures(structure, usable)]
    for structure in follow(grown, 0.4, 0.6):
        if cancelled is not None and cancelled():
            return None
        tried += 1
        if trial.is_safe(structure):
            found.extend(trial.judged(structure))
    if progress is not None:
        progress(1.0)
    ordered = sorted(found, key=lambda each: (each.structure.count, each.structure.price, -each.margin_db))
    return SearchResult(found=tuple(ordered), tried=tried)


@frozen(kw_only=True)
class _Trial:
    """A case that bridges are tried in."""

    case: Case
    solver: Solver
    peaks: QuickPeaks

    def is_safe(self, structure: Structure) -> bool:
        """Return whether a bridge meets everything that needs no spectrum."""
        subject = self._subject(structure)
        return all(
            judge_one(subject, each).outcome != "fail" for each in self._ordered() if each.kind not in _OF_SPECTRUM
        )

    def judged(self, structure: Structure) -> Iterator[Found]:
        """Give the bridge with its verdicts where it meets everything."""
        limits = [
            each.limit
            for each in self.case.requirements
            if each.kind == "common-mode-voltage" and each.limit is not None
        ]
        if limits and self.peaks.exceeds(structure, min(limits) * _ROUNDING):
            return
        subject = self._subject(structure)
        verdicts: dict[Requirement, Verdict] = {}
        for requirement in self._ordered():
            verdicts[requirement] = judge_one(subject, requirement)
            if verdicts[requirement].outcome == "fail":
                return
        yield Found(
            structure=structure,
            candidate=subject.candidate,
            verdicts=tuple(verdicts[each] for each in self.case.requirements),
            tightest=_tightest(verdicts.values()),
            peak_v=max((each.peak_v for each in subject.worst_common_mode), default=0.0),
            loudness=loudness(subject),
            touch_a=0.0 if subject.touch is None else subject.touch.worst_unweighted_a,
        )

    def _ordered(self) -> list[Requirement]:
        return sorted(self.case.requirements, key=lambda each: _COST[each.kind])

    def _subject(self, structure: Structure) -> Subject:
        return Subject(solver=self.solver, case=self.case, candidate=structure.candidate())


def _tightest(verdicts: Iterable[Verdict]) -> Verdict | None:
    graded = [each for each in verdicts if each.requirement not in _YES_OR_NO and each.margin_db is not None]
    return min(graded, key=lambda each: each.margin_db or 0.0, default=None)
