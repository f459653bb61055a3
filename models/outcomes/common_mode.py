"""The common-mode voltage that one source drives across the pair: harmonics, waveform, peak, rms."""

from __future__ import annotations

import math
from functools import cache, cached_property

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.network.grid import DC
from models.network.response import Response
from models.network.solver import Solver
from models.outcomes.extremes import extremes
from models.outcomes.lines import source_lines
from models.sources.source import Source

_OVERSAMPLING = 3
"""Samples for a period of the highest harmonic, which needs two: `extremes` finds what lies between them."""
_LEAST_SAMPLES = 512
"""So that the wave of a lone sine, or of few harmonics, is drawn smooth; more samples cost nothing there."""


@frozen(kw_only=True, eq=False, slots=False)
class CommonMode:
    """v(b) − v(a) from one source alone.

    Attributes
    ----------
    source : name of the source
    frequency_hz : repetition frequency
    dc_v : the mean, V; ``inf`` where a direct current has no way back
    coefficients : (N + 1,) two-sided Fourier coefficients, V, order 0 set to 0; infinite where nothing joins the pair
    """

    source: str
    frequency_hz: float
    dc_v: float
    coefficients: Complex

    @cached_property
    def orders(self) -> Real:
        """Harmonic orders 0 to N."""
        return np.arange(len(self.coefficients), dtype=np.float64)

    @cached_property
    def v_rms(self) -> Real:
        """Rms voltage (N + 1,) of every harmonic, the mean at order 0, V."""
        v_rms = math.sqrt(2.0) * np.abs(self.coefficients)
        v_rms[0] = abs(self.dc_v)
        return v_rms

    @cached_property
    def waveform_v(self) -> Real:
        """One period (M,), V, from the start of the rising edge; the mean left out where it is infinite."""
        if not np.isfinite(self.coefficients).all():
            return np.full(2, np.inf)
        mean = self.dc_v if math.isfinite(self.dc_v) else 0.0
        return mean + self._swing_v

    @cached_property
    def _swing_v(self) -> Real:
        samples = _smooth_length(max(_LEAST_SAMPLES, _OVERSAMPLING * len(self.coefficients)))
        swing: Real = np.fft.irfft(self.coefficients, samples, norm="forward")
        return swing

    @cached_property
    def _extremes_v(self) -> tuple[float, float]:
        return extremes(self._swing_v) if np.isfinite(self.coefficients).all() else (-math.inf, math.inf)

    @cached_property
    def peak_v(self) -> float:
        """Largest magnitude of the waveform, V; ``inf`` where the mean is."""
        if not math.isfinite(self.dc_v):
            return math.inf
        return max(abs(self.dc_v + each) for each in self._extremes_v)

    @cached_property
    def swing_peak_v(self) -> float:
        """Largest magnitude of the waveform with the mean left out, V."""
        return max(abs(each) for each in self._extremes_v)

    @cached_property
    def peak_to_peak_v(self) -> float:
        """Peak to peak, V; the mean does not count."""
        low, high = self._extremes_v
        return high - low

    @cached_property
    def total_rms_v(self) -> float:
        """Rms of the whole waveform, the mean included, V."""
        return float(np.sqrt(np.sum(self.v_rms**2)))


def common_mode(
    solver: Solver, case: Case, candidate: Candidate, source: Source, response: Response | None = None
) -> CommonMode:
    """Return the voltage across the pair from one source, every harmonic up to the end of the sweep.

    V_n = c_n·A·H(f_n): the source's exact Fourier coefficients times the network's transfer, DC with DC resistances.

    Parameters
    ----------
    solver : remembers the network between calls
    case, candidate, source : what is solved
    response : of the network to the source at its lines, where it is known already

    Returns
    -------
    CommonMode
    """
    lines = source_lines(solver, case, source)
    coefficients = np.empty(lines.coefficients.shape, np.complex128)
    coefficients[0] = 0.0
    if lines.grid is not None:
        if response is None:
            response = solver.response(case, candidate, source, lines.grid)
        with np.errstate(invalid="ignore"):
            np.multiply(response.v_ba, lines.coefficients[1:], out=coefficients[1:])
    return CommonMode(
        source=source.name,
        frequency_hz=lines.frequency_hz,
        dc_v=mean_v(solver, case, candidate, source),
        coefficients=coefficients,
    )


def mean_v(solver: Solver, case: Case, candidate: Candidate, source: Source) -> float:
    """Return the mean that one source drives across the pair, V; ``inf`` where a direct current has no way back.

    V_0 = c_0·A·H(0), with the resistances at DC; no harmonic is computed for it

    Parameters
    ----------
    solver : remembers the network between calls
    case, candidate, source : what is solved
    """
    mean = solver.mean(source)
    return mean * float(solver.transfer(case, candidate, source, DC)[0].real) if mean else 0.0


@cache
def _smooth_length(least: int) -> int:
    """Return the smallest even 2ⁱ·3ʲ·5ᵏ that is not below: the lengths an FFT likes."""
    best = 1 << max(1, (least - 1).bit_length())
    five = 1
    while five < best:
        three = five
        while three < best:
            length = three << max(1, math.ceil(math.log2(max(2.0, least / three))))
            if least <= length < best:
                best = length
            three *= 3
        five *= 5
    return best
