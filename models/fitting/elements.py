"""Impedance of the fitted shapes with its slope in the logarithm of every value: what the fits turn on.

Each shape takes its values as one vector, SI units, none negative; a value of 0 (an absent capacitance) or infinity (an
absent parallel resistance) is in order and has no slope. With θ = ln p the slope is p·∂Z/∂p.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from models.arrays import Complex, Real

Shape = Callable[[Real, Real], tuple[Complex, Complex]]
"""(values (P,), omega (F,)) → Z (F,) in Ω and its log slopes (F, P)."""


def foster(values: Real, omega: Real) -> tuple[Complex, Complex]:
    """Foster form of a bead: a resistance and cells of parallel R, L, C, all in series.

    Z = Rdc + Σ 1/(1/R + 1/(jωL) + jωC)

    Parameters
    ----------
    values : (1 + 3·cells,) Rdc, then R, L, C of each cell; Ω, H, F
    omega : (F,) rad/s, above 0

    Returns
    -------
    (F,) Ω and (F, P) log slopes

    Notes
    -----
    Passive and causal for any values that are not negative. Source: R. M. Foster, A Reactance Theorem (1924).
    """
    jw = 1j * omega[:, None]
    resistance, inductance, capacitance = values[1:].reshape(-1, 3).T
    y_r, y_l, y_c = 1 / resistance, 1 / (jw * inductance), jw * capacitance
    cell = 1 / (y_r + y_l + y_c)
    slopes = np.empty((omega.size, values.size), np.complex128)
    slopes[:, 0] = values[0]
    square = cell * cell
    slopes[:, 1::3], slopes[:, 2::3], slopes[:, 3::3] = square * y_r, square * y_l, -square * y_c
    return values[0] + cell.sum(axis=1), slopes


def coil(values: Real, omega: Real) -> tuple[Complex, Complex]:
    """Inductor with winding resistance, winding capacitance and core loss.

    Z = (Rdc + jωL) ∥ 1/(jωC) ∥ Rp

    Parameters
    ----------
    values : (4,) L, Rdc, C, Rp; H, Ω, F, Ω
    omega : (F,) rad/s, above 0

    Returns
    -------
    (F,) Ω and (F, 4) log slopes
    """
    inductance, rdc, capacitance, parallel = values
    reactance = 1j * omega * inductance
    winding = rdc + reactance
    z = 1 / (1 / winding + 1j * omega * capacitance + 1 / parallel)
    square, ratio = z * z, (z / winding) ** 2
    slopes = np.stack([ratio * reactance, ratio * rdc, -square * 1j * omega * capacitance, square / parallel], axis=1)
    return z, slopes


def condenser(values: Real, omega: Real) -> tuple[Complex, Complex]:
    """Capacitor with leads, dielectric loss, insulation, and slow branches of R and C in series.

    Z = ESR + jωESL + 1/(ωC(tanδ + j) + 1/Rins + Σ 1/(Rb + 1/(jωCb)))

    Parameters
    ----------
    values : (5 + 2·branches,) C, ESR, ESL, tanδ, Rins, then Rb, Cb of each branch; F, Ω, H, –, Ω
    omega : (F,) rad/s, above 0

    Returns
    -------
    (F,) Ω and (F, P) log slopes

    Notes
    -----
    Without tanδ it is passive and causal for any values that are not negative; a constant tanδ is causal only
    approximately.
    """
    capacitance, esr, esl, loss, insulation = values[:5]
    jw = 1j * omega
    y_c, y_loss = jw * capacitance, omega * capacitance * loss
    resistance, slow = values[5:].reshape(-1, 2).T
    z_slow = 1 / (jw[:, None] * slow)
    y_slow = 1 / (resistance + z_slow)
    inner = 1 / (y_c + y_loss + 1 / insulation + y_slow.sum(axis=1))
    square = inner * inner
    slopes = np.empty((omega.size, values.size), np.complex128)
    slopes[:, :5] = np.stack(
        [-square * (y_c + y_loss), np.full(omega.size, esr), jw * esl, -square * y_loss, square / insulation], axis=1
    )
    slopes[:, 5::2] = square[:, None] * y_slow**2 * resistance
    slopes[:, 6::2] = -square[:, None] * y_slow**2 * z_slow
    return esr + jw * esl + inner, slopes


SHAPES: Mapping[str, Shape] = MappingProxyType({"bead": foster, "capacitor": condenser, "inductor": coil})
"""The shape of each kind of part that can be fitted."""
