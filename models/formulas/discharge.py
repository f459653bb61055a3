"""Electrostatic discharge: the standard's current, the voltage it leaves on a floating region, its bleeding.

For design, no certification: the standard's current edition decides.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real
from models.formulas.pulse import capacitive_share, pulse_shape

GUN_F: Final = 150e-12
"""Capacitance of the generator of IEC 61000-4-2, F; its resistance is 330 Ω."""

STEEPEST_A_PER_S_PER_V: Final = 18.74e9 / 4e3
"""Greatest slope of the contact current for each volt of the level: 18.74 A/ns at 4 kV."""


def contact_current(t_s: ArrayLike, level_v: float) -> Real:
    """Current of a contact discharge into a short.

    i = I1·shape(t; τ1, τ2) + I2·shape(t; τ3, τ4), I1 = 16.6 A and I2 = 9.3 A at 4 kV, τ = 1.1, 2, 12, 37 ns, n = 1.8

    Parameters
    ----------
    t_s : t from the start, any shape, s
    level_v : test level, 2 to 8 kV, V

    Returns
    -------
    same shape, A

    Notes
    -----
    Generators are within ±15 % of the first peak and ±30 % at 30 and 60 ns; the formula's first peak is 14.9 A at 4 kV
    and comes after 1.46 ns. Source: IEC 61000-4-2:2008, formula of the ideal contact current.
    """
    first = 16.6 * pulse_shape(t_s, 1.1e-9, 2e-9, 1.8)
    return np.asarray(level_v / 4e3 * (first + 9.3 * pulse_shape(t_s, 12e-9, 37e-9, 1.8)), np.float64)


def gun_charge(level_v: float, source_f: float = GUN_F) -> float:
    """Charge that the generator holds.

    Q = C·V

    Parameters
    ----------
    level_v : V
    source_f : 150 pF, or 330 pF of ISO 10605, F

    Returns
    -------
    float, A·s

    Notes
    -----
    Exact. Source: definition of capacitance.
    """
    return source_f * level_v


def shared_voltage(level_v: float, total_f: float, source_f: float = GUN_F) -> float:
    """Voltage across the gap once the discharge has shared out, some 100 ns later.

    V_gap = V0·Cs/(Cs + C_tot)

    Parameters
    ----------
    level_v : V0, V
    total_f : Y-capacitor, interwinding capacitance and strays, the far side being earthed in effect, F
    source_f : Cs, F

    Returns
    -------
    float, V

    Notes
    -----
    Upper estimate; ±20 % for the unknown stray of the generator. Source: conservation of charge.
    """
    return capacitive_share(level_v, source_f, total_f)


def fast_voltage(level_v: float, inductance_h: float) -> float:
    """Voltage across the bridge while the discharge rises.

    V = L·(di/dt)max, 18.74 A/ns at 4 kV

    Parameters
    ----------
    level_v : test level, V
    inductance_h : L of the bridge, H

    Returns
    -------
    float, V

    Notes
    -----
    Upper estimate where the whole current takes the bridge. Source: slope of `contact_current`.
    """
    return STEEPEST_A_PER_S_PER_V * level_v * inductance_h


def bleed_time(resistance_ohm: ArrayLike, capacitance_f: ArrayLike, share_left: float = 0.01) -> Real:
    """Time in which a resistor bleeds a floating region.

    t = RC·ln(1/share)

    Parameters
    ----------
    resistance_ohm : R, any shape, Ω
    capacitance_f : C with the generator's own while that is connected, same shape, F
    share_left : of the voltage at the end; e⁻¹ gives the time constant

    Returns
    -------
    same shape, s

    Notes
    -----
    Exact. Across a mains barrier the resistor is a safety part, and its current adds to the touch current: the
    standard's current edition and a qualified person decide. Source: discharge of a capacitor.
    """
    product = np.asarray(resistance_ohm, np.float64) * np.asarray(capacitance_f, np.float64)
    return np.asarray(math.log(1.0 / share_left) * product, np.float64)
