"""The spectrum of a source, ready for the network: its lines and the frequencies they stand at."""

from __future__ import annotations

from attrs import frozen

from models.arrays import Complex
from models.case.document import Case
from models.network.grid import Grid, harmonic_grid
from models.network.solver import Solver
from models.sources.harmonics import first_order
from models.sources.sequence import RandomData
from models.sources.source import Source


@frozen(kw_only=True, eq=False)
class SourceLines:
    """The lines of a source up to the end of the sweep.

    Attributes
    ----------
    frequency_hz : distance between lines
    coefficients : (N + 1,) two-sided Fourier coefficients with the source's level, V or A
    grid : orders 1 to N; None where no line lies inside the sweep
    noise_like : whether the lines stand for a continuous spectrum, as those of random data do
    """

    frequency_hz: float
    coefficients: Complex
    grid: Grid | None
    noise_like: bool

    @property
    def count(self) -> int:
        """N, the highest order."""
        return len(self.coefficients) - 1

    def first_from(self, start_hz: float) -> int:
        """Return the first order at or above a frequency; N + 1 where there is none."""
        return min(self.count + 1, max(1, first_order(self.frequency_hz, start_hz)))

    @property
    def mean(self) -> float:
        """The mean, V or A."""
        return float(self.coefficients[0].real)


def source_lines(solver: Solver, case: Case, source: Source) -> SourceLines:
    """Return the lines of a source, computed once."""
    stop_hz = case.sweep.stop_hz
    return solver.memo.get(("lines", source, stop_hz), lambda: _lines(solver, source, stop_hz))


def _lines(solver: Solver, source: Source, stop_hz: float) -> SourceLines:
    shape = source.shape
    f_hz, count = shape.frequency_hz, shape.harmonic_count(stop_hz)
    return SourceLines(
        frequency_hz=f_hz,
        coefficients=source.level() * shape.coefficients(count),
        grid=solver.memo.get(("grid", f_hz, count), lambda: harmonic_grid(f_hz, count)) if count else None,
        noise_like=isinstance(shape, RandomData),
    )
