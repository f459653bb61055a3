"""Points that fill a unit cube evenly: a sequence of low discrepancy, repeatable by its seed."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import numpy as np

from models.arrays import Real

_BITS = 53


def halton(dimensions: int, count: int, seed: int) -> Real:
    """Return the first points of a scrambled Halton sequence.

    x_i = Σ_k π_k(d_k(i))·b^−(k+1), with d_k the digits of i in the base b, one prime a dimension, and π_k permutations
    drawn from the seed.

    Parameters
    ----------
    dimensions : may be 0
    count : how many points
    seed : the same seed gives the same points

    Returns
    -------
    (count, dimensions), from 0 to below 1

    Notes
    -----
    Good to some thirty dimensions. Source: J. H. Halton, 1960; scrambling after A. B. Owen, *A randomized Halton
    algorithm in R*, 2017.
    """
    random = np.random.default_rng(seed)
    points = np.zeros((count, dimensions))
    for dimension, base in enumerate(itertools.islice(_primes(), dimensions)):
        left, weight = np.arange(count), 1.0 / base
        for _ in range(math.ceil(_BITS / math.log2(base))):
            left, digit = np.divmod(left, base)
            points[:, dimension] += random.permutation(base)[digit] * weight
            weight /= base
    return np.asarray(np.minimum(points, np.nextafter(1.0, 0.0)), np.float64)


def _primes() -> Iterator[int]:
    found: list[int] = []
    for number in itertools.count(2):
        if all(number % prime for prime in found):
            found.append(number)
            yield number
