"""What a judge hands back: the verdict, its number against the limit, and the working."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from attrs import evolve, frozen

from models.case.requirement import Requirement
from models.quantity import format_quantity

SAFETY_CAUTION = (
    "An estimate for design, not a certification: the current edition of the standard and local codes decide, and a "
    "qualified person checks safety insulation and protective parts."
)


@frozen(kw_only=True)
class Verdict:
    """One requirement judged for one candidate.

    Attributes
    ----------
    requirement : its kind
    outcome : ``pass``, ``fail`` or ``not-applicable``
    value, limit, unit : what was found in the worst case and what is allowed, SI; None where there is no number
    margin_db : 20·log10(limit/value), positive when there is room; None where it means nothing
    nominal : the same number at nominal values, where tolerance matters
    why : one sentence or two with the numbers in them
    equation : the working, with the numbers put in; empty where nothing is computed
    assumed : what was taken for granted, one sentence each
    source : where the equation or the rule comes from
    caution : what has to stand beside the number where a person can be hurt
    """

    requirement: str
    outcome: str
    value: float | None = None
    limit: float | None = None
    unit: str | None = None
    margin_db: float | None = None
    nominal: float | None = None
    why: str
    equation: str = ""
    assumed: tuple[str, ...] = ()
    source: str = ""
    caution: str = ""


def shown(value: float, unit: str) -> str:
    """Return a number as the working shows it: three digits, with its unit."""
    return format_quantity(value, unit, digits=3)


def ratio_db(above: float, below: float) -> float | None:
    """Return 20·log10(above/below) in dB, None where that is no finite number."""
    if not (math.isfinite(above) and math.isfinite(below) and above > 0.0 and below > 0.0):
        return None
    return 20.0 * math.log10(above / below)


def at_most(
    requirement: Requirement, value: float, why: str, *, nominal: float | None = None, **working: Any
) -> Verdict:
    """Judge a value that has to stay at or below the limit of the requirement.

    Parameters
    ----------
    requirement : with a limit
    value : what was found in the worst case, SI; ``inf`` for no bound at all
    why : the sentence with the numbers
    nominal : the same at nominal values, where tolerance matters; a candidate that passes only so fails and says so
    working : further attributes of the verdict
    """
    limit = requirement.limit
    assert limit is not None
    passed = value <= limit
    if nominal is not None and not passed and nominal <= limit:
        unit = requirement.demand.unit or ""
        why += f" It passes only at nominal values, with {shown(nominal, unit)} against {shown(limit, unit)}."
    return Verdict(
        requirement=requirement.kind,
        outcome="pass" if passed else "fail",
        value=value if math.isfinite(value) else None,
        limit=limit,
        unit=requirement.demand.unit,
        margin_db=ratio_db(limit, value),
        nominal=nominal,
        why=why,
        **working,
    )


def not_applicable(requirement: Requirement, why: str) -> Verdict:
    """Return the verdict on a requirement that means nothing for the case."""
    return Verdict(
        requirement=requirement.kind,
        outcome="not-applicable",
        limit=requirement.limit,
        unit=requirement.demand.unit,
        why=why,
    )


def assuming(verdict: Verdict, assumed: Iterable[str]) -> Verdict:
    """Return the verdict with more of what was taken for granted."""
    return evolve(verdict, assumed=(*verdict.assumed, *assumed))


def listed(names: Iterable[str]) -> str:
    """Return names as a sentence lists them: ``a``, ``a and b``, ``a, b and c``."""
    *head, last = names
    return f"{', '.join(head)} and {last}" if head else last
