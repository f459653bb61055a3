"""Levels in decibels, and limits that slope over the logarithm of frequency."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real


def level_dbuv(v_rms: ArrayLike) -> Real:
    """Level of a voltage or field.

    20·log10(V/1 µV)

    Parameters
    ----------
    v_rms : any shape, V rms for dBµV, V/m rms for dBµV/m

    Returns
    -------
    same shape, dB above 1 µV or 1 µV/m; ``-inf`` for 0

    Notes
    -----
    Exact. Source: definition.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(20.0 * np.log10(np.abs(np.asarray(v_rms, np.float64))) + 120.0, np.float64)


def volts_of_level(level_dbuv: ArrayLike) -> Real:
    """Voltage or field of a level.

    V = 1 µV·10^(level/20)

    Parameters
    ----------
    level_dbuv : any shape, dBµV or dBµV/m

    Returns
    -------
    same shape, V rms or V/m rms

    Notes
    -----
    Exact. Source: definition.
    """
    return np.asarray(1e-6 * 10.0 ** (np.asarray(level_dbuv, np.float64) / 20.0), np.float64)


def sloped_limit_db(f_hz: ArrayLike, start: tuple[float, float], stop: tuple[float, float]) -> Real:
    """Limit that runs straight over the logarithm of frequency.

    L(f) = L1 + (L2 − L1)·log(f/f1)/log(f2/f1)

    Parameters
    ----------
    f_hz : f, any shape, from f1 to f2, Hz
    start, stop : (f1, L1), (f2, L2), Hz and dB

    Returns
    -------
    same shape, dB

    Notes
    -----
    Exact. Check the limit itself in the standard's current edition. Source: CISPR 32 and others, notes to the tables.
    """
    (f1, low), (f2, high) = start, stop
    return np.asarray(low + (high - low) * np.log(np.asarray(f_hz, np.float64) / f1) / np.log(f2 / f1), np.float64)
