"""The worst draw within the tolerances, as a case of its own that says what it is."""

from __future__ import annotations

from attrs import evolve

from app.present.answers import question
from models.case.document import Case
from models.decide.tolerance import CandidateSpread, Spread, drawn_case


def judged(spread: CandidateSpread) -> tuple[Spread, ...]:
    """Return what of a candidate over the draws is held to a limit."""
    return tuple(each for each in spread.spreads if each.values.size and each.requirement.limit)


def worst_draw(case: Case, spread: CandidateSpread, requirement: int | None = None) -> Case | None:
    """Return the worst draw of a candidate; None where nothing is held to a limit.

    Parameters
    ----------
    case : of which the draws are
    spread : the candidate over the draws
    requirement : its index; None for the worst of all that are asked
    """
    if requirement is not None:
        spread = evolve(spread, spreads=spread.spreads[requirement : requirement + 1])
    held = judged(spread)
    if not held:
        return None
    number, count = spread.worst(), min(len(each.values) for each in held)
    limit = "a limit" if requirement is None else f"the limit of “{question(held[0].requirement)}”"
    said = f"Draw {number + 1} of {count} within the tolerances of “{spread.candidate.name}”"
    said += f" in “{case.title}”: the one that comes closest to {limit}, or lies furthest over it."
    notes = f"{said}\n\n{case.notes}" if case.notes else said
    return evolve(drawn_case(case, spread, number), notes=notes)
