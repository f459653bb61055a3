"""`python -m tests.bench.consequences`: what an edit costs, from the document to what is drawn, in each mode."""

from __future__ import annotations

import statistics
import time

import numpy as np
from attrs import frozen

from app.present.consequences import Shown, consequence
from app.state.chosen import MODES
from app.state.edits import set_value
from app.state.events import Events
from app.state.results import Desk
from app.state.view import EventChoice, View
from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case
from models.codec import KeyPath
from models.network.solver import Solver
from models.outcomes.event import KINDS, Event
from models.outcomes.transient import transient

BRANCH = ("candidates", 3, "branches", 0, "parts", 0, "capacitance_f")
STRAY = ("couplings", 1, "parts", 0, "capacitance_f")
_ROUNDS = 15


@frozen(kw_only=True)
class Cost:
    """Median times of one edit: the results that every frame needs, and what the shown mode adds, s."""

    results_s: float
    shown_s: float


def bench_case() -> Case:
    """Return the shipped case with a lead into a LISN: four candidates, 3000 harmonics."""
    return load_case(CASES / "earthed-or-floating.toml")


def edit_cost(path: KeyPath, view: View) -> Cost:
    """Return what an edit at a path costs while a mode is shown."""
    case, desk = bench_case(), Desk()
    events = Events(desk.evaluator.solver)
    consequence(Shown(desk=desk, events=events, results=desk.results(case), view=view))
    times: list[tuple[float, float]] = []
    for number in range(_ROUNDS):
        changed = set_value(case, path, (1.0 + 0.01 * number) * 50e-12)
        begun = time.thread_time()
        results = desk.results(changed)
        computed = time.thread_time()
        consequence(Shown(desk=desk, events=events, results=results, view=view))
        times.append((computed - begun, time.thread_time() - computed))
    computing, showing = (statistics.median(each) for each in zip(*times, strict=True))
    return Cost(results_s=computing, shown_s=showing)


def transient_s(kind: str) -> float:
    """Return the median time of the processor for one event with one candidate, computed afresh."""
    case = bench_case()
    times: list[float] = []
    for number in range(_ROUNDS):
        event = Event(kind=kind, into="output", level_v=1e3 + number)
        begun = time.thread_time()
        transient(Solver(), case, case.candidates[3], event)
        times.append(time.thread_time() - begun)
    return statistics.median(times)


def fourier_s(points: int = 2**20) -> float:
    """Return the median time of the processor for one Fourier transform, what a transient is measured by."""
    wave = np.random.default_rng(1).random(points).astype(np.complex128)
    times: list[float] = []
    for _ in range(_ROUNDS):
        begun = time.thread_time()
        np.fft.fft(wave)
        times.append(time.thread_time() - begun)
    return statistics.median(times)


def report() -> str:
    """Return the times as a few lines."""
    lines = ["One edit, four candidates: results of every frame + what the shown mode adds."]
    for mode in MODES:
        view = View(mode=mode, candidate=3, event=EventChoice())
        one, all_ = edit_cost(BRANCH, view), edit_cost(STRAY, view)
        lines.append(f"  {mode:10} a candidate {_sum(one)}, the surroundings {_sum(all_)}")
    lines.append("One event with one candidate, afresh.")
    lines += [f"  {kind:10} {1e3 * transient_s(kind):6.1f} ms" for kind in KINDS]
    return "\n".join(lines)


def _sum(cost: Cost) -> str:
    return f"{1e3 * cost.results_s:5.1f} + {1e3 * cost.shown_s:4.1f} ms"


if __name__ == "__main__":
    print(report())
