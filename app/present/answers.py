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
from models.decide.bias import bias_said, percent
from models.decide.verdict import Verdict
from models.network.load import BeadBias, LoadCurrent
from models.outcomes.evaluation import Outcome
from models.quantity import format_quantity

Row = tuple[str, tuple[CellSpec, ...]]

_NO_REASON = "No reason to separate is stated: continuous copper is what to begin with."


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
        requirements=len(required),
        note="" if case.requirements else _NO_REASON,
        offer="" if case.requirements else "Why separate?",
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
        return f"{abs(verdict.margin_db):.1f} dB {'under' if verdict.margin_db >= 0.0 else 'over'}"
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
    if len(results.case.sources) > 1:
        rows.append(_row(results, "All sources, rms", Outcome.together_rms_v, "V"))
        rows.append(_row(results, "All sources, peak at most", Outcome.together_peak_v, "V"))
    rows += _load_rows(results)
    if results.case.mains is not None:
        rows.append(_row(results, "Touch current weighted, worst case", _touch, "A"))
    return tuple(rows)


def _load_rows(results: Results) -> list[Row]:
    """Return what direct current does: through the bridge, the offset it leaves, and the bias it puts on a bead."""
    if not any(load.drop_v for each in results.loads for load in each):
        return []
    rows = [("Load current through the bridge", tuple(map(_load_cell, results.loads)))]
    beads = results.bead_biases
    if any(each.load_a > 0.0 for biases in beads for each in biases):
        rows.append(("Bias of the bead", tuple(map(_bias_cell, beads))))
    return rows


def _load_cell(loads: tuple[LoadCurrent, ...]) -> CellSpec:
    carried = [each for each in loads if each.current_a]
    if not carried:
        return CellSpec(text="none", why="No branch passes the direct current.")
    if not all(math.isfinite(each.current_a) for each in carried):
        return CellSpec(text="no way back", why="The direct current of a source has no way back.")
    most = max(carried, key=lambda each: abs(each.current_a))
    current, drop = reading(abs(most.current_a), "A"), reading(abs(most.drop_v), "V")
    shares = ", ".join(f"branch {each.branch + 1}: {reading(abs(each.current_a), 'A')}" for each in carried)
    why = f"{shares}. It sets {most.ends[0]} and {most.ends[1]} {drop} apart."
    return CellSpec(text=f"{current}, {drop} drop", why=why)


def _bias_cell(biases: tuple[BeadBias, ...]) -> CellSpec:
    carried = [each for each in biases if each.load_a > 0.0]
    if not carried:
        return CellSpec(text="–")
    most = max(carried, key=lambda each: each.load_a)
    why = " ".join(map(bias_said, carried))
    if most.by == "nothing" and most.left_by_load is None:
        why += " Give its rated current in the inspector."
    elif most.by == "nothing":
        why += " To see it so, let the load current bias the beads, in the case."
    if most.left_by_load is None:
        return CellSpec(text=reading(most.load_a, "A"), why=why)
    if most.unlike_stated:
        return CellSpec(text=f"{reading(most.load_a, 'A')}, but {reading(most.bias_a, 'A')} stated", why=why)
    return CellSpec(text=f"{reading(most.load_a, 'A')}, {percent(most.left_by_load)} of L left", why=why)


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
