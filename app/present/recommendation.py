"""Which candidate to take, and why: a rule that anyone can follow, over verdicts that show their working."""

from __future__ import annotations

import math

from attrs import frozen

from app.present.answers import question
from app.present.numbers import signed_db
from app.state.results import Results
from models.decide.purpose import APART, COPPER
from models.decide.verdict import Verdict, listed

_PERSON = ("separation", "withstand", "touch-current")
"""Requirements that keep a person from harm: no calm on the wires outweighs one of them."""
_RATED = ("withstand",)
"""A rating that is just what is asked for is enough: it does not drift, so it says nothing of room."""
_LITTLE_DB = 1.0


@frozen(kw_only=True)
class Recommendation:
    """What is recommended.

    Attributes
    ----------
    candidate : index of the candidate to take, or of the closest where none meets everything; None without candidates
    meets : whether it meets every requirement
    sentences : what and why, the most important first
    """

    candidate: int | None
    meets: bool
    sentences: tuple[str, ...]


def recommend(results: Results) -> Recommendation:
    """Return the candidate that meets every requirement with the most room at its tightest one.

    Where none does, the one that fails fewest of those that keep a person from harm, of those the one that fails fewest
    of all, and of those the one that misses least. Where no requirement speaks for a separation, continuous copper is
    what to begin with, and the report says so.
    """
    case = results.case
    plain = () if any(each.kind in APART for each in case.requirements) else (COPPER,)
    if not case.candidates:
        return Recommendation(candidate=None, meets=False, sentences=("The case has no candidate.", *plain))
    if not case.requirements:
        text = "The case states no requirement, so nothing tells the candidates apart but their numbers."
        return Recommendation(candidate=None, meets=False, sentences=(text, *plain))
    order = sorted(range(len(case.candidates)), key=lambda index: _rank(results.verdicts[index]))
    best = order[0]
    meets = not _failed(results, best)
    told = _taken(results, order) if meets else _closest(results, best)
    return Recommendation(candidate=best, meets=meets, sentences=(told[0], *plain, *told[1:]))


def _rank(verdicts: tuple[Verdict, ...]) -> tuple[int, int, float]:
    failed = [each.requirement for each in verdicts if each.outcome == "fail"]
    return sum(each in _PERSON for each in failed), len(failed), -_least_db(verdicts)


def _least_db(verdicts: tuple[Verdict, ...]) -> float:
    """Return the margin of the tightest requirement; a failure without a margin is the worst of all."""
    if any(each.outcome == "fail" and each.margin_db is None for each in verdicts):
        return -math.inf
    return min((margin for each in verdicts if (margin := _room_db(each)) is not None), default=math.inf)


def _room_db(verdict: Verdict) -> float | None:
    """Return the margin where it says how far something may drift."""
    return None if verdict.requirement in _RATED and verdict.outcome != "fail" else verdict.margin_db


def _failed(results: Results, index: int) -> list[str]:
    pairs = zip(results.case.requirements, results.verdicts[index], strict=True)
    return [question(requirement) for requirement, verdict in pairs if verdict.outcome == "fail"]


def _taken(results: Results, order: list[int]) -> tuple[str, ...]:
    best, others = order[0], [index for index in order[1:] if not _failed(results, index)]
    text = f"Take “{_name(results, best)}”: it meets every requirement{_tightest(results, best)}."
    least = _least_db(results.verdicts[best])
    little = () if least >= _LITTLE_DB else ("That is little room: a value a little off uses it up.",)
    also: tuple[str, ...] = ()
    if others:
        names = listed([f"“{_name(results, index)}”" for index in others])
        also = (f"{names} {'meet' if len(others) > 1 else 'meets'} every requirement too, with less room.",)
    return text, *little, *also


def _tightest(results: Results, index: int) -> str:
    """Return which requirement is the tightest, and how much room it leaves."""
    pairs = zip(results.case.requirements, results.verdicts[index], strict=True)
    known = [(room, question(asked)) for asked, found in pairs if (room := _room_db(found)) is not None]
    if not known:
        return ""
    margin, asked = min(known)
    return f"; the tightest is “{asked}”, with {signed_db(margin)}"


def _closest(results: Results, best: int) -> tuple[str, ...]:
    failed = _failed(results, best)
    missed = _least_db(results.verdicts[best])
    how = f", by {-missed:.1f} dB at the worst" if math.isfinite(missed) and missed < 0.0 else ""
    unsafe = any(each.outcome == "fail" and each.requirement in _PERSON for each in results.verdicts[best])
    return (
        "No candidate meets every requirement.",
        f"The closest is “{_name(results, best)}”, which misses {listed([f'“{each}”' for each in failed])}{how}.",
        *(("What keeps a person from harm is among it: a comparison, not a choice.",) if unsafe else ()),
    )


def _name(results: Results, index: int) -> str:
    return results.case.candidates[index].name
