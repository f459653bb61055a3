"""Random data, as a sequence of maximal length: flat like random data, yet periodic, so that its spectrum is exact."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.sources.harmonics import harmonic_count

BITS = 31
"""Length of the sequence, 2⁵ − 1 bits."""


def maximal_sequence() -> Real:
    """Return the 31 bits (31,) of the shift register x⁵ + x³ + 1, as 0 and 1; sixteen of them are ones."""
    register = [1, 1, 1, 1, 1]
    bits = []
    for _ in range(BITS):
        bits.append(register[-1])
        register = [register[4] ^ register[2], *register[:-1]]
    return np.array(bits, np.float64)


def data_coefficients(orders: Real, bit_rate_hz: float, rise_s: float, fall_s: float) -> Complex:
    """Complex Fourier coefficients of non-return-to-zero data between 0 and 1 with straight edges.

    c_n = 1/(j2πn)·Σ_edges ±e^(−jω_n(t_k + t_e/2))·sinc(ω_n t_e/2), ω_n = 2πn·R/31, t_e the rise or fall time;
    c_0 = 16/31 for equal edges. With sharp edges |c_n|² = 32/(4·31²)·sinc²(n/31) for n not a multiple of 31.

    Parameters
    ----------
    orders : (N,) orders n ≥ 0 of the lines, which stand R/31 apart
    bit_rate_hz : R, bits a second
    rise_s, fall_s : edge times from 0 to 100 %, s

    Returns
    -------
    (N,) complex, two-sided

    Notes
    -----
    The power in any band wider than R/31 is that of random data, within 32²/31² of it. A receiver narrower than R/31
    must read density, not lines. Source: Fourier integral of the edges; S. W. Golomb, *Shift Register Sequences*.
    """
    bits = maximal_sequence()
    step = bits - np.roll(bits, 1)
    rising = np.fft.fft(step > 0.0)
    falling = np.fft.fft(step < 0.0)
    place = np.mod(orders, BITS).astype(np.intp)
    cycles = orders * (bit_rate_hz / BITS)
    with np.errstate(divide="ignore", invalid="ignore"):
        found: Complex = (
            rising[place] * np.exp(-1j * np.pi * cycles * rise_s) * np.sinc(cycles * rise_s)
            - falling[place] * np.exp(-1j * np.pi * cycles * fall_s) * np.sinc(cycles * fall_s)
        ) / (1j * math.tau * orders)
    edges = float(np.sum(step > 0.0))
    found[orders == 0.0] = bits.mean() + edges * 0.5 * (fall_s - rise_s) * bit_rate_hz / BITS
    return found


@frozen(kw_only=True, cache_hash=True)
class RandomData:
    """Bit rate and edges of random data between 0 and 1."""

    bit_rate_hz: float
    rise_s: float
    fall_s: float

    @property
    def frequency_hz(self) -> float:
        """Distance between the lines of the sequence, R/31, Hz."""
        return self.bit_rate_hz / BITS

    def harmonic_count(self, stop_hz: float) -> int:
        """Return how many lines lie at or below a frequency."""
        return harmonic_count(self.frequency_hz, stop_hz)

    def coefficients(self, count: int) -> Complex:
        """Return c_0 to c_count of the data, (count + 1,)."""
        orders = np.arange(count + 1, dtype=np.float64)
        return data_coefficients(orders, self.bit_rate_hz, self.rise_s, self.fall_s)
