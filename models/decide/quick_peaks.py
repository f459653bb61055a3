"""The common-mode peak of many bridges in one case, fast: the surroundings as one equivalent, parts solved once."""

from __future__ import annotations

import math

import numpy as np
from attrs import field, frozen

from models.arrays import Complex
from models.case.document import AS_STATED, Candidate, Case
from models.decide.corners import weak_bridge, weaker
from models.decide.structures import Structure
from models.network.grid import DC, Grid
from models.network.memo import Memo
from models.network.mesh import admittance, impedance
from models.network.solver import Solver
from models.outcomes.common_mode import CommonMode
from models.outcomes.lines import SourceLines, source_lines
from models.parts.part import Part
from models.sources.source import Source

_NOTHING = Candidate(name="nothing")
_FEW = 1024


@frozen(kw_only=True, eq=False)
class Equivalent:
    """What a bridge has to beat: the open-circuit voltage of a source and the impedance behind it, at its lines.

    Attributes
    ----------
    source, lines : the source and its lines
    case : the corner of the tolerances that verdicts judge, where the pair is joined most weakly
    open_v : (N,) two-sided coefficients of the open-circuit voltage, V
    behind_ohm : (N,) impedance behind it, Ω
    """

    source: Source
    lines: SourceLines
    case: Case
    open_v: Complex
    behind_ohm: Complex


@frozen(kw_only=True, eq=False)
class QuickPeaks:
    """Tells of many bridges whether a source drives too much across the pair.

    V = V_open·Z_b/(Z_b + Z_behind), with every part at its weak end. The first lines alone rule out most bridges: the
    rest cannot lower a peak by more than the sum of its amplitudes.

    Attributes
    ----------
    equivalents : one a source; none where the pair is open without a bridge, which has no equivalent
    """

    solver: Solver
    equivalents: tuple[Equivalent, ...]
    _memo: Memo = field(factory=Memo)

    def exceeds(self, structure: Structure, limit_v: float) -> bool:
        """Return whether the common-mode peak of any source is above a limit; no where it cannot be said this way."""
        return any(self._above(structure, each, limit_v) for each in self.equivalents)

    def _above(self, structure: Structure, equivalent: Equivalent, limit_v: float) -> bool:
        grid = equivalent.lines.grid
        if grid is None or not structure.branches:
            return False
        bridge = self._bridge_ohm(structure, grid)
        lines = equivalent.open_v * (bridge / (bridge + equivalent.behind_ohm))
        dc_v = self._mean_v(structure, equivalent)
        rest = 2.0 * float(np.sum(np.abs(lines[_FEW:])))
        if _sampled_peak_v(lines[:_FEW], dc_v) - rest > limit_v:
            return True
        return _peak_v(equivalent, lines, dc_v) > limit_v

    def _mean_v(self, structure: Structure, equivalent: Equivalent) -> float:
        if equivalent.lines.mean == 0.0:
            return 0.0
        candidate = structure.candidate()
        gain = float(self.solver.transfer(equivalent.case, candidate, equivalent.source, DC)[0].real)
        return equivalent.lines.mean * gain if math.isfinite(gain) else 0.0

    def _bridge_ohm(self, structure: Structure, grid: Grid) -> Complex:
        branches = [
            sum((self._part_ohm(offer.part, grid) for offer in branch), start=np.zeros(1, np.complex128))
            for branch in structure.branches
        ]
        if len(branches) == 1:
            return branches[0]
        return impedance(sum((admittance(each) for each in branches), start=np.zeros(1, np.complex128)))

    def _part_ohm(self, part: Part, grid: Grid) -> Complex:
        return self._memo.get((part, grid), lambda: weaker(part).impedance(grid.omega))


def quick_peaks(solver: Solver, case: Case) -> QuickPeaks:
    """Return what judges the common-mode peaks of many bridges in a case.

    Parameters
    ----------
    solver : remembers the network
    case : with its sources
    """
    if case.bead_bias != AS_STATED:  # a bead is then another one in every bridge
        return QuickPeaks(solver=solver, equivalents=())
    found = []
    for source in case.sources:
        equivalent = _equivalent(solver, weak_bridge(case, _NOTHING, source)[0], source)
        if equivalent is not None:
            found.append(equivalent)
    return QuickPeaks(solver=solver, equivalents=tuple(found))


def _equivalent(solver: Solver, case: Case, source: Source) -> Equivalent | None:
    lines = source_lines(solver, case, source)
    if lines.grid is None:
        return None
    gain = solver.transfer(case, _NOTHING, source, lines.grid)
    behind = solver.in_circuit(case, _NOTHING, lines.grid)
    if not (np.isfinite(gain).all() and np.isfinite(behind).all()):
        return None
    return Equivalent(source=source, lines=lines, case=case, open_v=lines.coefficients[1:] * gain, behind_ohm=behind)


def _sampled_peak_v(lines: Complex, dc_v: float) -> float:
    """Return the highest sample, which the peak does not stay below."""
    coefficients = np.concatenate([np.zeros(1, np.complex128), lines])
    swing = np.fft.irfft(coefficients, 4 * _FEW, norm="forward")
    return float(np.abs(dc_v + swing).max())


def _peak_v(equivalent: Equivalent, lines: Complex, dc_v: float) -> float:
    coefficients = np.concatenate([np.zeros(1, np.complex128), lines])
    mode = CommonMode(
        source=equivalent.source.name,
        frequency_hz=equivalent.lines.frequency_hz,
        dc_v=dc_v,
        coefficients=coefficients,
    )
    return mode.peak_v
