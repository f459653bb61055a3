"""`python -m tests.bench.sweep`: a point of a sweep against an evaluation of its own, on one core, in one run."""

from __future__ import annotations

import time

from attrs import frozen

from app.sweep.columns import GROUPS, Columns
from app.sweep.plan import CHUNK, Plan, compute, make_plan
from app.sweep.values import axis
from models.assets import DEMO_CASE
from models.case.read import load_case
from models.decide.judges import judge
from models.outcomes.evaluation import Evaluator

_VARIED = "candidate[1].branch[0].parts[0].capacitance=100pF..10nF:300"
_ALONE = 20


@frozen(kw_only=True)
class Times:
    """Seconds a point: in a sweep, and each evaluated as if there were no other."""

    sweep_s: float
    alone_s: float

    @property
    def ratio(self) -> float:
        """How many times as long a point takes alone."""
        return self.alone_s / self.sweep_s


def measured(groups: tuple[str, ...] = GROUPS) -> Times:
    """Return the times for the demo case, one candidate, every harmonic."""
    case = load_case(DEMO_CASE)
    plan = make_plan(case, (axis(case, _VARIED),), Columns(groups=groups, at_hz=(1e6,)))
    compute(plan.chunk(0))
    started = time.perf_counter()
    compute(plan.chunk(CHUNK))
    return Times(sweep_s=(time.perf_counter() - started) / CHUNK, alone_s=_alone_s(plan))


def _alone_s(plan: Plan) -> float:
    address = plan.addresses[0]
    started = time.perf_counter()
    for point in range(_ALONE):
        case = address.put(plan.case, plan.values(point)[0])
        evaluator = Evaluator()
        judge(evaluator, case, evaluator.evaluate(case).outcomes[plan.candidates[0]])
    return (time.perf_counter() - started) / _ALONE


def report() -> str:
    """Return the times and the ratio, with and without verdicts."""
    lines = []
    for name, groups in (("everything", GROUPS), ("without verdicts", GROUPS[:-1])):
        times = measured(groups)
        lines.append(
            f"{name:20}{1e3 * times.sweep_s:7.2f} ms a point, {1e3 * times.alone_s:7.2f} ms alone, {times.ratio:.1f} "
            f"times as long; 100,000 points on one core: {1e5 * times.sweep_s / 60:.1f} min"
        )
    return "\n".join(lines)


if __name__ == "__main__":
    print(report())
