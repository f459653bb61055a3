"""What a row of the table says of one candidate, and how it is computed: no more than what is asked for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from attrs import evolve, frozen

from models.case.document import Case
from models.decide.judges import judge_one
from models.decide.subject import Subject
from models.network.grid import single
from models.outcomes.evaluation import Evaluator
from models.quantity import format_quantity

Row = tuple[Any, ...]
GROUPS = ("impedance", "common-mode", "touch-current", "verdicts")
_EMISSION = ("conducted-emission", "radiated-emission")


@frozen(kw_only=True)
class Columns:
    """The results that a sweep writes.

    Attributes
    ----------
    groups : some of `GROUPS`
    at_hz : frequencies of the impedances, 0 Hz being DC; the resistances at DC stand there anyway
    """

    groups: tuple[str, ...] = GROUPS
    at_hz: tuple[float, ...] = ()

    def names(self, case: Case) -> tuple[str, ...]:
        """Return the headings, in the order of `row`."""
        return tuple(name for group in GROUPS if group in self.groups for name in _NAMES[group](self, case))

    def row(self, evaluator: Evaluator, case: Case, index: int) -> Row:
        """Return the results of one candidate; infinite where nothing joins, None where a number means nothing."""
        subject = self._subject(evaluator, case, index)
        return tuple(value for group in GROUPS if group in self.groups for value in _VALUES[group](self, subject))

    def turns_itself(self, case: Case) -> bool:
        """Return whether the evaluator starts a round of its memory by itself: where emission is judged."""
        return "verdicts" in self.groups and any(each.kind in _EMISSION for each in case.requirements)

    def _subject(self, evaluator: Evaluator, case: Case, index: int) -> Subject:
        candidate = case.candidates[index]
        outcome = None
        if self.turns_itself(case):
            outcome = evaluator.evaluate(evolve(case, candidates=(candidate,))).outcomes[0]
        return Subject(solver=evaluator.solver, case=case, candidate=candidate, outcome=outcome)


def _impedance_names(columns: Columns, _case: Case) -> Iterator[str]:
    yield from ("bridge_dc_ohm", "in_circuit_dc_ohm", "blocks_dc")
    for f_hz in columns.at_hz:
        at = format_quantity(f_hz, "Hz")
        yield from (f"{what}_{part}_ohm at {at}" for what in ("bridge", "in_circuit") for part in ("re", "im"))


def _impedances(columns: Columns, subject: Subject) -> Iterator[Any]:
    yield from (subject.dc.bridge_ohm, subject.dc.in_circuit_ohm, subject.dc.blocks)
    solver, case, candidate = subject.solver, subject.case, subject.candidate
    for f_hz in columns.at_hz:
        grid = single(f_hz)
        for solve in (solver.bridge, solver.in_circuit):
            z = complex(solve(case, candidate, grid)[0])
            yield from (z.real, z.imag)


def _common_mode_names(_columns: Columns, case: Case) -> Iterator[str]:
    for source in case.sources:
        yield from (f"{source.name}: {what}_v" for what in ("peak", "peak_to_peak", "rms"))


def _common_modes(_columns: Columns, subject: Subject) -> Iterator[Any]:
    for each in subject.common_mode:
        yield from (each.peak_v, each.peak_to_peak_v, each.total_rms_v)


def _touch_names(_columns: Columns, case: Case) -> Iterator[str]:
    if case.mains is not None:
        yield from (f"touch_{which}_a_rms" for which in _TOUCH)


def _touches(_columns: Columns, subject: Subject) -> Iterator[Any]:
    if subject.touch is not None:
        yield from (getattr(subject.touch, f"{which}_a") for which in _TOUCH)


_TOUCH = ("unweighted", "weighted", "worst_unweighted", "worst_weighted")


def _verdict_names(_columns: Columns, case: Case) -> Iterator[str]:
    for index, requirement in enumerate(case.requirements):
        name = f"requirement[{index}] {requirement.kind}"
        yield from (f"{name}: outcome", f"{name}: value", f"{name}: margin_db")


def _verdicts(_columns: Columns, subject: Subject) -> Iterator[Any]:
    for requirement in subject.case.requirements:
        verdict = judge_one(subject, requirement)
        yield from (verdict.outcome, verdict.value, verdict.margin_db)


_NAMES = {
    "impedance": _impedance_names,
    "common-mode": _common_mode_names,
    "touch-current": _touch_names,
    "verdicts": _verdict_names,
}
_VALUES = {
    "impedance": _impedances,
    "common-mode": _common_modes,
    "touch-current": _touches,
    "verdicts": _verdicts,
}
