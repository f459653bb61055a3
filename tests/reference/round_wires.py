"""Two layers of round wire face to face: charges inside each wire that make its surface one potential."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from models.formulas.constants import EPS0

_CHARGES = 60
_DEPTH = 0.8
"""How far out in a wire its charges lie, in parts of its radius."""


def wires_against_foil(diameter_m: float, insulation_m: float, pitch_m: float) -> float:
    """Return the capacitance of two layers of wire, side by side at a pitch, over that of two foils."""
    around = np.exp(2j * math.pi * (np.arange(_CHARGES) + 0.5) / _CHARGES)
    shift = 0.5j * (insulation_m + diameter_m)
    surface, inside = (0.5 * depth * diameter_m * around for depth in (1.0, _DEPTH))
    places = np.concatenate([surface + shift, surface - shift])
    charges = np.concatenate([inside + shift, inside - shift])
    volts = np.repeat([0.5, -0.5], _CHARGES)
    found = np.linalg.lstsq(_potentials(places[:, None] - charges[None, :], pitch_m), volts, rcond=None)[0]
    return float(found[:_CHARGES].sum() / pitch_m * insulation_m / EPS0)


def _potentials(apart: NDArray[np.complex128], pitch_m: float) -> NDArray[np.float64]:
    """Return the potential of a row of line charges of 1 C/m that repeats at the pitch."""
    x, y = (2.0 * math.pi / pitch_m * each for each in (apart.real, apart.imag))
    return np.asarray(-np.log(2.0 * (np.cosh(y) - np.cos(x))) / (4.0 * math.pi * EPS0), np.float64)
