"""Measured-like data for the fits: dispersive ferrites and dielectrics, with noise, ripple and outliers."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.arrays import Complex, Real
from models.fitting.data import Measurement, make_measurement

DB = 20 / np.log(10)


def ferrite(
    f_hz: Real,
    *,
    inductance_h: float = 2e-6,
    relaxation_hz: float = 2e7,
    spread: float = 0.2,
    wall_share: float = 0.3,
    wall_hz: float = 5e6,
    wall_damping: float = 1.2,
    capacitance_f: float = 0.5e-12,
    lead_h: float = 2e-9,
    rdc_ohm: float = 0.05,
) -> Complex:
    """Winding on a ferrite: spread spin relaxation (Cole-Cole), damped domain-wall resonance, C across, leads."""
    jf = 1j * f_hz
    spin = (1 - wall_share) / (1 + (jf / relaxation_hz) ** (1 - spread))
    wall = wall_share / (1 + wall_damping * jf / wall_hz + (jf / wall_hz) ** 2)
    jw = 2 * np.pi * jf
    core = jw * inductance_h * (spin + wall + 1e-3)
    return np.asarray(rdc_ohm + jw * lead_h + 1 / (1 / core + jw * capacitance_f), np.complex128)


def random_ferrite(f_hz: Real, rng: np.random.Generator) -> Complex:
    """A ferrite of a usual kind, from manganese-zinc to high-frequency nickel-zinc."""
    return ferrite(
        f_hz,
        inductance_h=float(10 ** rng.uniform(-7, -5)),
        relaxation_hz=float(10 ** rng.uniform(6.5, 8.3)),
        spread=float(rng.uniform(0, 0.35)),
        wall_share=float(rng.uniform(0, 0.6)),
        wall_hz=float(10 ** rng.uniform(6.3, 7.7)),
        wall_damping=float(rng.uniform(0.7, 2.5)),
        capacitance_f=float(10 ** rng.uniform(-13, -11.7)),
        lead_h=float(rng.uniform(0, 10e-9)),
        rdc_ohm=float(10 ** rng.uniform(-3, -0.3)),
    )


def dielectric(
    f_hz: Real, *, capacitance_f: float, loss: float, resistance_ohm: float, skin_hz: float, inductance_h: float
) -> Complex:
    """Capacitor of constant loss angle and causal (C falls as a power of frequency), skin effect in the leads."""
    jw = 2j * np.pi * f_hz
    admittance = jw * capacitance_f * (1j * f_hz / 1e6) ** (-2 * np.arctan(loss) / np.pi)
    leads = resistance_ohm * np.sqrt(1 + f_hz / skin_hz) + jw * inductance_h
    return np.asarray(leads + 1 / admittance, np.complex128)


def foster(f_hz: Real, rdc_ohm: float, cells: NDArray[np.float64]) -> Complex:
    """Foster network of cells (K, 3) of R, L, C, written out on its own."""
    jw = 2j * np.pi * f_hz
    z = np.full(f_hz.shape, rdc_ohm, np.complex128)
    for resistance, inductance, capacitance in cells:
        z += 1 / (1 / resistance + 1 / (jw * inductance) + jw * capacitance)
    return z


def noisy(z_ohm: Complex, rng: np.random.Generator, noise_db: float = 0.01) -> Complex:
    """Multiply with complex noise of so many dB rms in magnitude and as much in phase."""
    noise = rng.standard_normal(z_ohm.size) + 1j * rng.standard_normal(z_ohm.size)
    return np.asarray(z_ohm * np.exp(noise_db / DB * noise), np.complex128)


def measured(f_hz: Real, z_ohm: Complex) -> Measurement:
    """Make a measurement without further ado."""
    return make_measurement(f_hz, z_ohm, source="synthetic")


def rms_db(fit: Complex, truth: Complex) -> float:
    """Rms of fit/truth in dB."""
    return float(np.sqrt(np.mean((DB * np.log(np.abs(fit / truth))) ** 2)))
