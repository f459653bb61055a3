"""How the spectrum of a source changes with the source's own values."""

from __future__ import annotations

import numpy as np

from models.formulas.impedance import Complex
from models.sources.registry import CrossingSignal, Ripple, Source, SwitchNode
from models.sources.trapezoid import Trapezoid

_LINEAR = ("amplitude_a", "voltage_v", "swing_v")


def amplitude_slope(source: Source, key: str, count: int) -> Complex | None:
    """Return ∂(A·c_n)/∂p (N + 1,) for the values that set the height of a wave; None for any other.

    The spectrum is linear in a swing, so its slope is the spectrum for a swing of 1; with ringing, which has an
    amplitude of its own, it is that of the bare trapezoid. For a load Z the current is U/Z and its slope −U/Z².
    """
    if isinstance(source, SwitchNode) and key == "amplitude_v":
        return source.wave.coefficients(count)
    if isinstance(source, CrossingSignal) and key == "impedance_ohm":
        return -source.level() / source.impedance_ohm * source.shape.coefficients(count)
    if key in _LINEAR and not isinstance(source, Ripple):
        unit: float = source.level() / getattr(source, key)
        return unit * source.shape.coefficients(count)
    return None


def shape_slope(source: Source, key: str, count: int) -> Complex | None:
    """Return A·∂c_n/∂p (N + 1,) for duty and edges of a plain trapezoid; None for any other wave.

    With R = e^(−jπn·f·t_r)·sinc(n·f·t_r) and F = e^(−j2πn(d + f·t_r/2))·sinc(n·f·t_f), c_n = (R − F)/(j2πn):
    ∂c_n/∂d = F, ∂R/∂t_r = (e^(−j2πn·f·t_r) − R)/t_r, ∂F/∂t_r = −jπn·f·F,
    ∂F/∂t_f = phase·(cos(πn·f·t_f) − sinc(n·f·t_f))/t_f.

    Source: differentiation of `models.sources.trapezoid.trapezoid_coefficients`.
    """
    wave = source.wave
    if not isinstance(wave, Trapezoid) or source.shape is not wave:
        return None
    orders = np.arange(1, count + 1, dtype=np.float64)
    cycles = orders * wave.frequency_hz
    rise = np.exp(-1j * np.pi * cycles * wave.rise_s) * np.sinc(cycles * wave.rise_s)
    phase = np.exp(-2j * np.pi * np.mod(orders * (wave.duty + 0.5 * wave.rise_s * wave.frequency_hz), 1.0))
    fall = phase * np.sinc(cycles * wave.fall_s)
    if key == "duty":
        lines, mean = fall, 1.0
    elif key == "rise_s":
        by_rise = (np.exp(-2j * np.pi * cycles * wave.rise_s) - rise) / wave.rise_s
        lines, mean = (by_rise + 1j * np.pi * cycles * fall) / (2j * np.pi * orders), 0.0
    elif key == "fall_s":
        shape = (np.cos(np.pi * cycles * wave.fall_s) - np.sinc(cycles * wave.fall_s)) / wave.fall_s
        lines, mean = -phase * shape / (2j * np.pi * orders), 0.0
    else:
        return None
    spectrum = np.concatenate([np.full(1, mean, np.complex128), lines])
    return np.asarray(source.level() * spectrum, np.complex128)
