"""Fast transients in bursts: the standard's pulse, and the clamp that couples it.

For design, no certification: the standard's current edition decides.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real
from models.formulas.pulse import pulse_shape

CLAMP_F: Final = 100e-12
"""Typical capacitance of the coupling clamp, 50 to 200 pF."""


def burst_pulse(t_s: ArrayLike, open_circuit_v: float) -> Real:
    """One pulse of a burst into 50 Ω.

    v = (V/2)·0.92·shape(t; 3.5 ns, 51 ns, 1.8)

    Parameters
    ----------
    t_s : t from the start, any shape, s
    open_circuit_v : test level V, V

    Returns
    -------
    same shape, V

    Notes
    -----
    Rise 5.1 ns, width 49 ns; generators ±30 % in either. The constants are from memory: check the current edition.
    Source: IEC 61000-4-4:2012, formula of the ideal pulse.
    """
    return np.asarray(0.5 * open_circuit_v * 0.92 * pulse_shape(t_s, 3.5e-9, 51e-9, 1.8), np.float64)
