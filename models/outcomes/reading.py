"""What a measuring receiver reads of the lines of one source, and of several sources together."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import cache, cached_property

import numpy as np
from attrs import frozen

from models.arrays import Real
from models.formulas.levels import level_dbuv
from models.formulas.receiver import BANDS, FIELD_HZ, Band, QuasiPeak, filter_weight
from models.sources.harmonics import SLACK

_REACH = 2.0
"""How many bandwidths off a line still counts: there the filter is down by 96 dB."""
_DWELL_S = 1.0
"""How long the receiver stays at a frequency; sets how high the peaks of noise come out."""
_NOISE_WIDTH = 0.5 * math.sqrt(math.pi / (2.0 * math.log(2.0)))
"""Noise bandwidth of the Gaussian filter over its 6 dB bandwidth, 0.753."""
_DIRECT = 24
_Factor = Callable[[Band], float]


@frozen(kw_only=True, eq=False, slots=False)
class Emission:
    """Lines at equal distances, and how a receiver after CISPR 16 reads them.

    Lines further apart than the bandwidth read alike in every detector. Closer ones add up in peak, all in phase; their
    quasi-peak is taken as that peak, an upper bound: the detector itself reads within 1 dB of it where lines are 10 kHz
    apart or more, 1.5 dB (band B) and 3.5 dB (C and D) less at 1 kHz, 6 and 12 dB less at 100 Hz. The average shows the
    line itself. Random data reads as noise: its density in the bandwidth.

    Attributes
    ----------
    source : name of the source
    spacing_hz : distance between lines
    first : order of the first line
    v_rms : (K,) lines, V rms, or V/m for a field; ``inf`` where the source's current has no way back
    noise_like : whether the lines stand for a continuous spectrum
    field : whether it is a field, measured from 30 MHz up, and not a voltage at terminals, measured up to there
    """

    source: str
    spacing_hz: float
    first: int
    v_rms: Real
    noise_like: bool
    field: bool

    @cached_property
    def f_hz(self) -> Real:
        """Frequencies (K,) of the lines."""
        return (self.first + np.arange(self.v_rms.size, dtype=np.float64)) * self.spacing_hz

    def read(self, detector: str) -> Real:
        """Return the reading (K,) at each line of a detector: ``peak``, ``quasi-peak`` or ``average``, V or V/m rms."""
        return self._average if detector == "average" else self._peak if detector == "peak" else self._quasi_peak

    def level_db(self, detector: str) -> Real:
        """Return the reading (K,) in dBµV, or dBµV/m."""
        return level_dbuv(self.read(detector))

    @cached_property
    def _peak(self) -> Real:
        if self.noise_like:
            return self._noise(lambda band: math.sqrt(math.log(max(math.e, band.bandwidth_hz * _DWELL_S))))
        found = self.v_rms.copy()
        for band, held in self._bands:
            side = math.floor(_REACH * band.bandwidth_hz / self.spacing_hz)
            if side and held.start < held.stop:
                found[held] = _together(self.v_rms, held, self.spacing_hz, band.bandwidth_hz, side)
        return found

    @cached_property
    def _quasi_peak(self) -> Real:
        return self._noise(_noise_quasi_peak) if self.noise_like else self._peak

    @cached_property
    def _average(self) -> Real:
        return self._noise(lambda _: math.sqrt(math.pi / 4.0)) if self.noise_like else self.v_rms

    def _noise(self, factor: _Factor) -> Real:
        found = self.v_rms.copy()
        for band, held in self._bands:
            found[held] *= math.sqrt(_NOISE_WIDTH * band.bandwidth_hz / self.spacing_hz) * factor(band)
        return found

    @property
    def _bands(self) -> list[tuple[Band, slice]]:
        starts = [int(place) for place in np.searchsorted(self.f_hz, [_start_hz(band, self.field) for band in BANDS])]
        return list(map(_held, BANDS, starts, [*starts[1:], self.v_rms.size]))

    def near(self, f_hz: Real, detector: str) -> Real:
        """Return what this source adds (F,) to readings at other frequencies: its nearest line through the filter."""
        if not self.v_rms.size:
            return np.zeros(f_hz.shape)
        place = np.clip(np.rint(f_hz / self.spacing_hz).astype(np.intp) - self.first, 0, self.v_rms.size - 1)
        off_hz = np.abs(f_hz - self.f_hz[place])
        if self.noise_like:
            off_hz = np.maximum(off_hz - 0.5 * self.spacing_hz, 0.0)
        return np.asarray(
            self.read(detector)[place] * filter_weight(off_hz / _bandwidths(f_hz, self.field), 1.0), np.float64
        )


@frozen(kw_only=True, eq=False, slots=False)
class Together:
    """The emissions of several sources read together, at every line of each.

    Attributes
    ----------
    each : the sources alone
    """

    each: Sequence[Emission]

    def read(self, index: int, detector: str) -> tuple[Real, Real]:
        """Return the readings (K,) at the lines of one source: sum of powers, and sum of amplitudes as its bound."""
        own = self.each[index]
        others = [other.near(own.f_hz, detector) for other in self.each if other is not own]
        if not others:
            return own.read(detector), own.read(detector)
        reading = own.read(detector)
        power = np.sqrt(reading**2 + sum((other**2 for other in others), start=np.zeros(reading.shape)))
        return power, reading + sum(others, start=np.zeros(reading.shape))


def _held(band: Band, start: int, stop: int) -> tuple[Band, slice]:
    return band, slice(start, stop)


def _start_hz(band: Band, field: bool) -> float:
    """Return where a band begins, beside its edge: 30 MHz is the end of what terminals are measured by."""
    return band.start_hz * (1.0 + SLACK if band.start_hz == FIELD_HZ and not field else 1.0 - SLACK)


def _bandwidths(f_hz: Real, field: bool) -> Real:
    starts = np.array([_start_hz(band, field) for band in BANDS[1:]])
    widths = np.array([band.bandwidth_hz for band in BANDS])
    return np.asarray(widths[np.searchsorted(starts, f_hz, side="right")], np.float64)


def _together(v_rms: Real, held: slice, spacing_hz: float, bandwidth_hz: float, side: int) -> Real:
    """Return Σ|V|·H around each held line: directly for few neighbours, by Fourier transform for many."""
    weights = filter_weight(np.arange(-side, side + 1) * spacing_hz, bandwidth_hz)
    low, high = max(0, held.start - side), min(v_rms.size, held.stop + side)
    padded = np.zeros(held.stop - held.start + 2 * side)
    at = low - (held.start - side)
    padded[at : at + high - low] = v_rms[low:high]
    if not np.isfinite(padded).all():
        return np.full(held.stop - held.start, np.inf)
    if side <= _DIRECT:
        return np.convolve(padded, weights, mode="valid")
    size = padded.size + weights.size
    both = np.fft.irfft(np.fft.rfft(padded, size) * np.fft.rfft(weights, size), size)
    return np.maximum(both[2 * side : padded.size], v_rms[held])


@cache
def _noise_quasi_peak(band: Band) -> float:
    """Return what quasi-peak reads of Gaussian noise, over its rms in the bandwidth.

    √(π/2)·erfc(x/√2) = x·τ_c/τ_d for the detector at rest over the Rayleigh envelope; x·(1 + τ_c/τ_d)/√2 as a steady
    carrier scales it. 4.9 dB in band B, 6.2 dB in C and D.
    """
    detector = band.quasi_peak or QuasiPeak(1e-3, 550e-3, 100e-3)
    ratio = detector.charge_s / detector.discharge_s
    low, high = 0.0, 10.0
    for _ in range(60):
        x = 0.5 * (low + high)
        charging = math.sqrt(0.5 * math.pi) * math.erfc(x / math.sqrt(2.0))
        low, high = (x, high) if charging > x * ratio else (low, x)
    return x * (1.0 + ratio) / math.sqrt(2.0)
