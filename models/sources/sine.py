"""The sine: mains frequency, one line in the spectrum."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from models.arrays import Complex
from models.declare import quantity


@frozen(kw_only=True, cache_hash=True)
class Sine:
    """Frequency of a sine of 1 rms."""

    frequency_hz: float = quantity("Hz", "frequency", default=50.0, positive=True, high=1e6, usual=(16.0, 400.0))

    def harmonic_count(self, stop_hz: float) -> int:
        """Return 1 where the sine lies inside the sweep, else 0."""
        return 1 if self.frequency_hz <= stop_hz else 0

    def coefficients(self, count: int) -> Complex:
        """Return c_0 to c_count, (count + 1,): c_1 = 1/√2, a cosine of 1 rms."""
        found = np.zeros(count + 1, np.complex128)
        found[1:2] = math.sqrt(0.5)
        return found
