"""A line with open ends, looked into at one point: planes and gaps that are long against the wave."""

from __future__ import annotations

import numpy as np

from models.arrays import Complex, Real


def open_line_impedance(
    omega: Real,
    capacitance_f_per_m: float,
    inductance_h_per_m: float,
    to_ends_m: tuple[float, float],
    *,
    tan_delta: float = 0.0,
) -> Complex:
    """Impedance between the conductors of a line with two open ends, at a point between them.

    Z = Zc/(tanh γa + tanh γb), γ = jω√(L'C'(1 − j tanδ)), Zc = √(L'/(C'(1 − j tanδ)))

    Parameters
    ----------
    omega : (F,) rad/s, above 0
    capacitance_f_per_m, inductance_h_per_m : C', L'
    to_ends_m : distances a and b to the ends, m, one of them above 0
    tan_delta : loss of the line's capacitance, taken as constant

    Returns
    -------
    (F,) complex, Ω; towards 0 Hz 1/(jωC'(a + b)(1 − j tanδ))

    Notes
    -----
    Exact for the line; copper loss and radiation are left out, so that resonances of a slot come out too sharp above
    about a tenth of a wavelength. Source: D. Pozar, *Microwave Engineering*, ch. 2.
    """
    lossy = capacitance_f_per_m * (1.0 - 1j * tan_delta)
    gamma = 1j * omega * np.sqrt(inductance_h_per_m * lossy)
    both = np.tanh(gamma * to_ends_m[0]) + np.tanh(gamma * to_ends_m[1])
    with np.errstate(divide="ignore", invalid="ignore"):
        z = np.sqrt(inductance_h_per_m / lossy) / both
    return np.asarray(np.where(both == 0.0, np.inf, z), np.complex128)


def filling_loss(permittivity: float, effective: float, tan_delta: float) -> float:
    """Loss of a line whose field runs partly through air.

    tanδ' = tanδ·εr(ε_eff − 1)/(ε_eff(εr − 1))

    Parameters
    ----------
    permittivity : εr of the board
    effective : ε_eff of the line
    tan_delta : tanδ of the board

    Returns
    -------
    float; 0 without a board

    Notes
    -----
    Exact where ε_eff is linear in εr, as in `gap.gap_line`. Source: filling factor, as for any quasi-static line.
    """
    if permittivity == 1.0:
        return 0.0
    return tan_delta * permittivity * (effective - 1.0) / (effective * (permittivity - 1.0))
