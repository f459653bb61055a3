"""Impedance of the lumped elements every part is made of."""

from __future__ import annotations

import numpy as np

from models.arrays import Complex, Real


def series_rl(omega: Real, resistance_ohm: float | Real, inductance_h: float) -> Complex:
    """Impedance of a resistance and an inductance in series.

    Z = R + jωL

    Parameters
    ----------
    omega : (F,) rad/s
    resistance_ohm : float or (F,), Ω
    inductance_h : H

    Returns
    -------
    (F,) complex, Ω
    """
    z = np.empty(omega.shape, np.complex128)
    z.real = resistance_ohm
    z.imag = omega * inductance_h
    return z


def lossy_capacitor(
    omega: Real,
    capacitance_f: float,
    esr_ohm: float,
    esl_h: float,
    dissipation_factor: float,
    insulation_siemens: float,
) -> Complex:
    """Impedance of a capacitor with lead resistance, lead inductance, dielectric loss and insulation.

    Z = ESR + jωESL + 1/(ωC(tanδ + j) + 1/Rins)

    Parameters
    ----------
    omega : (F,) rad/s, above 0
    capacitance_f : F
    esr_ohm : Ω
    esl_h : H
    dissipation_factor : tanδ, taken as constant over frequency
    insulation_siemens : 1/Rins, S; 0 for none

    Returns
    -------
    (F,) complex, Ω

    Notes
    -----
    A constant tanδ is the usual data-sheet description; it is causal only approximately, which shows in the phase by
    less than tanδ. Source: any text on capacitors, for one IEC 60384-1 (definitions of tanδ and ESR).
    """
    susceptance = omega * capacitance_f
    conductance = susceptance * dissipation_factor + insulation_siemens
    square = conductance * conductance + susceptance * susceptance
    z = np.empty(omega.shape, np.complex128)
    z.real = conductance / square + esr_ohm
    z.imag = omega * esl_h - susceptance / square
    return z


def parallel_rlc(omega: Real, conductance_siemens: float, inductance_h: float, capacitance_f: float) -> Complex:
    """Impedance of a resistance, an inductance and a capacitance in parallel: one Foster cell.

    Z = 1/(G + 1/(jωL) + jωC)

    Parameters
    ----------
    omega : (F,) rad/s, above 0
    conductance_siemens : G = 1/R, S
    inductance_h : H
    capacitance_f : F

    Returns
    -------
    (F,) complex, Ω; ``inf`` at the resonance of a lossless cell
    """
    susceptance = omega * capacitance_f - 1.0 / (omega * inductance_h)
    square = conductance_siemens * conductance_siemens + susceptance * susceptance
    z = np.empty(omega.shape, np.complex128)
    with np.errstate(divide="ignore", invalid="ignore"):
        z.real = conductance_siemens / square
        z.imag = -susceptance / square
    z[square == 0.0] = np.inf
    return z


def shunted(z: Complex, omega: Real, conductance_siemens: float, capacitance_f: float) -> Complex:
    """Impedance with a conductance and a capacitance across it.

    Z' = Z/(1 + Z(G + jωC)), which stays right where Z is 0.

    Parameters
    ----------
    z : (F,) complex, Ω
    omega : (F,) rad/s
    conductance_siemens : S
    capacitance_f : F

    Returns
    -------
    (F,) complex, Ω; ``inf`` at a lossless resonance
    """
    if conductance_siemens == 0.0 and capacitance_f == 0.0:
        return z
    y = np.empty(omega.shape, np.complex128)
    y.real = conductance_siemens
    y.imag = omega * capacitance_f
    below = 1.0 + z * y
    open_at = below == 0.0
    below[open_at] = 1.0
    result = z / below
    result[open_at] = np.inf
    return result
