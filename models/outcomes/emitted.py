"""What a receiver reads of a candidate's emission along frequency, against one limit line and one detector."""

from __future__ import annotations

import math
from functools import cached_property, lru_cache

import numpy as np
from attrs import evolve, frozen

from models.arrays import Real
from models.formulas.levels import level_dbuv
from models.limits import LimitLine
from models.outcomes.evaluation import Outcome
from models.outcomes.margin import Margin, worst_margin
from models.outcomes.radiated import ALL_CABLES, USUAL_ERROR_DB
from models.outcomes.reading import Together

USUAL_DETECTOR = "quasi-peak"


@frozen(kw_only=True, cache_hash=True)
class Asked:
    """What is looked at.

    Attributes
    ----------
    kind : ``conducted`` or ``radiated``
    line : the limit line; None for the levels alone
    detector : ``peak``, ``quasi-peak`` or ``average``; None for the one that comes closest to the line
    distance_m : of the field, m
    """

    kind: str
    line: LimitLine | None = None
    detector: str | None = None
    distance_m: float = 10.0


@frozen(kw_only=True, eq=False, slots=False)
class Emitted:
    """The reading of all sources together at every line of their spectra.

    Attributes
    ----------
    where : the lead, or what stands for all cables
    sources : names
    detector : that reads
    f_hz : (K,) ascending
    level_db : (K,) amplitudes of several sources added, an upper bound, dBµV or dBµV/m
    margin : the closest to the line, among this detector's limits or, where none was asked for, among all of them
    error_db : usual error either way, dB
    """

    where: str
    sources: tuple[str, ...]
    detector: str
    f_hz: Real
    level_db: Real
    margin: Margin | None
    error_db: float = 0.0

    @cached_property
    def low_db(self) -> Real:
        """The level less its usual error (K,)."""
        return self.level_db - self.error_db

    @cached_property
    def high_db(self) -> Real:
        """The level and its usual error (K,)."""
        return self.level_db + self.error_db

    @property
    def closed(self) -> bool:
        """Whether every source's current has a way back."""
        return not bool(np.isposinf(self.level_db).any())


def emitted(outcome: Outcome, asked: Asked) -> Emitted | None:
    """Return what a receiver reads of a candidate's emission; None where it has no lead or cable, or no source.

    Of several leads the one that comes closest to the line is shown, else the first.

    Parameters
    ----------
    outcome : of the candidate
    asked : which emission, against what
    """
    if asked.kind == "conducted":
        found = [_read(lead.together, lead.cable, asked) for lead in outcome.conducted if lead.currents]
    elif outcome.radiated:
        fields = Together(each=[each.at(asked.distance_m) for each in outcome.radiated])
        found = [evolve(_read(fields, ALL_CABLES, asked), error_db=USUAL_ERROR_DB)]
    else:
        found = []
    return min(found, key=_margin_db, default=None)


@lru_cache(maxsize=64)
def judged_by(line: LimitLine, detector: str) -> LimitLine | None:
    """Return a limit line with the stretches that a detector is held against; None where it has none.

    A peak reading is held against the quasi-peak limit where the line has no limit of its own for it, as a first look
    before a test does: peak never reads below quasi-peak.
    """
    own = tuple(stretch for stretch in line.limits if stretch.detector == detector)
    if not own and detector == "peak":
        own = tuple(evolve(stretch, detector="peak") for stretch in line.limits if stretch.detector == USUAL_DETECTOR)
    return evolve(line, limits=own) if own else None


def _read(together: Together, where: str, asked: Asked) -> Emitted:
    line = asked.line
    if line is not None and asked.detector is not None:
        line = judged_by(line, asked.detector)
    margin = None if line is None else worst_margin(together, line, where)
    detector = asked.detector or (USUAL_DETECTOR if margin is None else margin.detector)
    f_hz, level_db = _levels(together, detector)
    return Emitted(
        where=where,
        sources=tuple(each.source for each in together.each),
        detector=detector,
        f_hz=f_hz,
        level_db=level_db,
        margin=margin,
    )


def _levels(together: Together, detector: str) -> tuple[Real, Real]:
    """Return frequencies and levels (K,) at the lines of all sources, in order."""
    shown = [(own.f_hz, together.read(index, detector)[1]) for index, own in enumerate(together.each) if own.v_rms.size]
    if not shown:
        return np.zeros(0), np.zeros(0)
    f_hz, read = (np.concatenate(each) for each in zip(*shown, strict=True))
    if len(shown) > 1:
        order = np.argsort(f_hz, kind="stable")
        f_hz, read = f_hz[order], read[order]
    return f_hz, level_dbuv(read)


def _margin_db(found: Emitted) -> float:
    return math.inf if found.margin is None else found.margin.margin_db
