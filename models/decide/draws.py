"""What each requirement's value becomes in every draw of the tolerances."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cached_property, reduce
from types import MappingProxyType

import numpy as np
from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.codec import KeyPath
from models.decide.dc_judge import SLOW_HZ, bleeds, dropping
from models.decide.drawn import DrawnEdge, drawn_mesh, edge_siemens
from models.decide.toleranced import MAINS, Toleranced, drawn_edges
from models.decide.touch_judge import faults
from models.formulas.discharge import bleed_time
from models.network.grid import DC, Grid, harmonic_grid, point_grid
from models.network.mesh import Mesh, impedance, reduce_to, volts
from models.network.solver import Drive, Solver, drive_of
from models.outcomes.common_mode import CommonMode, common_mode, mean_v
from models.outcomes.extremes import extremes
from models.outcomes.lines import source_lines
from models.outcomes.touch import touched_siemens
from models.sources.mains_offset import MainsOffset
from models.sources.source import Source

_BAND_POINTS = 60
_CLOSE_ENOUGH = 0.01
_LEAST_LINES = 256
_CHUNK = 500_000
"""Complex numbers held at once while peaks are drawn, 8 MB: what a cache holds, and a cancel waits for."""


@frozen(kw_only=True, eq=False, slots=False)
class Draws:
    """A candidate with the factors that are drawn for every value of it that has a tolerance.

    Attributes
    ----------
    solver, case, candidate : at nominal values
    toleranced : the K values that are drawn
    factors : (D, K)
    bridged : whether the branches across the pair stand in the network
    pause : called between long steps; raises to end them
    """

    solver: Solver
    case: Case
    candidate: Candidate
    toleranced: tuple[Toleranced, ...]
    factors: Real
    bridged: bool = True
    pause: Callable[[], None] = lambda: None

    @cached_property
    def columns(self) -> Mapping[tuple[bool, KeyPath], int]:
        """Column of the factors by where the value stands."""
        return {(each.of_candidate, each.path): number for number, each in enumerate(self.toleranced)}

    def edges(self, *, cables: bool = True) -> tuple[DrawnEdge, ...]:
        """Return every edge of the network, with or without the cables."""
        standing, leads, branches = drawn_edges(
            self.case, self.solver.operating(self.case, self.candidate), self.columns
        )
        kept = branches if self.bridged else (each for each in branches if not self._is_across(each))
        return (*standing, *(leads if cables else ()), *kept)

    def _is_across(self, drawn: DrawnEdge) -> bool:
        return drawn.edge.role == "branch" and self.case.pair.is_joined_by(drawn.edge.ends)

    def bridge(self, grid: Grid) -> Complex | None:
        """Return the admittance of the branches across the pair alone (D or 1, F) in S; None where none is."""
        across = [each for each in self.edges() if self._is_across(each)]
        return drawn_mesh(across, grid, self.factors).between(*self.case.pair.ends)

    def siemens(self, grid: Grid) -> Complex | None:
        """Return the admittance between the pair (D, F) in S, (1, F) where nothing is drawn; None for an open pair."""
        pair = self.case.pair.ends
        return reduce_to(drawn_mesh(self.edges(), grid, self.factors), pair)[0].between(*pair)

    def magnitude_ohm(self, grid: Grid) -> Real:
        """Return |Z| in circuit (D, F) in Ω."""
        y = self.siemens(grid)
        shape = (len(self.factors), grid.omega.size)
        if y is None:
            return np.full(shape, np.inf)
        with np.errstate(divide="ignore"):
            return np.broadcast_to(1.0 / np.abs(y), shape)

    def column(self, path: KeyPath) -> Real:
        """Return the factors (D,) of one value that always stands; ones where it is not drawn."""
        place = self.columns.get((False, path))
        return np.ones(len(self.factors)) if place is None else self.factors[:, place]

    def some(self, chosen: slice) -> Draws:
        """Return only some of the draws."""
        return evolve(self, factors=self.factors[chosen])


def drawn_values(draws: Draws, requirement: Requirement) -> Real | None:
    """Return the value that a requirement judges in every draw (D,), None for a kind that no tolerance moves here."""
    judge = _VALUES.get(requirement.kind)
    return None if judge is None else judge(draws, requirement)


def _return_impedance(draws: Draws, requirement: Requirement) -> Real | None:
    band = requirement.band_hz
    assert band is not None
    grid = point_grid(tuple(float(f_hz) for f_hz in np.geomspace(*band, _BAND_POINTS)))
    return np.asarray(draws.magnitude_ohm(grid).max(axis=1), np.float64)


def _touch_current(draws: Draws, requirement: Requirement) -> Real | None:
    """Return the touch current, or with a fault what it comes to against the limit of normal condition."""
    limit = requirement.limit
    if draws.case.mains is None or limit is None:
        return None
    worst = _touched_a(draws)
    stated = requirement.fault_limit_a
    for fault in faults(draws.case, draws.candidate, earth=stated is not None):
        faulted = _touched_a(evolve(draws, case=fault.case, candidate=fault.candidate))
        worst = np.maximum(worst, faulted * (limit / stated if stated else 1.0))
    return worst


def _touched_a(draws: Draws) -> Real:
    """Return the touch current in every draw (D,), A."""
    mains = draws.case.mains
    assert mains is not None
    grid, keep = point_grid((mains.frequency_hz,)), (mains.feeds, mains.touched, draws.case.surroundings.name)
    mesh = reduce_to(drawn_mesh(draws.edges(cables=False), grid, draws.factors), keep)[0]
    per_volt = touched_siemens(mesh, mains, keep[-1], "unweighted").ravel()
    return np.asarray(mains.voltage_v * draws.column(MAINS) * per_volt, np.float64)


def _dc_drop(draws: Draws, _: Requirement) -> Real | None:
    sources = draws.case.sources
    together = dropping([mean_v(draws.solver, draws.case, draws.candidate, source) for source in sources])
    drops = [np.abs(_mean_v(draws, sources[place])) for place in together]
    return np.asarray(np.sum(drops, axis=0), np.float64) if drops else np.zeros(1) if sources else None


def _loop_current(draws: Draws, _: Requirement) -> Real | None:
    offsets = [source for source in draws.case.sources if isinstance(source, MainsOffset)]
    return np.asarray(np.max([_round_a(draws, each) for each in offsets], axis=0), np.float64) if offsets else None


def _round_a(draws: Draws, source: MainsOffset) -> Real:
    """Return what an offset of the earths sends over the bridge in every draw (D,), A, as `loop_judge.Loop` has it."""
    grid, bare = point_grid((source.wave.frequency_hz,)), evolve(draws, bridged=False)
    bridge, around = draws.bridge(grid), bare.siemens(grid)
    current = np.zeros((len(draws.factors), 1))
    if bridge is not None and around is not None:
        volt = source.level() * np.abs(_transfer(bare, source, grid))
        ohm = np.abs(impedance(around) + impedance(bridge))
        with np.errstate(divide="ignore"):
            np.divide(volt, ohm, out=current, where=volt > 0.0)
    return current[:, 0]


def _static_bleed(draws: Draws, _: Requirement) -> Real | None:
    if not bleeds(draws.case, draws.candidate):
        return np.full(1, np.inf)
    low = point_grid((SLOW_HZ,))
    ohm, y = draws.magnitude_ohm(DC)[:, 0], draws.siemens(low)
    farad = np.zeros(1) if y is None else np.maximum(0.0, y[:, 0].imag / low.omega[0])
    return bleed_time(ohm, farad)


def _common_mode(draws: Draws, _: Requirement) -> Real | None:
    peaks = [_peaks_v(draws, source) for source in draws.case.sources]
    return np.asarray(np.max(peaks, axis=0), np.float64) if peaks else None


def _transfer(draws: Draws, source: Source, grid: Grid) -> Complex:
    """Return v(b) − v(a) per unit of a source (D or 1, F), 0 where none is driven there."""
    drive, pair, edges = drive_of(draws.case, source), draws.case.pair.ends, draws.edges()
    mesh = drawn_mesh(edges, grid, draws.factors)
    own = _injected(draws, drive, source, grid)
    also = [edge_siemens(each, grid, draws.factors) for each in edges if each.edge in drive.also]
    reduced = reduce_to(Mesh(y=mesh.y, j=drive.carried(own, also)), pair)[0]
    carried, y = reduced.carried(*pair), reduced.between(*pair)
    return np.zeros((1, grid.omega.size), np.complex128) if carried is None or y is None else volts(carried, y)


def _injected(draws: Draws, drive: Drive, source: Source, grid: Grid) -> Complex:
    """Return the current that a source injects per unit of it (D or 1, F), A."""
    if drive.series:
        series = [_series_current(draws, each, grid) for each in draws.edges() if each.edge in drive.series]
        return reduce(np.add, series)
    current = draws.solver.injected(drive, grid)[np.newaxis]
    if drive.capacitance_f is None:
        return current
    number = next(index for index, each in enumerate(draws.case.transformers) if each.name == source.through)
    return current * draws.column(("transformers", number))[:, np.newaxis]


def _series_current(draws: Draws, drawn: DrawnEdge, grid: Grid) -> Complex:
    """Return the current that 1 V in series with an edge drives (D or 1, F), A; no tolerance moves what is long."""
    if any(column is not None for column in drawn.columns):
        return edge_siemens(drawn, grid, draws.factors)
    return draws.solver.series_current(drawn.edge, grid)[np.newaxis]


def _mean_v(draws: Draws, source: Source) -> Real:
    """Return the mean across the pair in every draw (D,), V; the nominal one where it is 0 or has no way back."""
    nominal = mean_v(draws.solver, draws.case, draws.candidate, source)
    count = len(draws.factors)
    if nominal == 0.0 or not math.isfinite(nominal):
        return np.full(count, nominal)
    mean = source_lines(draws.solver, draws.case, source).mean
    return np.broadcast_to(mean * _transfer(draws, source, DC)[:, 0].real, count)


def _peaks_v(draws: Draws, source: Source) -> Real:
    """Return the peak across the pair in every draw (D,), V, from as many lines as 1 % of the nominal peak takes."""
    nominal = common_mode(draws.solver, draws.case, draws.candidate, source)
    count = len(draws.factors)
    if not math.isfinite(nominal.peak_v):
        return np.full(count, np.inf)
    means = _mean_v(draws, source)
    lines = source_lines(draws.solver, draws.case, source)
    number = _enough_lines(nominal)
    if lines.grid is None or number == 0:
        return np.abs(means)
    grid = harmonic_grid(lines.frequency_hz, number)
    step = max(1, _CHUNK // max(1, number))
    found = [
        _chunk_peaks(draws.some(slice(start, start + step)), source, grid, lines.coefficients[1 : number + 1])
        for start in range(0, count, step)
    ]
    lows, highs = (np.concatenate(each) for each in zip(*found, strict=True))
    return np.asarray(np.maximum(np.abs(means + lows), np.abs(means + highs)), np.float64)


def _chunk_peaks(draws: Draws, source: Source, grid: Grid, coefficients: Complex) -> tuple[Real, Real]:
    """Return the lowest and the highest value of the swing in every draw, (D,) each."""
    draws.pause()
    count = len(draws.factors)
    lines = _transfer(draws, source, grid) * coefficients
    if not lines.any():
        return np.zeros(count), np.zeros(count)
    whole = np.concatenate([np.zeros((len(lines), 1), np.complex128), lines], axis=1)
    samples = 1 << (4 * whole.shape[1] - 1).bit_length()
    waves = np.fft.irfft(whole, samples, axis=1, norm="forward")
    bounds = np.array([extremes(wave) for wave in waves])
    return np.broadcast_to(bounds[:, 0], count), np.broadcast_to(bounds[:, 1], count)


def _enough_lines(mode: CommonMode) -> int:
    total = len(mode.coefficients) - 1
    count = _LEAST_LINES
    while count < total:
        part = CommonMode(
            source=mode.source,
            frequency_hz=mode.frequency_hz,
            dc_v=mode.dc_v,
            coefficients=mode.coefficients[: count + 1],
        )
        if abs(part.peak_v - mode.peak_v) <= _CLOSE_ENOUGH * mode.peak_v:
            return count
        count *= 2
    return total


_VALUES: Mapping[str, Callable[[Draws, Requirement], Real | None]] = MappingProxyType(
    {
        "return-impedance": _return_impedance,
        "touch-current": _touch_current,
        "dc-drop": _dc_drop,
        "loop-current": _loop_current,
        "static-bleed": _static_bleed,
        "common-mode-voltage": _common_mode,
    }
)
