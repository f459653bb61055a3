"""One job done three ways: from an edited case to impedances, harmonics and peak of four candidates.

The product's way is an `Evaluator` that has just evaluated the case before the edit. The plain way builds the node
admittance matrix of the whole network for each candidate and solves all frequencies in one batch: with a node at every
joint between parts in series, or, as a solver has it that knows R, L and C alone, with a node at every joint between
those. The last way is scikit-rf's circuit solver.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
from attrs import evolve, frozen

from app.state.edits import set_value
from models.arrays import Complex, Real
from models.assets import DEMO_CASE
from models.case.document import Candidate, Case
from models.case.read import load_case
from models.network.grid import harmonic_grid, sweep_grid
from models.outcomes.evaluation import Evaluation, Evaluator
from tests.reference.dense import batched_voltage
from tests.reference.elements import Element, case_elements

CANDIDATES = 4
HARMONICS = 10_000
CIRCUIT_POINTS = 51
"""Frequencies at which scikit-rf is timed; its time grows with them, and is scaled to all by their number."""
_RUNS_A_TURN = 4
_PART = ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f")
_STRAY = ("couplings", 3, "parts", 0, "capacitance_f")


def bench_case() -> Case:
    """Return the demo case with four candidates: 801 frequencies, 10,000 harmonics of 100 kHz to 1 GHz."""
    case = load_case(DEMO_CASE)
    return evolve(case, candidates=case.candidates[:CANDIDATES], requirements=())


def grid_of(case: Case) -> Real:
    """Return every angular frequency at which the case has to be solved, rad/s."""
    harmonics = harmonic_grid(case.sources[0].shape.frequency_hz, HARMONICS)
    return np.concatenate((sweep_grid(case.sweep).omega, harmonics.omega))


class Edits:
    """Makes the same kind of edit again and again, each with a value never seen before."""

    def __init__(self, *, surroundings: bool) -> None:
        self.evaluator = Evaluator()
        self._case = bench_case()
        self._path = _STRAY if surroundings else _PART
        self._count = 0
        self.results()

    def case(self) -> Case:
        """Return the case after the next edit."""
        self._count += 1
        return set_value(self._case, self._path, (1.0 + 1e-3 * self._count) * 1e-9)

    def results(self) -> Evaluation:
        """Return the results of the next edit, peaks and rms included."""
        evaluation = self.evaluator.evaluate(self.case())
        for outcome in evaluation.outcomes:
            outcome.peak_v()
        return evaluation


def part_elements(case: Case, candidate: Candidate) -> tuple[Element, ...]:
    """Return the network with one element a part, and a node at every joint between parts."""
    elements = [
        Element(ends=each.between, kind="C", value=each.interwinding_capacitance_f) for each in case.transformers
    ]
    paths = [(each.between, each.parts) for each in case.couplings]
    paths += [(case.ends_of(branch), branch.parts) for branch in candidate.branches]
    for path, (ends, parts) in enumerate(paths):
        nodes = [ends[0], *(f"joint {path}.{place}" for place in range(len(parts) - 1)), ends[1]]
        elements += [
            Element(ends=(one, other), kind="Z", part=part)
            for one, other, part in zip(nodes[:-1], nodes[1:], parts, strict=True)
        ]
    return tuple(elements)


Network = Callable[[Case, Candidate], tuple[Element, ...]]


def dense_results(case: Case, network: Network = part_elements) -> list[tuple[Complex, Complex, float]]:
    """Return impedance, harmonics and peak of every candidate, each solved as one batch of dense matrices."""
    omega, pair = grid_of(case), (case.pair.a, case.pair.b)
    source = case.sources[0]
    transformer = case.transformers[0]
    hot_f = transformer.driven_fraction * transformer.interwinding_capacitance_f
    wave = source.level() * source.shape.coefficients(HARMONICS)
    results = []
    for candidate in case.candidates:
        z = batched_voltage(network(case, candidate), omega, (pair,), pair)[:, 0]
        points = omega.size - HARMONICS
        lines = np.concatenate(([0.0], 1j * omega[points:] * hot_f * z[points:] * wave[1:]))
        peak_v = float(np.abs(np.fft.irfft(lines, 4 * lines.size, norm="forward")).max())
        results.append((z[:points], lines, peak_v))
    return results


def circuit_impedance(case: Case, candidate: Candidate, f_hz: Real) -> Complex:
    """Return the impedance between the regions by scikit-rf: a circuit with two ports, its S matrix turned into Z."""
    import skrf
    from skrf.circuit import Circuit

    frequency = skrf.Frequency.from_f(f_hz, unit="hz")
    nodes: dict[str, list[tuple[Any, int]]] = {}
    for number, element in enumerate(part_elements(case, candidate)):
        z = _impedance(element, 2.0 * np.pi * f_hz)
        network = Circuit.SeriesImpedance(frequency, z, name=f"part {number}")
        for port, node in enumerate(element.ends):
            nodes.setdefault(node, []).append((network, port))
    for node in (case.pair.a, case.pair.b):
        nodes[node].append((Circuit.Port(frequency, f"port {node}"), 0))
    nodes[case.surroundings.name].append((Circuit.Ground(frequency, "earth"), 0))
    whole = Circuit([nodes[case.pair.a], *(nodes[node] for node in nodes if node != case.pair.a)])
    z = whole.network.z
    across: Complex = z[:, 0, 0] + z[:, 1, 1] - z[:, 0, 1] - z[:, 1, 0]
    return across


def _impedance(element: Element, omega: Real) -> Complex:
    if element.part is not None:
        return element.part.impedance(omega)
    return np.asarray(1.0 / (1j * omega * element.value), np.complex128)


@frozen(kw_only=True)
class Times:
    """Seconds from an edit to results: the product's after either kind of edit, and the plain ways'."""

    candidate_s: float
    surroundings_s: float
    dense_s: float
    nodal_s: float
    circuit_s: float

    def ratios(self, plain_s: float) -> tuple[float, float]:
        """Return how many times longer a plain way takes than an edit of a candidate, and of what is around."""
        return plain_s / self.candidate_s, plain_s / self.surroundings_s


def shortest(rounds: int, jobs: Mapping[str, Callable[[], object]]) -> dict[str, float]:
    """Return the shortest run of every job, s of the processor's time, which other programs disturb least.

    The jobs take turns, so that all of them meet the same machine: one that is clocked down for a while slows them all.
    In its turn a job runs a few times, as in a drag: the first run finds the caches full of another's numbers.
    """
    taken = dict.fromkeys(jobs, math.inf)
    for name in rounds * tuple(jobs):
        for _ in range(_RUNS_A_TURN):
            start = time.process_time()
            jobs[name]()
            taken[name] = min(taken[name], time.process_time() - start)
    return taken


def circuit_points() -> Real:
    """Return the frequencies at which scikit-rf is timed and compared."""
    return np.geomspace(1e4, 1e9, CIRCUIT_POINTS)


def measured() -> Times:
    """Time all ways in one run."""
    candidate, surroundings = Edits(surroundings=False), Edits(surroundings=True)
    case, points = bench_case(), circuit_points()
    jobs = {
        "candidate": candidate.results,
        "surroundings": surroundings.results,
        "dense": lambda: dense_results(case),
        "nodal": lambda: dense_results(case, case_elements),
    }
    circuit = shortest(1, {"circuit": lambda: circuit_impedance(case, case.candidates[0], points)})
    taken = shortest(8, jobs)
    return Times(
        candidate_s=taken["candidate"],
        surroundings_s=taken["surroundings"],
        dense_s=taken["dense"],
        nodal_s=taken["nodal"],
        circuit_s=circuit["circuit"] * CANDIDATES * grid_of(case).size / CIRCUIT_POINTS,
    )
