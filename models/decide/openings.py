"""What opens an empty window between the least that works and the most that is allowed, and how much of it."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from attrs import evolve

from models.case.document import Case
from models.decide.bounds import Problem, crossing, most_capacitance
from models.decide.choke import choke_opening
from models.decide.opening import Opening
from models.decide.verdict import shown
from models.outcomes.touch import touch_current
from models.sources.switch_node import SwitchNode
from models.sources.trapezoid import Trapezoid

_LEAST_LEFT = 1e-3
"""The smallest share of itself that anything can sensibly be brought down to."""


def openings(problem: Problem, least: float | None, most: float | None) -> tuple[Opening, ...]:
    """Return every change that might open the window, each alone, solved for how much of it is needed.

    Parameters
    ----------
    problem : the case and the capacitor
    least, most : the bounds as they are, F
    """
    found = [
        _winding(problem),
        _shield(problem),
        _edges(problem),
        _swing(problem),
        _leads(problem),
        _earth(problem, least),
        _limit(problem, most),
        choke_opening(problem, most),
    ]
    return tuple(each for each in found if each is not None)


def _open_ratio(problem: Problem) -> float:
    """Return the noise ratio at the most capacitance allowed: the window is open where it is at most 1."""
    most = most_capacitance(problem)
    if most == 0.0:
        return max(problem.noise_ratio(0.0), problem.touch_ratio(0.0))
    return problem.best_noise(most)


def _solved(ratio: Callable[[float], float], start: float, end: float) -> float | None:
    """Return where a ratio falls to 1 on the way from start to end, None where it does not."""
    if ratio(end) > 1.0:
        return None
    return crossing(ratio, min(start, end), max(start, end))


def _of_case(problem: Problem, change: Callable[[float], Case]) -> Callable[[float], float]:
    return lambda value: _open_ratio(evolve(problem, case=change(value)))


def _opening(change: str, now: float, needed: float | None, unit: str, advice: str) -> Opening:
    text = (
        f"{change}: this alone does not open the window."
        if needed is None
        else f"{change}: {advice} {shown(needed, unit)} instead of {shown(now, unit)}."
    )
    return Opening(change=change, now=now, needed=needed, unit=unit, text=text)


def _scaled_transformers(case: Case, key: str, factor: float) -> Case:
    changed: tuple[Any, ...] = tuple(evolve(each, **{key: getattr(each, key) * factor}) for each in case.transformers)
    return evolve(case, transformers=changed)


def _winding(problem: Problem) -> Opening | None:
    now = sum(each.interwinding_capacitance_f for each in problem.case.transformers)
    if not now:
        return None
    ratio = _of_case(problem, lambda k: _scaled_transformers(problem.case, "interwinding_capacitance_f", k))
    factor = _solved(ratio, 1.0, _LEAST_LEFT)
    needed = None if factor is None else factor * now
    return _opening("Less interwinding capacitance", now, needed, "F", "it has to come down to")


def _shield(problem: Problem) -> Opening | None:
    now = sum(each.interwinding_capacitance_f * each.driven_fraction for each in problem.case.transformers)
    if not now:
        return None
    ratio = _of_case(problem, lambda k: _scaled_transformers(problem.case, "driven_fraction", k))
    factor = _solved(ratio, 1.0, _LEAST_LEFT)
    needed = None if factor is None else factor * now
    return _opening("A shield, or the quiet layer facing", now, needed, "F", "the switch node may drive through")


def _edges(problem: Problem) -> Opening | None:
    waves = [source.wave for source in problem.case.sources if isinstance(source.wave, Trapezoid)]
    if not waves:
        return None
    now = min(min(each.rise_s, each.fall_s) for each in waves)
    slowest = min(min(each.duty, 1.0 - each.duty) / each.frequency_hz for each in waves)
    if slowest <= now:
        return None

    def change(edge_s: float) -> Case:
        return _waves(
            problem.case, lambda wave: {"rise_s": max(wave.rise_s, edge_s), "fall_s": max(wave.fall_s, edge_s)}
        )

    needed = _solved(_of_case(problem, change), max(now, 1e-12), slowest * (1.0 - 1e-9))
    return _opening("Slower edges", now, needed, "s", "rise and fall of at least")


def _waves(case: Case, change: Callable[[Any], dict[str, float]]) -> Case:
    changed: list[Any] = [
        evolve(source, wave=evolve(source.wave, **change(source.wave)))  # type: ignore[misc]
        if isinstance(source.wave, Trapezoid)
        else source
        for source in case.sources
    ]
    return evolve(case, sources=tuple(changed))


def _swing(problem: Problem) -> Opening | None:
    swings = [each.amplitude_v for each in problem.case.sources if isinstance(each, SwitchNode)]
    if not swings or not max(swings):
        return None

    def change(factor: float) -> Case:
        scaled = [
            evolve(each, amplitude_v=each.amplitude_v * factor) if isinstance(each, SwitchNode) else each
            for each in problem.case.sources
        ]
        return evolve(problem.case, sources=tuple(scaled))

    factor = _solved(_of_case(problem, change), 1.0, _LEAST_LEFT)
    needed = None if factor is None else factor * max(swings)
    return _opening("Less swing at the switch node", max(swings), needed, "V", "it may be at most")


def _leads(problem: Problem) -> Opening | None:
    now = problem.template.stated_inductance_h
    if not now:
        return None
    shorter = problem.template.with_less_inductance
    factor = _solved(lambda k: _open_ratio(evolve(problem, template=shorter(k))), 1.0, _LEAST_LEFT)
    needed = None if factor is None else factor * now
    return _opening("Shorter leads of the capacitor", now, needed, "H", "they may have at most")


def _earth(problem: Problem, least: float | None) -> Opening | None:
    mains = problem.case.mains
    if mains is None or not least:
        return None
    now = (
        max(each.limit or 0.0 for each in problem.of_kind("touch-current")) if problem.of_kind("touch-current") else 0.0
    )
    touch = touch_current(problem.solver, problem.case, problem.template.candidate(least))
    assert touch is not None
    needed = touch.worst_unweighted_a
    text = (
        f"Earth {mains.touched}: the protective conductor then carries the current. With that interrupted, "
        f"{shown(needed, 'A')} have to be allowed at {shown(least, 'F')}, instead of {shown(now, 'A')}."
    )
    return Opening(change="An earthed secondary", now=now, needed=needed, unit="A", text=text)


def _limit(problem: Problem, most: float | None) -> Opening | None:
    limit, peak = problem.peak_limit_v, problem.best_noise(most, problem.peak_v)
    if limit is None or not math.isfinite(peak) or peak <= limit:
        return None
    change = "A higher common-mode limit"
    if problem.best_noise(most, problem.emission_ratio) > 1.0:
        return _opening(change, limit, None, "V", "")
    text = f"Allow {shown(peak, 'V')} peak of common mode instead of {shown(limit, 'V')}, at the most capacitance."
    return Opening(change=change, now=limit, needed=peak, unit="V", text=text)
