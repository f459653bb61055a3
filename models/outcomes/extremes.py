"""The highest and lowest point of a periodic wave, between its samples too."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from models.formulas.impedance import Real

_REACH = 8
_POINTS = 16
_PLACES = 64
_WORTH = 0.7  # a crest between two samples is at most 1/cos 45° of the taller one
_BETA = 11.8  # Kaiser window: what is left over the band of the samples is 1e-6 of the wave


def extremes(samples: Real) -> tuple[float, float]:
    """Return the lowest and the highest value of a periodic band-limited wave.

    v(t) = Σ v_m·sinc(t − m)·w(t − m), evaluated around the samples that stand out most

    Parameters
    ----------
    samples : one period (M,), at least twice as many as its highest harmonic needs

    Returns
    -------
    (low, high), in the unit of the samples

    Notes
    -----
    Within 2e-3 of the wave; the samples alone miss up to 30 %. Source: the sampling theorem with a Kaiser window.
    """
    up = np.empty(samples.size, np.bool_)
    np.greater_equal(samples[1:], samples[:-1], out=up[:-1])
    up[-1] = samples[0] >= samples[-1]
    before = np.roll(up, 1)
    crests, troughs = np.flatnonzero(before & ~up), np.flatnonzero(up & ~before)
    return -_highest(-samples[troughs], samples, troughs, -1.0), _highest(samples[crests], samples, crests, 1.0)


def _highest(tops: Real, samples: Real, places: NDArray[np.intp], sign: float) -> float:
    """Return the highest value around the places of local tops; with the sign turned, of local bottoms."""
    if not tops.size:
        return sign * float(samples[0])
    top = float(tops.max())
    tall = np.flatnonzero(tops >= _WORTH * top)
    if tall.size > _PLACES:
        tall = tall[np.argpartition(tops[tall], -_PLACES)[-_PLACES:]]
    starts = np.concatenate((places[tall] - 1, places[tall]))
    around = samples[(starts[:, np.newaxis] + np.arange(1 - _REACH, _REACH + 1)) % samples.size]
    return max(top, float((sign * (around @ _interpolator())).max()))


@cache
def _interpolator() -> Real:
    """Return the weights (2·reach, points − 1) of the samples around for the points between two of them."""
    after = np.arange(1, _POINTS) / _POINTS
    distance = after - np.arange(1 - _REACH, _REACH + 1)[:, np.newaxis]
    window = np.i0(_BETA * np.sqrt(np.clip(1.0 - (distance / _REACH) ** 2, 0.0, None))) / np.i0(_BETA)
    weights: Real = np.sinc(distance) * window
    return weights
