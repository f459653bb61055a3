from __future__ import annotations

import numpy as np
import pytest

from models.formulas.cable import plane_wire_radiation
from models.formulas.constants import ETA0

LEGENDRE = np.polynomial.legendre.leggauss
KH = 0.02


def radiated_over_mean_square(kl: float, reflection: float) -> float:
    """Integrate the far field over the half space: the wire, the ends that close its loop, and their image.

    Lengths in 1/k. I(s) = e^(js) − Γe^(−js), s from the far end; P/mean|I|² with rms currents.
    """
    nodes, weights = LEGENDRE(40)
    s, ds = 0.5 * kl * (nodes + 1.0), 0.5 * kl * weights
    along = np.exp(1j * s) - reflection * np.exp(-1j * s)
    ends = [(0.0, 1.0 - reflection), (kl, np.exp(1j * kl) - reflection * np.exp(-1j * kl))]
    cos_theta, band = LEGENDRE(40)
    cos_theta, band = 0.5 * (cos_theta[:, None] + 1.0), 0.5 * band[:, None]
    phi = np.linspace(0.0, 2.0 * np.pi, 80, endpoint=False)
    sin_theta = np.sqrt(1.0 - cos_theta**2)
    toward = sin_theta * np.cos(phi)
    wire = np.exp(1j * toward[..., None] * s) @ (along * ds) * 2j * np.sin(KH * cos_theta)
    drop = 2.0 * np.sin(KH * cos_theta) / cos_theta
    drops = (ends[0][1] - ends[1][1] * np.exp(1j * toward * kl)) * drop
    field = np.abs(wire * cos_theta * np.cos(phi) - drops * sin_theta) ** 2 + np.abs(wire * np.sin(phi)) ** 2
    power = ETA0 / (16.0 * np.pi**2) * np.sum(field * band) * 2.0 * np.pi / phi.size
    return float(power / (np.sum(np.abs(along) ** 2 * ds) / kl))


@pytest.mark.parametrize("kl", [0.3, 1.0, 2.5, 6.0, 12.0])
def test_a_travelling_wave_over_a_plane_radiates_what_its_far_field_carries(kl: float) -> None:
    found = float(plane_wire_radiation(np.array([kl]), np.array([KH]))[0])
    assert found == pytest.approx(radiated_over_mean_square(kl, 0.0), rel=0.02)


@pytest.mark.parametrize("quarters", [1, 2, 3, 4])
@pytest.mark.parametrize("reflection", [1.0, -1.0])
def test_an_open_or_earthed_line_at_resonance_radiates_the_same(quarters: int, reflection: float) -> None:
    """R = 120·(kh)² Ω for the mean square of the current, whatever the ends."""
    kl = 0.5 * np.pi * quarters
    found = float(plane_wire_radiation(np.array([kl]), np.array([KH]))[0])
    assert found == pytest.approx(120.0 * KH**2, rel=0.02)
    assert found == pytest.approx(radiated_over_mean_square(kl, reflection), rel=0.02)
