"""A cable in common mode: a line that loses in its copper and by radiation, loaded at its far end."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

import numpy as np

from models.arrays import Complex, Real
from models.formulas.constants import ETA0, EULER
from models.formulas.wire import radiation_resistance

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
    """Radiation resistance of a wire that runs along over a plane and closes its loop through it.

    1/R = 1/R_low + 1/R_free, R_low = 120·(kh)²·(1 − sin(2kl)/(2kl)), R_free = 60·(Cin(2kl) − 1 + sin(2kl)/(2kl))

    Parameters
    ----------
    kl : (F,) wave number times length
    kh : (F,) wave number times height

    Returns
    -------
    (F,) Ω, for the mean of |I|² rms along the wire; R' = R/l per metre

    Notes
    -----
    R_low: line and image far closer than the wave, the ends that close the loop included. Exact for a travelling wave
    and for an open or earthed line at resonance; a short earthed line radiates half of it, a short open one more.
    Source: J. Storer, R. King, *Radiation resistance of a two-wire line*, 1951, at a spacing of 2h, halved for the half
    space; checked by integrating the far field. R_free: the lone wire with a travelling wave (C. A. Balanis, *Antenna
    Theory*, ch. 10). The blend between them is ours, ±3 dB.
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


def wire_field(gamma: Complex, reflection: Complex, beta: Real, length_m: float) -> Real:
    """Far field of a straight wire with a standing wave on it, in its strongest direction.

    E·r = (η0·k/4π)·max over u of √(1 − u²)·|∫ I(s)·e^(jkus) ds|, I(s) = e^(γs) − Γe^(−γs), s from the far end

    Parameters
    ----------
    gamma : γ (F,) complex, above 0, 1/m
    reflection : Γ (F,) complex, of the voltage at the far end
    beta : k (F,), 1/m
    length_m : l, m

    Returns
    -------
    (F,) V for a current wave of 1 A; rms for rms

    Notes
    -----
    Exact for the current stated, in free space; the direction is sampled, within 0.1 dB. A short wire with an even
    current gives 30·k·I·l. Source: C. A. Balanis, *Antenna Theory*, ch. 4 and 10.
    """
    u = _directions(beta * length_m)
    turn = 1j * beta[:, None] * u
    out, back = gamma[:, None] + turn, turn - gamma[:, None]
    moment = np.expm1(out * length_m) / out - reflection[:, None] * np.expm1(back * length_m) / back
    strongest = np.max(np.sqrt(1.0 - u * u) * np.abs(moment), axis=1)
    return np.asarray(ETA0 / (4.0 * math.pi) * beta * strongest, np.float64)


def _directions(kl: Real) -> Real:
    """Return cosines (F, U) of directions: evenly spread, and close to the axis, where a long wire's main lobes lie."""
    lobes = np.minimum(np.linspace(0.4, 13.0, 22) / kl[:, None], 0.999)
    even = np.broadcast_to(np.linspace(-0.96, 0.96, 17), (kl.size, 17))
    return np.concatenate([even, 1.0 - lobes, lobes - 1.0], axis=1)


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
    return radiation_resistance(2.0 * kl) / (1.0 - np.sin(2.0 * kl) / (2.0 * kl))


def _low_wire(kl: Real) -> Real:
    return np.asarray(ETA0 / math.pi * (1.0 - np.sin(2.0 * kl) / (2.0 * kl)), np.float64)


def _free_wire(kl: Real) -> Real:
    from scipy.special import sici

    twice = 2.0 * kl
    spread = EULER + np.log(twice) - sici(twice)[1] - 1.0 + np.sin(twice) / twice
    return np.asarray(ETA0 / math.tau * spread, np.float64)


def _tabulated(exact: _Exact, *, at_zero: float) -> Real:
    """Return f/(kl)² at the table's points."""
    kl = np.arange(0.0, _TABLE_REACH + 2.0 * _TABLE_STEP, _TABLE_STEP)
    table = np.full(kl.shape, at_zero)
    table[1:] = exact(kl[1:]) / kl[1:] ** 2
    return table


@cache
def _open_table() -> Real:
    return _tabulated(_open_wire, at_zero=ETA0 / (4.0 * math.pi))


@cache
def _low_table() -> Real:
    return _tabulated(_low_wire, at_zero=2.0 * ETA0 / (3.0 * math.pi))


@cache
def _free_table() -> Real:
    return _tabulated(_free_wire, at_zero=ETA0 / (6.0 * math.pi))
