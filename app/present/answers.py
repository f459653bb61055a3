"""The answers: questions down, candidates across, each with its number and its working."""

from __future__ import annotations

import math
from collections.abc import Callable

from app.present.numbers import reading
from app.present.specs import CellSpec, TableSpec
from app.present.tabs import ink
from app.state.results import Results
from models.case.document import Case
from models.case.requirement import Requirement
from models.decide.verdict import Verdict
from models.outcomes.evaluation import Outcome
from models.quantity import format_quantity

Row = tuple[str, tuple[CellSpec, ...]]


def answers_table(results: Results, selected: int) -> TableSpec:
    """Return the requirements with their verdicts, then the facts that no requirement speaks of."""
    case = results.case
    required = tuple(
        (question(each), _verdict_cells(each, [verdicts[number] for verdicts in results.verdicts]))
        for number, each in enumerate(case.requirements)
    )
    return TableSpec(
        title="What the separation is for" if case.requirements else "What comes of each bridge",
        columns=tuple((candidate.name, ink(index)) for index, candidate in enumerate(case.candidates)),
        selected=selected,
        rows=(*required, *_facts(results)),
        empty="" if case.candidates else "No candidate yet. Add a bridge with +.",
    )


def question(requirement: Requirement) -> str:
    """Return a requirement as a question of a few words."""
    demand = requirement.demand
    limit = requirement.limit_line or (
        format_quantity(requirement.limit, demand.unit) if requirement.limit is not None and demand.unit else ""
    )
    text = demand.question.format(limit)
    if requirement.band_hz is not None:
        low, high = (format_quantity(f_hz, "Hz") for f_hz in requirement.band_hz)
        text += f", {low} to {high}"
    return text


def _verdict_cells(requirement: Requirement, verdicts: list[Verdict]) -> tuple[CellSpec, ...]:
    """Return the verdicts on one requirement as cells; the failing one with the least margin is marked."""
    margins = [each.margin_db for each in verdicts if each.outcome == "fail" and each.margin_db is not None]
    least = min(margins) if len(margins) > 1 else None
    return tuple(
        CellSpec(
            outcome=each.outcome,
            text=_cell_text(requirement, each),
            why=each.why,
            worst=least is not None and each.margin_db == least,
        )
        for each in verdicts
    )


def _cell_text(requirement: Requirement, verdict: Verdict) -> str:
    if verdict.outcome == "not-applicable":
        return "not applicable"
    if verdict.margin_db is not None and (verdict.unit or "").startswith("dB"):
        return f"{verdict.margin_db:+.1f} dB"
    if requirement.kind == "separation" or (verdict.unit or "").startswith("dB"):
        return "yes" if verdict.outcome == "pass" else "no"
    if requirement.kind == "blocks-dc":
        return "yes" if verdict.outcome == "pass" else f"no, {_number(verdict)}"
    if requirement.kind == "withstand" and not verdict.value:
        return "no part across it" if verdict.outcome == "pass" else "no"
    worst = verdict.nominal is not None and verdict.value is not None and verdict.nominal != verdict.value
    return f"{_number(verdict)} worst" if worst else _number(verdict)


def _number(verdict: Verdict) -> str:
    return reading(math.inf if verdict.value is None else verdict.value, verdict.unit or "")


def _facts(results: Results) -> tuple[Row, ...]:
    kinds = {each.kind for each in results.case.requirements}
    rows = [_row(results, "Bridge at DC", lambda each: each.dc.bridge_ohm, "ohm", mark_worst=False)]
    if results.case.sources and "common-mode-voltage" not in kinds:
        rows.append(_row(results, "Common-mode peak", Outcome.peak_v, "V"))
    if results.case.sources:
        rows.append(_row(results, "Common-mode rms", _rms, "V"))
    if results.case.mains is not None:
        rows.append(_row(results, "Touch current, worst case", _touch, "A"))
    return tuple(rows)


def _rms(outcome: Outcome) -> float:
    return max((each.total_rms_v for each in outcome.common_mode), default=0.0)


def _touch(outcome: Outcome) -> float:
    return 0.0 if outcome.touch is None else outcome.touch.worst_weighted_a


def _row(
    results: Results, label: str, value_of: Callable[[Outcome], float], unit: str, *, mark_worst: bool = True
) -> Row:
    values = [value_of(outcome) for outcome in results.evaluation.outcomes]
    return label, value_cells(values, unit, mark_worst=mark_worst)


def value_cells(values: list[float], unit: str, *, mark_worst: bool = True) -> tuple[CellSpec, ...]:
    """Return values as cells without a judgement; the highest is marked where that is the worst."""
    worst = max(values, default=0.0)
    marked = mark_worst and len(set(values)) > 1
    return tuple(CellSpec(text=reading(value, unit), worst=marked and value == worst) for value in values)


def cautions(case: Case) -> tuple[str, ...]:
    """Return the cautions that have to stand beside the numbers of a case."""
    lines = ["An estimate for design, not a certification."]
    if case.mains is not None or any(each.kind in ("withstand", "touch-current") for each in case.requirements):
        lines.append("Safety parts: the current standard, local codes and a qualified person decide.")
    return tuple(lines)
