"""A cable in common mode: a line that loses in its copper and by radiation, loaded at its far end."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

import numpy as np

from models.formulas.constants import ETA0, EULER
from models.formulas.impedance import Real

_TABLE_STEP = 1.0 / 512.0
_TABLE_REACH = 64.0
_Exact = Callable[[Real], Real]


def open_wire_radiation(kl: Real) -> Real:
    """Radiation resistance of an open wire times what its own current distribution spreads it over.

    ρ(kl) = R_m/(1 − sin(2kl)/(2kl)), so that R' = ρ/l per metre loses what a monopole of length l over its counterpoise
    radiates; R_m is the resistance of the centre-fed wire of 2l, referred to the current's maximum.

    Parameters
    ----------
    kl : (F,) wave number times length

    Returns
    -------
    (F,) Ω; 30·(kl)² for a short wire

    Notes
    -----
    Interpolated in a table within 1e-5 up to kl = 64, the formula itself above. Source: induced-EMF method, C. A.
    Balanis, *Antenna Theory*, ch. 8.
    """
    return _looked_up(kl, _open_table(), _open_wire)


def plane_wire_radiation(kl: Real, kh: Real) -> Real:
    """Radiation resistance of a wire that runs along over a plane, for a current of even height.

    1/R = 1/R_low + 1/R_free, R_low = 60·(kh)²·(1 − sin(2kl)/(2kl)), R_free = 60·(Cin(2kl) − 1 + sin(2kl)/(2kl))

    Parameters
    ----------
    kl : (F,) wave number times length
    kh : (F,) wave number times height

    Returns
    -------
    (F,) Ω; R' = R/l per metre

    Notes
    -----
    R_low: line and image far closer than the wave (J. Storer, R. King, *Radiation resistance of a two-wire line*, 1951,
    halved for the half space). R_free: the lone wire with a travelling wave (C. A. Balanis, *Antenna Theory*, ch. 10).
    The blend between them is ours, ±3 dB.
    """
    low = kh * kh * _looked_up(kl, _low_table(), _low_wire)
    free = free_wire_radiation(kl)
    return low * free / (low + free)


def free_wire_radiation(kl: Real) -> Real:
    """Radiation resistance of a lone wire that carries a travelling wave.

    R = (η0/2π)·(Cin(2kl) − 1 + sin(2kl)/(2kl))

    Parameters
    ----------
    kl : (F,) wave number times length

    Returns
    -------
    (F,) Ω; 20·(kl)² for a short wire with an even current

    Notes
    -----
    Exact for the current stated. Source: C. A. Balanis, *Antenna Theory*, ch. 10.
    """
    return _looked_up(kl, _free_table(), _free_wire)


def mean_wire_impedance(length_m: float, radius_m: float) -> float:
    """Mean characteristic impedance of a wire of its own in free space, against its counterpoise.

    Z0 = 60·(ln(2l/a) − 1): half of the centre-fed wire's. Z0·l/c is the wire's partial inductance.

    Parameters
    ----------
    length_m : l, m
    radius_m : a, m

    Returns
    -------
    float, Ω

    Notes
    -----
    For l > 10·a, absolute accuracy ±3 dB of |Z|. Source: S. A. Schelkunoff, *Antennas: Theory and Practice*.
    """
    return 60.0 * (math.log(2.0 * length_m / radius_m) - 1.0)


def _looked_up(kl: Real, table: Real, exact: _Exact) -> Real:
    """Return f(kl) from a table of f/(kl)², straight between its points; the formula itself past the table."""
    place = kl / _TABLE_STEP
    index = np.minimum(place.astype(np.intp), len(table) - 2)
    low = table[index]
    found: Real = (low + (place - index) * (table[index + 1] - low)) * kl * kl
    beyond = kl > _TABLE_REACH
    if beyond.any():
        found[beyond] = exact(kl[beyond])
    return found


def _open_wire(kl: Real) -> Real:
    from scipy.special import sici

    twice, four = 2.0 * kl, 4.0 * kl
    si, ci = sici(twice)
    si2, ci2 = sici(four)
    at_maximum = (
        EULER
        + np.log(twice)
        - ci
        + 0.5 * np.sin(twice) * (si2 - 2.0 * si)
        + 0.5 * np.cos(twice) * (EULER + np.log(kl) + ci2 - 2.0 * ci)
    )
    return np.asarray(ETA0 / (2.0 * math.pi) * at_maximum / (1.0 - np.sin(twice) / twice), np.float64)


def _low_wire(kl: Real) -> Real:
    return np.asarray(ETA0 / (2.0 * math.pi) * (1.0 - np.sin(2.0 * kl) / (2.0 * kl)), np.float64)


def _free_wire(kl: Real) -> Real:
    from scipy.special import sici

    twice = 2.0 * kl
    spread = EULER + np.log(twice) - sici(twice)[1] - 1.0 + np.sin(twice) / twice
    return np.asarray(ETA0 / (2.0 * math.pi) * spread, np.float64)


def _tabulated(exact: _Exact, *, at_zero: float, series_below: float) -> Real:
    """Return f/(kl)² at the table's points; below a small kl, where f loses digits to cancellation, its value at 0."""
    kl = np.arange(0.0, _TABLE_REACH + 2.0 * _TABLE_STEP, _TABLE_STEP)
    table = np.full(kl.shape, at_zero)
    above = kl > series_below
    table[above] = exact(kl[above]) / kl[above] ** 2
    return table


@cache
def _open_table() -> Real:
    return _tabulated(_open_wire, at_zero=ETA0 / (4.0 * math.pi), series_below=0.05)


@cache
def _low_table() -> Real:
    return _tabulated(_low_wire, at_zero=ETA0 / (3.0 * math.pi), series_below=0.0)


@cache
def _free_table() -> Real:
    return _tabulated(_free_wire, at_zero=ETA0 / (6.0 * math.pi), series_below=0.0)
