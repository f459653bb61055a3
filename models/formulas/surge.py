"""Surge: the standard's voltage wave and its generator.

For design, no certification: the standard's current edition decides, and a qualified person checks insulation.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real
from models.formulas.pulse import pulse_shape

GENERATOR_OHM: Final = 2.0
"""Effective impedance of the generator; 12 Ω from line to earth with its coupling, 42 Ω for signal lines."""


def surge_voltage(t_s: ArrayLike, level_v: float) -> Real:
    """Open-circuit voltage of the 1.2/50 µs surge.

    v = V·0.94·shape(t; 0.356 µs, 65.845 µs, 1.749)

    Parameters
    ----------
    t_s : t from the start, any shape, s
    level_v : test level V, V

    Returns
    -------
    same shape, V

    Notes
    -----
    Front 1.27 µs, 49.9 µs between the half values, top 1.6 % high; generators ±30 % and ±20 %. The constants are from
    memory: check the current edition. Source: IEC 61000-4-5:2014, formula of the voltage.
    """
    return np.asarray(level_v * 0.94 * pulse_shape(t_s, 0.356e-6, 65.845e-6, 1.749), np.float64)
