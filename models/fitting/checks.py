"""What is wrong with data before a fit, and what a fit shows about it: one sentence each, nothing mended in silence."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from models.arrays import Complex, Real
from models.fitting.data import Measurement, fault, log_resampled, log_share
from models.fitting.elements import SHAPES
from models.formulas.constants import LIGHT_M_PER_S
from models.quantity import hertz, ohms

_ARTICLE = {"bead": "a", "capacitor": "a", "inductor": "an"}
_CABLE_VELOCITY = 0.7


def require_points(measurement: Measurement, least: int = 4) -> None:
    """Raise DataError where a measurement has too few points for any fit."""
    if measurement.f_hz.size < least:
        raise fault(measurement.source, None, f"{measurement.f_hz.size} usable points", f"{least} points or more")


def before_fit(measurement: Measurement) -> list[str]:
    """Return what the data itself shows: range, number of points, negative resistance, phase sign."""
    checks = (_short_range, _few_points, _phase_turned, _negative_resistance)
    return [said for check in checks if (said := check(measurement))]


def after_fit(kind: str, values: Real, measurement: Measurement) -> list[str]:
    """Return what the difference between data and fit shows: ripple, points far off, a kind that does not suit."""
    z = SHAPES[kind](values, math.tau * measurement.f_hz)[0]
    ratio = np.asarray(measurement.z_ohm / z, np.complex128)
    found = (_ripple(ratio, measurement), _far_off(ratio, measurement), _unsuited(kind, ratio, measurement))
    return [said for said in found if said]


def guess_kind(measurement: Measurement) -> str:
    """Return bead, capacitor or inductor by the look of the data.

    A capacitor's impedance falls at the low end. An inductor is told from a bead by its quality X/R: above 15 somewhere
    with a narrow resonance, or with none in the range while R stays under a tenth of X in its upper half.
    """
    f, z = log_resampled(measurement, 60)
    if f.size < 3:
        return "bead"
    start = slice(0, max(3, f.size // 3))
    falling = np.polyfit(np.log(f[start]), np.log(np.abs(z[start])), 1)[0] < -0.4
    if falling and (not measurement.has_phase or np.median(z[start].imag) < 0):
        return "capacitor"
    return "inductor" if _high_quality(f, z, measurement.has_phase) else "bead"


def _high_quality(f: Real, z: Complex, has_phase: bool) -> bool:
    size = np.abs(z)
    peak = int(np.argmax(size))
    if not has_phase or 0 < peak < f.size - 1:
        wide = f[size > size[peak] / 2]
        return bool(0 < peak < f.size - 1 and wide[-1] / wide[0] < 1.8)
    rising = (z.imag > 0.3 * size) & (f > np.sqrt(f[0] * f[-1]))
    return bool(rising.any() and np.max(z.real[rising] / z.imag[rising]) < 0.1)


def _short_range(measurement: Measurement) -> str:
    low, high = measurement.f_hz[0], measurement.f_hz[-1]
    if high >= 10 * low:
        return ""
    return f"the data spans only {hertz(low)} to {hertz(high)}, less than a decade: the fit says little outside it"


def _few_points(measurement: Measurement) -> str:
    count = measurement.f_hz.size
    decades = np.log10(measurement.f_hz[-1] / measurement.f_hz[0])
    if count >= 12 and count >= 5 * decades:
        return ""
    return f"only {count} points over {decades:.2g} decades: resonances between them go unseen"


def _phase_turned(measurement: Measurement) -> str:
    """Compare the phase with the slope of the magnitude: 90° · d ln|Z|/d ln f for a passive part (Bode)."""
    f, z = log_resampled(measurement, 40)
    if not measurement.has_phase or f.size < 4:
        return ""
    expected = 0.5 * np.pi * np.clip(np.gradient(np.log(np.abs(z)), np.log(f)), -1, 1)
    phase = np.angle(z)
    straight, turned = np.sum((phase - expected) ** 2), np.sum((phase + expected) ** 2)
    if turned >= 0.25 * straight:
        return ""
    return (
        "the phase has the wrong sign for the slope of the magnitude, as with the exp(-jωt) convention: "
        "turn the sign of the phase or of X"
    )


def _negative_resistance(measurement: Measurement) -> str:
    if not measurement.has_phase:
        return ""
    z = measurement.z_ohm
    bad = np.abs(np.degrees(np.angle(z))) > 92
    share = float(np.average(bad, weights=log_share(measurement.f_hz)))
    if share < 0.02 or bad.sum() < 3:
        return ""
    worst = int(np.argmin(np.where(bad, z.real / np.abs(z), 1.0)))
    f = measurement.f_hz[bad]
    return (
        f"resistance is negative in {100 * share:.0f} % of the range, from {hertz(f[0])} to {hertz(f[-1])} "
        f"({ohms(z[worst].real)} at {hertz(measurement.f_hz[worst])}): no passive part does that; "
        "check the calibration and the connection"
    )


def _ripple(ratio: Complex, measurement: Measurement, least_db: float = 0.05) -> str:
    """Look for a swing that is periodic in frequency, as a reflection over a length of cable makes."""
    f = measurement.f_hz
    if f.size < 40:
        return ""
    even = np.linspace(f[0], f[-1], 512)
    swing = np.interp(even, f, 20 * np.log10(np.abs(ratio)))
    window = np.hanning(even.size)
    power = np.abs(np.fft.rfft((swing - swing.mean()) * window)) ** 2
    peak = 6 + int(np.argmax(power[6:120]))
    share = power[peak - 1 : peak + 2].sum() / max(power[1:].sum(), 1e-30)
    size_db = 2 * np.sqrt(power[peak]) / window.sum()
    if share < 0.5 or size_db < least_db:
        return ""
    period = (f[-1] - f[0]) / peak
    return (
        f"the data swings by ±{size_db:.2g} dB about the fit with a period of {hertz(period)}, as a reflection "
        f"over about {_CABLE_VELOCITY * LIGHT_M_PER_S / (2 * period):.2g} m of cable makes: check the calibration"
    )


def _far(ratio: Complex, measurement: Measurement) -> NDArray[np.bool_]:
    """Return which points (F,) lie far off the fit, as long as they are few."""
    error = np.abs(np.log(np.abs(ratio)))
    if measurement.has_phase:
        error = np.hypot(error, np.angle(ratio))
    far = error > max(8 * float(np.median(error)), 0.1)
    return np.asarray(far if far.sum() <= 0.2 * error.size else np.zeros_like(far), np.bool_)


def _far_off(ratio: Complex, measurement: Measurement) -> str:
    far = _far(ratio, measurement)
    count = int(far.sum())
    if not count:
        return ""
    first = measurement.f_hz[far][0]
    many = "1 point lies" if count == 1 else f"{count} points lie"
    return f"{many} far off the rest, the first at {hertz(first)}; they hardly count in the fit"


def _unsuited(kind: str, ratio: Complex, measurement: Measurement) -> str:
    share = log_share(measurement.f_hz) * ~_far(ratio, measurement)
    error_db = float(np.sqrt(np.average((20 * np.log10(np.abs(ratio))) ** 2, weights=share)))
    guess = guess_kind(measurement)
    blocks = (guess == "capacitor") != (kind == "capacitor")
    if blocks:
        return f"the data looks like {_ARTICLE[guess]} {guess}, not like {_ARTICLE[kind]} {kind}"
    if error_db < 1.0:
        return ""
    rest = "check the connection and the range" if guess == kind else f"the data looks like {_ARTICLE[guess]} {guess}"
    return f"{_ARTICLE[kind]} {kind} describes this data only to {error_db:.2g} dB; {rest}"
