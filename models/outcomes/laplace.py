"""From time to the Laplace plane and back: the damped Fourier transform, and Euler's sum for slow things."""

from __future__ import annotations

import math
from functools import cache, cached_property

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real

_DAMPING = 9.0
"""σ times the record: what wraps around has shrunk to e⁻⁹, and rounding in its second half is never shown."""
_TAPER_FROM = 0.7
_TERMS = 11


@frozen(kw_only=True, cache_hash=True, slots=False)
class TimeBase:
    """A record of time, and the line s = σ + jω in the Laplace plane on which it is solved.

    X(s_k) = Δt·Σ x_n·e^(−s_k·t_n), x_n = e^(σt_n)/Δt·IFFT(X): with σ > 0 every pole of a passive network, also those
    at 0 that hold a charge, lies to the left of the line. Only the first half of the record is shown.

    Held levels are right to 2e-4 of themselves. Above 0.7 of half the sampling rate a taper falls to 0, so that a
    corner in the source does not ring.
    Source: J. Abate, W. Whitt, *The Fourier-series method for inverting transforms*, 1992.
    """

    step_s: float
    loss_omega: float
    """Where a loss that is stated as a constant tan δ counts: the middle of the source's spectrum, rad/s."""
    count: int = 8192

    @property
    def reach_s(self) -> float:
        """End of what is shown, s."""
        return 0.5 * self.count * self.step_s

    @property
    def sigma(self) -> float:
        """σ, 1/s."""
        return _DAMPING / (self.count * self.step_s)

    @cached_property
    def record_s(self) -> Real:
        """The whole record (N,), s."""
        return np.arange(self.count, dtype=np.float64) * self.step_s

    @cached_property
    def t_s(self) -> Real:
        """What is shown of it (N/2,), s."""
        return self.record_s[: self.count // 2]

    @cached_property
    def s(self) -> Complex:
        """σ + jω (N/2 + 1,), 1/s."""
        return np.asarray(self.sigma + 1j * math.tau * np.fft.rfftfreq(self.count, self.step_s), np.complex128)

    @cached_property
    def _growth(self) -> Real:
        return np.exp(self.sigma * self.record_s)

    @cached_property
    def _taper(self) -> Real:
        above = np.clip((np.linspace(0.0, 1.0, self.count // 2 + 1) - _TAPER_FROM) / (1.0 - _TAPER_FROM), 0.0, 1.0)
        return np.asarray(np.cos(0.5 * math.pi * above) ** 2, np.float64)

    def transform(self, values: Real) -> Complex:
        """Return the transform (N/2 + 1,) of samples (N,), in their unit times s."""
        return np.asarray(self.step_s * np.fft.rfft(values / self._growth), np.complex128)

    def inverse(self, transformed: Complex) -> Real:
        """Return the samples (…, N/2) of transforms (…, N/2 + 1)."""
        whole = np.fft.irfft(transformed * self._taper, self.count)
        half = self.count // 2
        return np.asarray(whole[..., :half] * (self._growth[:half] / self.step_s), np.float64)


def euler_nodes(t_s: Real) -> Complex:
    """Return the points (T, K), 1/s, at which a transform has to be known for the times t (T,), above 0."""
    return np.asarray(_euler()[0][None, :] / t_s[:, None], np.complex128)


def euler_sum(transformed: Complex, t_s: Real) -> Real:
    """Return the function (T,) at some times from its transform (T, K) at `euler_nodes`.

    f(t) = 10^(M/3)/t·Σ_k η_k·Re F(β_k/t), β_k = M·ln(10)/3 + jπk, M = 11

    Parameters
    ----------
    transformed : F (T, K), in the function's unit times s
    t_s : t (T,), above 0, s

    Returns
    -------
    (T,), right to 1e-6 of its first value for what decays; what swings many times before t is left out

    Source: J. Abate, W. Whitt, *A unified framework for numerically inverting Laplace transforms*, 2006.
    """
    return np.asarray(transformed.real @ _euler()[1] / t_s, np.float64)


@cache
def _euler() -> tuple[Complex, Real]:
    k = np.arange(2 * _TERMS + 1)
    weight = np.ones(2 * _TERMS + 1)
    weight[0] = 0.5
    weight[-1] = 0.5**_TERMS
    for back in range(1, _TERMS):
        weight[-1 - back] = weight[-back] + 0.5**_TERMS * math.comb(_TERMS, back)
    beta = np.asarray(_TERMS * math.log(10.0) / 3.0 + 1j * math.pi * k, np.complex128)
    return beta, np.asarray(10.0 ** (_TERMS / 3.0) * (-1.0) ** k * weight, np.float64)
