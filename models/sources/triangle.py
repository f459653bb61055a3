"""The triangle: ripple current of a converter, with exact Fourier coefficients."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.declare import quantity
from models.errors import QuantityError
from models.sources.harmonics import harmonic_count


def triangle_coefficients(orders: Real, duty: float) -> Complex:
    """Complex Fourier coefficients of a triangle of 1 peak to peak around its mean.

    c_n = −(1 − e^(−j2πnD)) / ((2πn)²·D·(1 − D)), c_0 = 0. The wave starts to rise at t = 0 and rises for D·T.

    Parameters
    ----------
    orders : (N,) harmonic orders n ≥ 0
    duty : D, the share of the period in which it rises, 0 < D < 1

    Returns
    -------
    (N,) complex, two-sided; the peak of a harmonic is 2|c_n|, for D = ½ and odd n that is 4/(π²n²)

    Notes
    -----
    Exact. Source: Fourier integral of the slopes; checked against the FFT of the sampled wave.
    """
    squares = np.where(orders == 0.0, 1.0, (math.tau * orders) ** 2 * duty * (1.0 - duty))
    fall = np.exp(-1j * math.tau * np.mod(orders * duty, 1.0))
    coefficients = np.asarray((fall - 1.0) / squares, np.complex128)
    coefficients[orders == 0.0] = 0.0
    return coefficients


@frozen(kw_only=True, cache_hash=True)
class Triangle:
    """Frequency and rising share of a periodic triangle."""

    frequency_hz: float = quantity("Hz", "repetition frequency", positive=True, usual=(1e3, 1e8))
    duty: float = quantity(
        "", "share of the period in which it rises", default=0.5, positive=True, high=1.0, usual=(0.05, 0.95)
    )

    def __attrs_post_init__(self) -> None:
        """Refuse a wave that never falls."""
        if self.duty >= 1.0:
            raise QuantityError(f"duty {self.duty:g}", "a share between 0 and 1", "duty")

    def harmonic_count(self, stop_hz: float) -> int:
        """Return how many harmonics lie at or below a frequency."""
        return harmonic_count(self.frequency_hz, stop_hz)

    def coefficients(self, count: int) -> Complex:
        """Return c_0 to c_count of the wave of 1 peak to peak around 0, (count + 1,)."""
        return triangle_coefficients(np.arange(count + 1, dtype=np.float64), self.duty)


@frozen(kw_only=True, cache_hash=True)
class RaisedTriangle:
    """A triangle with a mean."""

    wave: Triangle
    mean: float

    @property
    def frequency_hz(self) -> float:
        """Repetition frequency, Hz."""
        return self.wave.frequency_hz

    def harmonic_count(self, stop_hz: float) -> int:
        """Return how many harmonics lie at or below a frequency."""
        return self.wave.harmonic_count(stop_hz)

    def coefficients(self, count: int) -> Complex:
        """Return c_0 to c_count, (count + 1,)."""
        found = self.wave.coefficients(count)
        found[0] = self.mean
        return found
