"""Requirements judged, one by one, with the working in a sentence.

Estimates for design, not a certification: where safety is concerned the current edition of the standard, local
codes and a qualified person decide.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from models.case.document import Case
from models.case.requirement import Requirement
from models.decide.bias import bias_said, overload_said
from models.decide.dc_judge import judge_dc_drop, judge_static_bleed
from models.decide.emission_judge import judge_conducted, judge_radiated
from models.decide.insulation_judge import judge_blocks_dc, judge_separation, judge_withstand
from models.decide.loop_judge import judge_loop_current
from models.decide.noise_judge import judge_common_mode, judge_return_impedance
from models.decide.subject import Subject
from models.decide.touch_judge import judge_touch_current
from models.decide.verdict import Verdict, assuming
from models.outcomes.evaluation import Evaluator, Outcome

__all__ = ["JUDGES", "Verdict", "judge", "judge_one"]

JUDGES: Mapping[str, Callable[[Subject, Requirement], Verdict]] = MappingProxyType(
    {
        "blocks-dc": judge_blocks_dc,
        "separation": judge_separation,
        "withstand": judge_withstand,
        "touch-current": judge_touch_current,
        "dc-drop": judge_dc_drop,
        "loop-current": judge_loop_current,
        "static-bleed": judge_static_bleed,
        "return-impedance": judge_return_impedance,
        "common-mode-voltage": judge_common_mode,
        "conducted-emission": judge_conducted,
        "radiated-emission": judge_radiated,
    }
)
"""The judge of every kind of requirement; what a verdict costs grows from a look at the parts to a whole spectrum."""


_BEADS_COUNT = ("return-impedance", "common-mode-voltage", "conducted-emission", "radiated-emission")
"""Requirements that a bead's impedance decides."""
_LOADS_COUNT = (*_BEADS_COUNT, "dc-drop")


def judge(evaluator: Evaluator, case: Case, outcome: Outcome) -> tuple[Verdict, ...]:
    """Return the verdict on every requirement of a case for one candidate."""
    subject = Subject(solver=evaluator.solver, case=case, candidate=outcome.candidate, outcome=outcome)
    return tuple(judge_one(subject, each) for each in case.requirements)


def judge_one(subject: Subject, requirement: Requirement) -> Verdict:
    """Return the verdict on one requirement; only the outcomes that it speaks of are computed."""
    verdict = JUDGES[requirement.kind](subject, requirement)
    if requirement.kind not in _LOADS_COUNT or verdict.outcome == "not-applicable":
        return verdict
    biases = subject.solver.bead_biases(subject.case, subject.candidate)
    said = map(bias_said, biases) if requirement.kind in _BEADS_COUNT else ()
    return assuming(verdict, (*said, *filter(None, map(overload_said, biases))))
