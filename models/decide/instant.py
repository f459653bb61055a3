"""The instant at which a periodic wave stands at its peak, found on the Fourier sum itself."""

from __future__ import annotations

import numpy as np

from models.formulas.impedance import Complex
from models.outcomes.common_mode import CommonMode

_CRESTS = 8
_HALVINGS = 40


def peak_instant(mode: CommonMode) -> tuple[float, float]:
    """Return when the voltage across the pair is highest in magnitude, and the voltage then.

    v(t) = V_0 + 2·Re Σ V_n·e^(j2πn·t/T); the instant is where v'(t) = 0 nearest to the highest samples, by bisection.

    Parameters
    ----------
    mode : with finite harmonics and mean

    Returns
    -------
    (t/T from 0 to 1, v in V with its sign)

    Notes
    -----
    To rounding of the sum, 1e-12 of a period. Source: bisection.
    """
    wave = mode.waveform_v
    size = len(wave)
    height = np.abs(wave)
    crests = np.flatnonzero((height >= np.roll(height, 1)) & (height >= np.roll(height, -1)))
    highest = crests[np.argsort(-height[crests])[:_CRESTS]]
    places = [_crest(mode, float(index) / size, 1.0 / size, float(np.sign(wave[index]))) for index in highest]
    found = [(place, mode.dc_v + _sum_at(mode.coefficients, place)) for place in places]
    return max(found, key=lambda each: abs(each[1]))


def phases(count: int, place: float) -> Complex:
    """Return e^(j2πn·t/T) (N + 1,) for the orders 0 to N."""
    turns: Complex = np.exp(2j * np.pi * np.mod(np.arange(count + 1) * place, 1.0))
    return turns


def _sum_at(coefficients: Complex, place: float) -> float:
    return 2.0 * float(np.sum(coefficients * phases(len(coefficients) - 1, place)).real)


def _crest(mode: CommonMode, place: float, width: float, sign: float) -> float:
    """Return where the wave turns around within one sample of a place."""
    rates = sign * 2j * np.pi * np.arange(len(mode.coefficients)) * mode.coefficients
    low, high = place - width, place + width
    if _sum_at(rates, low) <= 0.0 or _sum_at(rates, high) >= 0.0:
        return place
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if _sum_at(rates, middle) > 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
