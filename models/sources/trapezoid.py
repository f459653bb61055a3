"""The trapezoid: one waveform for switch nodes, converter currents and clocks, with exact Fourier coefficients."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.declare import quantity
from models.errors import QuantityError
from models.sources.harmonics import harmonic_count


def trapezoid_coefficients(orders: Real, frequency_hz: float, duty: float, rise_s: float, fall_s: float) -> Complex:
    """Complex Fourier coefficients of a unit trapezoid with unequal edges.

    c_n = 1/(jω_nT)·[e^(−jω_n t_r/2)·sinc(ω_n t_r/2) − e^(−jω_n(t_r/2 + τ))·sinc(ω_n t_f/2)], c_0 = τ/T,
    with sinc(x) = sin x/x, ω_n = 2πn/T and τ = duty·T counted at half amplitude. The wave starts to rise at t = 0.

    Parameters
    ----------
    orders : (N,) harmonic orders n ≥ 0
    frequency_hz : 1/T, Hz
    duty : τ/T
    rise_s, fall_s : edge times from 0 to 100 %, s

    Returns
    -------
    (N,) complex, two-sided; the peak of a harmonic is 2|c_n|, its rms √2·|c_n|

    Notes
    -----
    Exact for straight edges. Real edges are rounded and fall faster at high orders, so this is an upper estimate there.
    Source: direct integration; checked against the FFT of the sampled wave.
    """
    cycles = orders * frequency_hz
    rise = np.exp(-1j * np.pi * cycles * rise_s) * np.sinc(cycles * rise_s)
    fall = np.exp(-1j * math.tau * np.mod(orders * (duty + 0.5 * rise_s * frequency_hz), 1.0)) * np.sinc(
        cycles * fall_s
    )
    coefficients = np.empty(orders.shape, np.complex128)
    with np.errstate(divide="ignore", invalid="ignore"):
        coefficients[:] = (rise - fall) / (1j * math.tau * orders)
    coefficients[orders == 0] = duty
    return coefficients


@frozen(kw_only=True, cache_hash=True)
class Trapezoid:
    """Frequency, duty and edges of a periodic trapezoid."""

    frequency_hz: float = quantity("Hz", "repetition frequency", positive=True, usual=(1e3, 1e8))
    duty: float = quantity("", "share of the period, counted at half amplitude", positive=True, usual=(0.05, 0.95))
    rise_s: float = quantity("s", "rise time, 0 to 100 %", usual=(1e-10, 1e-6))
    fall_s: float = quantity("s", "fall time, 0 to 100 %", usual=(1e-10, 1e-6))

    def __attrs_post_init__(self) -> None:
        """Refuse edges that do not fit into the wave."""
        if self.duty >= 1.0:
            raise QuantityError(f"duty {self.duty:g}", "a share between 0 and 1", "duty")
        edges = 0.5 * (self.rise_s + self.fall_s)
        room = min(self.duty, 1.0 - self.duty) / self.frequency_hz
        if edges > room * (1.0 + 1e-12):
            raise QuantityError(
                f"edges of {edges:.4g} s on average",
                f"rise and fall whose mean fits into the shorter part of the period, {room:.4g} s",
                "rise" if self.rise_s >= self.fall_s else "fall",
            )

    @property
    def corner_hz(self) -> float:
        """Where the spectrum of the faster edge begins to fall by 40 dB a decade: 1/(π·t), Hz."""
        fastest = min(self.rise_s, self.fall_s)
        return math.inf if fastest == 0.0 else 1.0 / (math.pi * fastest)

    def harmonic_count(self, stop_hz: float) -> int:
        """Return how many harmonics lie at or below a frequency."""
        return harmonic_count(self.frequency_hz, stop_hz)

    def coefficients(self, count: int) -> Complex:
        """Return c_0 to c_count of the wave with unit amplitude, (count + 1,)."""
        orders = np.arange(count + 1, dtype=np.float64)
        return trapezoid_coefficients(orders, self.frequency_hz, self.duty, self.rise_s, self.fall_s)
