"""The highest and lowest point of a periodic wave, between its samples too."""

from __future__ import annotations

from functools import cache

import numpy as np

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
    return -_highest(-samples), _highest(samples)


def _highest(samples: Real) -> float:
    top = float(samples.max())
    ring = np.concatenate((samples[-1:], samples, samples[:1]))
    crests = np.flatnonzero((samples >= ring[:-2]) & (samples >= ring[2:]) & (samples >= _WORTH * top))
    if crests.size > _PLACES:
        crests = crests[np.argpartition(samples[crests], -_PLACES)[-_PLACES:]]
    starts = np.concatenate((crests - 1, crests))
    around = samples[(starts[:, np.newaxis] + np.arange(1 - _REACH, _REACH + 1)) % samples.size]
    return max(top, float((around @ _interpolator()).max()))


@cache
def _interpolator() -> Real:
    """Return the weights (2·reach, points − 1) of the samples around for the points between two of them."""
    after = np.arange(1, _POINTS) / _POINTS
    distance = after - np.arange(1 - _REACH, _REACH + 1)[:, np.newaxis]
    window = np.i0(_BETA * np.sqrt(np.clip(1.0 - (distance / _REACH) ** 2, 0.0, None))) / np.i0(_BETA)
    weights: Real = np.sinc(distance) * window
    return weights
