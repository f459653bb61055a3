"""A switch node that rings: the trapezoid with a decaying oscillation after each edge."""

from __future__ import annotations

import numpy as np
from attrs import frozen

from models.arrays import Complex
from models.formulas.spectrum import ringing_coefficients
from models.sources.trapezoid import Trapezoid


@frozen(kw_only=True, cache_hash=True)
class RingingTrapezoid:
    """A unit trapezoid and what rings on it: +r(t) from the end of the rise, −r(t) from the end of the fall.

    r(t) = (A_r/A)·e^(−αt)·sin(2πf_r t), α = πf_r/Q; it lasts into the next periods where it decays slowly.
    """

    wave: Trapezoid
    overshoot: float
    """A_r/A."""
    ring_hz: float
    quality: float

    @property
    def frequency_hz(self) -> float:
        """Repetition frequency, Hz."""
        return self.wave.frequency_hz

    def harmonic_count(self, stop_hz: float) -> int:
        """Return how many harmonics lie at or below a frequency."""
        return self.wave.harmonic_count(stop_hz)

    def coefficients(self, count: int) -> Complex:
        """Return c_0 to c_count of the wave with unit amplitude, (count + 1,)."""
        wave = self.wave
        fallen_s = 0.5 * (wave.rise_s + wave.fall_s) + wave.duty / wave.frequency_hz
        return wave.coefficients(count) + self._after(wave.rise_s, count) - self._after(fallen_s, count)

    def _after(self, edge_s: float, count: int) -> Complex:
        return ringing_coefficients(
            np.arange(count + 1),
            period_s=1.0 / self.wave.frequency_hz,
            amplitude=self.overshoot,
            ring_hz=self.ring_hz,
            quality=self.quality,
            edge_s=edge_s,
        )
