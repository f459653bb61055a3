"""Judges of what leaves the pair on its cables: conducted and radiated emission against a limit line."""

from __future__ import annotations

import math
from collections.abc import Iterator

from models.case.document import Case
from models.case.requirement import Requirement
from models.decide.subject import Subject
from models.decide.verdict import Verdict, not_applicable, shown
from models.limits import LimitLine, limits
from models.outcomes.margin import Margin
from models.outcomes.radiated import USUAL_ERROR_DB, worst_field

_CAUTION = (
    "An estimate for design, not a measurement: common mode only, the receiver's reading computed, the limit's current "
    "edition decides."
)


def judge_conducted(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the lead with a LISN at its end that comes closest to a limit line."""
    return _judge(subject, requirement, "conducted", "No lead ends in a LISN.")


def judge_radiated(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the field of all cables against a limit line."""
    return _judge(subject, requirement, "radiated", "The case has no cable to radiate.")


def _judge(subject: Subject, requirement: Requirement, kind: str, nothing: str) -> Verdict:
    if not subject.case.sources:
        return not_applicable(requirement, "The case has no source.")
    line = limits().find(requirement.limit_line or "", kind)
    if line is None:
        names = ", ".join(f'"{name}"' for name in limits().names(kind)) or "none"
        return not_applicable(requirement, f'No {kind} line is called "{requirement.limit_line}". Known: {names}.')
    if not _emits(subject, kind):
        return not_applicable(requirement, nothing)
    found = closest(subject, requirement)
    if found is None:
        return not_applicable(requirement, f"No line of the spectrum falls on {line.name}.")
    return _verdict(requirement, line, found, tuple(_assumed(subject.case, line, found)))


def closest(subject: Subject, requirement: Requirement) -> Margin | None:
    """Return where the emission that a requirement speaks of comes closest to its limit line, at nominal values.

    Parameters
    ----------
    subject : the candidate in its case
    requirement : of any kind

    Returns
    -------
    Margin; None where the requirement speaks of no emission, or the case has none of that kind
    """
    kind = requirement.kind.removesuffix("-emission")
    line = limits().find(requirement.limit_line, kind) if requirement.limit_line else None
    if line is None or not subject.case.sources:
        return None
    if kind == "radiated":
        return worst_field(subject.emission.radiated, line) if subject.emission.radiated else None
    margins = [each.margin(line) for each in subject.emission.conducted]
    return min((each for each in margins if each is not None), key=lambda each: each.margin_db, default=None)


def _emits(subject: Subject, kind: str) -> bool:
    return bool(subject.emission.conducted if kind == "conducted" else subject.emission.radiated)


def _verdict(requirement: Requirement, line: LimitLine, found: Margin, assumed: tuple[str, ...]) -> Verdict:
    finite = math.isfinite(found.level_db)
    at = shown(found.f_hz, "Hz")
    away = "" if line.distance_m is None else f" at {shown(line.distance_m, 'm')}"
    why = (
        f"{found.where}: {found.source} reads {found.level_db:.1f} {line.unit} {found.detector} at {at}, against "
        f"{found.limit_db:.1f} {line.unit}{away}{_closeness(line, found)}."
        if finite
        else f"{found.where}: nothing of {found.source} gets there."
        if found.level_db < 0.0
        else f"The current of {found.source} has no way back."
    )
    return Verdict(
        requirement=requirement.kind,
        outcome="pass" if found.margin_db >= 0.0 else "fail",
        value=found.level_db if finite else None,
        limit=found.limit_db,
        unit=line.unit,
        margin_db=found.margin_db if finite else None,
        why=why,
        equation=_difference(found.limit_db, found.level_db, line.unit) if finite else "",
        assumed=assumed,
        source=f"{line.standard}, {line.edition}; confidence {line.confidence}",
        caution=_CAUTION,
    )


def _difference(limit_db: float, level_db: float, unit: str) -> str:
    margin = f"{limit_db - level_db:+.1f} dB".replace("-", "−")
    return f"{limit_db:.1f} {unit} − {level_db:.1f} {unit} = {margin}"


def _closeness(line: LimitLine, found: Margin) -> str:
    near = line.kind == "radiated" and abs(found.margin_db) < USUAL_ERROR_DB
    return f", nearer than the usual error of ±{USUAL_ERROR_DB:g} dB" if near else ""


def _assumed(case: Case, line: LimitLine, found: Margin) -> Iterator[str]:
    yield "Nominal values."
    if len(case.sources) > 1:
        yield f"Amplitudes of all sources added, an upper bound; {found.power_sum_db:.1f} {line.unit} as powers."
    if line.kind == "radiated":
        yield f"Every cable straight and alone over a reflecting ground: usually within ±{USUAL_ERROR_DB:g} dB."
    stop_hz = max(stretch.stop_hz for stretch in line.limits)
    if case.sweep.stop_hz < stop_hz:
        end = shown(case.sweep.stop_hz, "Hz")
        yield f"Judged to {end}, the end of the sweep; the line goes on to {shown(stop_hz, 'Hz')}."
    if line.note is not None:
        yield f"{line.name}: {line.note}."
