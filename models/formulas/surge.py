"""Surge: the standard's voltage and current waves, and the voltage that a barrier sees of them.

For design, no certification: the standard's current edition decides, and a qualified person checks insulation.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from models.formulas.impedance import Real
from models.formulas.pulse import capacitive_share, pulse_shape

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


def surge_current(t_s: ArrayLike, peak_a: float) -> Real:
    """Short-circuit current of the 8/20 µs surge.

    i = I·0.939·shape(t; 47.52 µs, 4.296 µs, 2.741)

    Parameters
    ----------
    t_s : t from the start, any shape, s
    peak_a : I, test level over the generator's impedance, A

    Returns
    -------
    same shape, A

    Notes
    -----
    Front 8.0 µs, 16.3 µs between the half values, which times 1.18 is the nominal duration; generators ±20 %. The
    constants are from memory: check the current edition. Source: IEC 61000-4-5:2014, formula of the current.
    """
    return np.asarray(peak_a * 0.939 * pulse_shape(t_s, 47.52e-6, 4.296e-6, 2.741), np.float64)


def double_exponential_surge(t_s: ArrayLike, level_v: float) -> Real:
    """The 1.2/50 µs surge as two exponentials, for closed solutions.

    v = V·1.037·(e^(−t/68.22 µs) − e^(−t/0.4074 µs))

    Parameters
    ----------
    t_s : t from the start, any shape, s
    level_v : test level V, V

    Returns
    -------
    same shape, V; 0 before the start

    Notes
    -----
    Front 1.21 µs, 49.8 µs to the half value. Source: common text-book form.
    """
    t = np.maximum(np.asarray(t_s, np.float64), 0.0)
    return np.asarray(level_v * 1.037 * (np.exp(-t / 68.22e-6) - np.exp(-t / 0.4074e-6)), np.float64)


def barrier_voltage(surge_v: float, stray_f: float, bridge_f: float) -> float:
    """Voltage across the barrier of a floating secondary under a surge from line to earth.

    V·C_stray/(C_stray + C_Y)

    Parameters
    ----------
    surge_v : V, V
    stray_f : C_stray from the secondary to earth, F
    bridge_f : everything across the barrier, F

    Returns
    -------
    float, V; the rest stands between secondary and earth. With the secondary earthed the barrier sees the whole V

    Notes
    -----
    ±30 % for the stray. Source: capacitive divider.
    """
    return capacitive_share(surge_v, stray_f, bridge_f)
