"""The measuring receiver: bandwidths, its filter, and how its detectors read what passes."""

from __future__ import annotations

import math
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.impedance import Real


class QuasiPeak(NamedTuple):
    """Time constants of the quasi-peak detector: charge, discharge, meter, s."""

    charge_s: float
    discharge_s: float
    meter_s: float


class Band(NamedTuple):
    """A band of CISPR 16-1-1: its name, ends in Hz, 6 dB bandwidth in Hz, and detector where it has one."""

    name: str
    start_hz: float
    stop_hz: float
    bandwidth_hz: float
    quasi_peak: QuasiPeak | None


BANDS: Final = (
    Band("A", 9e3, 150e3, 200.0, QuasiPeak(45e-3, 500e-3, 160e-3)),
    Band("B", 150e3, 30e6, 9e3, QuasiPeak(1e-3, 160e-3, 160e-3)),
    Band("C/D", 30e6, 1e9, 120e3, QuasiPeak(1e-3, 550e-3, 100e-3)),
    Band("E", 1e9, 18e9, 1e6, None),
)
"""Bands of CISPR 16-1-1; check the current edition."""


def band_of(f_hz: float) -> Band | None:
    """Band in which a frequency is measured, the upper one at a common end.

    Parameters
    ----------
    f_hz : Hz

    Returns
    -------
    Band, or None outside 9 kHz to 18 GHz

    Notes
    -----
    Source: CISPR 16-1-1.
    """
    held = [band for band in BANDS if band.start_hz <= f_hz <= band.stop_hz]
    return held[-1] if held else None


def filter_weight(offset_hz: ArrayLike, bandwidth_hz: float) -> Real:
    """Gaussian model of the receiver's filter.

    |H| = 2^(−(2Δf/B)²)

    Parameters
    ----------
    offset_hz : Δf from the tuned frequency, any shape, Hz
    bandwidth_hz : B between the 6 dB points, Hz

    Returns
    -------
    same shape, 1 in the middle, 1/2 at ±B/2

    Notes
    -----
    Close to real filters down to −20 dB; their skirts vary. Source: CISPR 16-1-1 for the 6 dB points.
    """
    return np.asarray(np.exp2(-((2.0 * np.asarray(offset_hz, np.float64) / bandwidth_hz) ** 2)), np.float64)


def impulse_bandwidth(bandwidth_hz: float) -> float:
    """Bandwidth that turns a pulse's spectral density into its peak reading.

    B_imp = B6·√(π/ln 2)/2 = 1.064·B6

    Parameters
    ----------
    bandwidth_hz : B6 between the 6 dB points, Hz

    Returns
    -------
    float, Hz

    Notes
    -----
    Exact for the Gaussian filter. Source: area under `filter_weight`.
    """
    return 0.5 * bandwidth_hz * math.sqrt(math.pi / math.log(2.0))


def impulse_envelope(t_s: ArrayLike, bandwidth_hz: float) -> Real:
    """Envelope at the filter's output after a short pulse.

    exp(−(πBt)²/(4·ln 2)), 1 at its top

    Parameters
    ----------
    t_s : t from the top, any shape, s
    bandwidth_hz : B, Hz

    Returns
    -------
    same shape

    Notes
    -----
    Exact for the Gaussian filter. Source: Fourier transform of `filter_weight`.
    """
    phase = math.pi * bandwidth_hz * np.asarray(t_s, np.float64)
    return np.asarray(np.exp(-(phase**2) / (4.0 * math.log(2.0))), np.float64)


def peak_reading(lines_v_rms: ArrayLike, offsets_hz: ArrayLike, bandwidth_hz: float) -> float:
    """Peak reading of several lines in one filter: all in phase.

    Σ |V_n|·|H(Δf_n)|

    Parameters
    ----------
    lines_v_rms : |V_n| (N,), V rms
    offsets_hz : Δf_n (N,) from the tuned frequency, Hz
    bandwidth_hz : B, Hz

    Returns
    -------
    float, V rms as the receiver is scaled

    Notes
    -----
    Upper bound, reached by pulses; one line alone reads itself. Quasi-peak is within 0.1 dB of it where lines are above
    10 kHz apart. Source: triangle inequality.
    """
    weighted = np.abs(np.asarray(lines_v_rms)) * filter_weight(offsets_hz, bandwidth_hz)
    return float(np.sum(weighted))


def quasi_peak_reading(envelope_v: ArrayLike, step_s: float, detector: QuasiPeak) -> float:
    """Quasi-peak reading of an envelope that repeats.

    dv/dt = (e − v)₊/τ_c − v/τ_d, then two equal lags of the meter; a steady envelope reads itself

    Parameters
    ----------
    envelope_v : e over one period (N,), evenly sampled, constant from sample to sample, V
    step_s : between samples, s
    detector : τ_c, τ_d, τ_m

    Returns
    -------
    float, greatest deflection of the meter, V

    Notes
    -----
    Exact for such an envelope. Against the standard's response to pulses (from memory) 1 dB from 20 Hz up in band B, 2
    dB from 10 Hz up in the others, 4 dB low at 1 Hz. Source: CISPR 16-1-1, detector and meter.
    """
    envelope = np.asarray(envelope_v, np.float64)
    held = _detected(envelope, step_s, detector)
    omega = 2.0 * math.pi * np.fft.rfftfreq(envelope.size, step_s)
    meter = np.fft.irfft(np.fft.rfft(held) / (1.0 + 1j * omega * detector.meter_s) ** 2, envelope.size)
    steady = detector.discharge_s / (detector.charge_s + detector.discharge_s)
    return float(np.max(meter)) / steady


def _detected(envelope: Real, step_s: float, detector: QuasiPeak) -> Real:
    """Return the detector's voltage (N,) over one period once it repeats.

    Over one period the end is a rising, convex function of the start, so that Newton's steps settle in a few passes.
    """
    start, slope_step = 0.0, 1e-6 * max(float(np.max(envelope)), 1e-300)
    for _ in range(60):
        held, nearby = (
            _passed(envelope, step_s, detector, start),
            _passed(envelope, step_s, detector, start + slope_step),
        )
        miss = held[-1] - start
        if abs(miss) <= 1e-9 * max(held[-1], 1e-300):
            break
        start += miss / (1.0 - (nearby[-1] - held[-1]) / slope_step)
    return held


def _passed(envelope: Real, step_s: float, detector: QuasiPeak, start_v: float) -> Real:
    falling = math.exp(-step_s / detector.discharge_s)
    rate = 1.0 / detector.charge_s + 1.0 / detector.discharge_s
    rising, share = math.exp(-step_s * rate), 1.0 / (detector.charge_s * rate)
    held, v = np.empty_like(envelope), start_v
    for place, e in enumerate(envelope.tolist()):
        v = e * share + (v - e * share) * rising if e > v else v * falling
        held[place] = v
    return held
