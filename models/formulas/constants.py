"""Constants of nature and of copper that the formulas share."""

from __future__ import annotations

import math
from typing import Final

MU0: Final = 4e-7 * math.pi
"""Permeability of free space, H/m."""

LIGHT_M_PER_S: Final = 299_792_458.0
"""Speed of light, m/s."""

EPS0: Final = 1.0 / (MU0 * LIGHT_M_PER_S**2)
"""Permittivity of free space, F/m."""

ETA0: Final = MU0 * LIGHT_M_PER_S
"""Wave impedance of free space, Ω."""

EULER: Final = 0.577_215_664_901_532_9
"""Euler's constant γ."""

RHO_COPPER_OHM_M: Final = 1.724e-8
"""Resistivity of annealed copper at 20 °C, Ω·m (IEC 60028); plated copper has 1.8 to 2.0·10⁻⁸."""
