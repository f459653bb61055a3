"""How much survives the tolerances: draws over every toleranced value, bands, yields, the worst draw, and corners."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator

import numpy as np
from attrs import evolve, field, frozen

from models.arrays import Real
from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.decide.draws import Draws, drawn_values
from models.decide.judges import judge_one
from models.decide.sequence import halton
from models.decide.subject import Subject
from models.decide.toleranced import Toleranced, candidate_toleranced, standing_toleranced, with_draw
from models.network.grid import Grid, point_grid
from models.network.solver import Solver

Progress = Callable[[float], None]
Cancelled = Callable[[], bool]

_SHARES = (0.05, 0.5, 0.95)
_MOST_CORNERS = 10
"""Values up to which all corners of their tolerances are taken, 1024."""


class _Stopped(Exception):
    """Someone said stop; nobody outside this module sees it."""


@frozen(kw_only=True)
class Request:
    """A study to be made: frozen, so that a worker can hold it while the document moves on.

    Attributes
    ----------
    case : with its candidates and requirements
    draws : how many
    points : frequencies of the bands, evenly spaced over the logarithm of the sweep
    peaks : how many of the draws the common-mode peak is computed for, which costs most
    seed : of the sequence; the same seed gives the same numbers
    """

    case: Case
    draws: int = 1000
    points: int = 200
    peaks: int = 200
    seed: int = 1


@frozen(kw_only=True, eq=False)
class Band:
    """|Z| in circuit over frequency that 5, 50 and 95 % of the draws stay below, (F,) each, Ω."""

    low_ohm: Real
    median_ohm: Real
    high_ohm: Real


@frozen(kw_only=True, eq=False)
class Spread:
    """One requirement over the draws.

    Attributes
    ----------
    requirement : which
    values : (D,) what it judges, SI; empty where no tolerance moves it here
    passed : (D,) whether each draw meets it; one entry where all do alike
    """

    requirement: Requirement
    values: Real
    passed: np.ndarray[tuple[int], np.dtype[np.bool_]]

    @property
    def share(self) -> float:
        """Share of the draws that meet it: its yield."""
        return float(np.mean(self.passed))


@frozen(kw_only=True, eq=False)
class CandidateSpread:
    """One candidate over the draws.

    Attributes
    ----------
    candidate : which
    toleranced : the values that were drawn, one a column of the factors
    factors : (D, K)
    band : of |Z| in circuit
    spreads : one a requirement, in the order of the case
    """

    candidate: Candidate
    toleranced: tuple[Toleranced, ...]
    factors: Real
    band: Band
    spreads: tuple[Spread, ...]

    @property
    def share(self) -> float:
        """Share of the draws that meet every requirement, of those for which all values are known."""
        count = min((len(each.passed) for each in self.spreads if len(each.passed) > 1), default=1)
        together = np.ones(count, np.bool_)
        for each in self.spreads:
            together &= each.passed[:count]
        return float(np.mean(together))

    def worst(self) -> int:
        """Return the draw that comes closest to a limit, or lies furthest over it, of those with all values known."""
        ratios = [
            each.values / each.requirement.limit for each in self.spreads if each.values.size and each.requirement.limit
        ]
        if not ratios:
            return 0
        count = min(len(each) for each in ratios)
        return int(np.argmax(np.max([each[:count] for each in ratios], axis=0)))


@frozen(kw_only=True, eq=False)
class Study:
    """What came of a request."""

    request: Request
    f_hz: Real
    candidates: tuple[CandidateSpread, ...] = field(factory=tuple)


def study(
    request: Request,
    *,
    solver: Solver | None = None,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> Study | None:
    """Draw every toleranced value evenly within its tolerance, all candidates with the same draws of what they share.

    Parameters
    ----------
    request : what is asked for
    solver : of its own; a new one by default
    progress : called with the share done, from 0 to 1
    cancelled : asked between steps; where it says yes the study ends

    Returns
    -------
    Study, or None where it was cancelled

    Notes
    -----
    A sequence of low discrepancy: shares settle like 1/D where chance settles like 1/√D. An even distribution within
    the tolerance is the cautious choice; real lots are narrower and may sit off centre. Source: J. H. Halton, *On the
    efficiency of certain quasi-random sequences*, 1960, scrambled.
    """
    case = request.case
    standing = standing_toleranced(case)
    own = [candidate_toleranced(case, candidate) for candidate in case.candidates]
    cube = halton(len(standing) + max((len(each) for each in own), default=0), request.draws, request.seed)
    grid = _grid(request)
    found: list[CandidateSpread] = []

    def pause() -> None:
        if cancelled is not None and cancelled():
            raise _Stopped

    try:
        for candidate, values in zip(case.candidates, own, strict=True):
            toleranced = (*standing, *values)
            draws = Draws(
                solver=solver or Solver(),
                case=case,
                candidate=candidate,
                toleranced=toleranced,
                factors=_factors(toleranced, cube[:, : len(toleranced)]),
                pause=pause,
            )
            found.append(_followed(draws, grid, request.peaks, progress, len(found) / len(case.candidates)))
    except _Stopped:
        return None
    return Study(request=request, f_hz=grid.f_hz, candidates=tuple(found))


def corners(case: Case, candidate: Candidate, *, points: int = 200, solver: Solver | None = None) -> CandidateSpread:
    """Return a candidate at the corners of its tolerances: all of them, or a spread of 1024 where there are more.

    Parameters
    ----------
    case, candidate : at nominal values
    points : frequencies of the band
    solver : of its own; a new one by default
    """
    toleranced = (*standing_toleranced(case), *candidate_toleranced(case, candidate))
    count = len(toleranced)
    if count <= _MOST_CORNERS:
        cube = np.array(list(itertools.product((0.0, 1.0), repeat=count))).reshape(2**count, count)
    else:
        cube = np.round(halton(count, 2**_MOST_CORNERS, 1))
    draws = Draws(
        solver=solver or Solver(),
        case=case,
        candidate=candidate,
        toleranced=toleranced,
        factors=_factors(toleranced, cube),
    )
    *_, (_, spread) = _steps(draws, _grid(Request(case=case, points=points)), len(cube))
    return spread


def drawn_case(case: Case, spread: CandidateSpread, number: int) -> Case:
    """Return one draw as a case of its own: that candidate alone, values drawn, their tolerances used up.

    Parameters
    ----------
    case : what was studied
    spread : one candidate of the study
    number : of the draw, such as `CandidateSpread.worst`
    """
    drawn = {value: float(factor) for value, factor in zip(spread.toleranced, spread.factors[number], strict=True)}
    changed, candidate = with_draw(case, spread.candidate, drawn)
    return evolve(changed, title=f"{case.title}: {candidate.name}, draw {number + 1}", candidates=(candidate,))


def _factors(toleranced: tuple[Toleranced, ...], cube: Real) -> Real:
    tolerances = np.array([each.tolerance for each in toleranced])
    return np.asarray(1.0 + (2.0 * cube - 1.0) * tolerances, np.float64)


def _grid(request: Request) -> Grid:
    sweep = request.case.sweep
    return point_grid(tuple(float(f) for f in np.geomspace(sweep.start_hz, sweep.stop_hz, request.points)))


def _followed(draws: Draws, grid: Grid, peaks: int, progress: Progress | None, done: float) -> CandidateSpread:
    """Take every step of one candidate and tell how far the whole has come."""
    steps = _steps(draws, grid, peaks)
    share, spread = next(steps)
    while share < 1.0:
        if progress is not None:
            progress(done + share / len(draws.case.candidates))
        draws.pause()
        share, spread = next(steps)
    if progress is not None:
        progress(done + 1.0 / len(draws.case.candidates))
    return spread


def _steps(draws: Draws, grid: Grid, peaks: int) -> Iterator[tuple[float, CandidateSpread]]:
    """Give the share done and what is known after each step; the last one is the whole."""
    requirements = draws.case.requirements
    spread = CandidateSpread(
        candidate=draws.candidate,
        toleranced=draws.toleranced,
        factors=draws.factors,
        band=_band(draws, grid),
        spreads=(),
    )
    yield 1.0 / (1 + len(requirements)), spread
    for number, requirement in enumerate(requirements, start=2):
        spread = evolve(spread, spreads=(*spread.spreads, _spread(draws, requirement, peaks)))
        yield number / (1 + len(requirements)), spread


def _band(draws: Draws, grid: Grid) -> Band:
    low, median, high = _ranked(draws.magnitude_ohm(grid))
    return Band(low_ohm=low, median_ohm=median, high_ohm=high)


def _ranked(values: Real) -> tuple[Real, Real, Real]:
    """Return what 5, 50 and 95 % of the draws stay below; whole ranks, so that infinite values do no harm."""
    ranks = [round(share * (len(values) - 1)) for share in _SHARES]
    ordered = np.partition(values, ranks, axis=0)
    low, median, high = (ordered[rank] for rank in ranks)
    return low, median, high


def _spread(draws: Draws, requirement: Requirement, peaks: int) -> Spread:
    chosen = draws.some(slice(0, peaks)) if requirement.kind == "common-mode-voltage" else draws
    values = drawn_values(chosen, requirement)
    if values is None or requirement.limit is None:
        subject = Subject(solver=draws.solver, case=draws.case, candidate=draws.candidate)
        met = judge_one(subject, requirement).outcome != "fail"
        return Spread(requirement=requirement, values=np.zeros(0), passed=np.full(len(draws.factors), met))
    return Spread(requirement=requirement, values=values, passed=np.asarray(values <= requirement.limit))
