"""A root between two ends, without the library that takes longer to load than the search takes."""

from __future__ import annotations

import math
from collections.abc import Callable

_MOST_STEPS = 200


def root(function: Callable[[float], float], low: float, high: float, *, within: float) -> float:
    """Return where a continuous function of one value changes its sign: f(x) = 0.

    A parabola through the last three points where it is safe, else half the bracket, so that it never takes more
    than a few times the steps of bisection.

    Parameters
    ----------
    function : f, any unit
    low, high : ends between which it changes its sign, in the unit of x
    within : half the bracket at the end, in the unit of x

    Returns
    -------
    x; an end where f is 0 there

    Raises
    ------
    ValueError
        where f has one sign at both ends

    Source: T. R. Chandrupatla, *Advances in Engineering Software* 28 (1997) 145-149.
    """
    a, b = high, low
    fa, fb = function(a), function(b)
    if fa * fb > 0.0:
        raise ValueError(f"one sign at both ends, {fb:g} at {low:g} and {fa:g} at {high:g}")
    c, fc, share = a, fa, 0.5
    for _ in range(_MOST_STEPS):
        best, f_best = (a, fa) if abs(fa) < abs(fb) else (b, fb)
        least = 2.0 * math.ulp(abs(best)) + within
        if f_best == 0.0 or abs(b - a) <= 2.0 * least:
            return best
        x = a + min(max(share, least / abs(b - a)), 1.0 - least / abs(b - a)) * (b - a)
        fx = function(x)
        if (fx > 0.0) == (fa > 0.0):
            c, fc = a, fa
        else:
            c, fc, b, fb = b, fb, a, fa
        a, fa = x, fx
        share = _share(a, b, c, fa, fb, fc)
    return a


def _share(a: float, b: float, c: float, fa: float, fb: float, fc: float) -> float:
    """Return where to look next between a and b: by inverse quadratic interpolation, or in the middle."""
    if fa == fb or fc in (fa, fb) or b == c:
        return 0.5
    xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
    if not (phi * phi < xi and (1.0 - phi) ** 2 < 1.0 - xi):
        return 0.5
    return fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
