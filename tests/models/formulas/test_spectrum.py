from __future__ import annotations

import numpy as np
import pytest

from models.formulas import spectrum


def test_ringing_agrees_with_the_fft_of_the_repeated_wave() -> None:
    period, count = 1e-6, 1 << 14
    t = np.arange(count) * period / count
    omega, alpha = 2.0 * np.pi * 7.3e6, np.pi * 7.3e6 / 10.0
    wave = sum(np.exp(-alpha * (t + k * period)) * np.sin(omega * (t + k * period)) for k in range(40))
    transform = np.fft.fft(wave)[:30] / count
    found = spectrum.ringing_coefficients(np.arange(30), period_s=period, amplitude=1.0, ring_hz=7.3e6, quality=10.0)
    np.testing.assert_allclose(found, transform, atol=1e-4 * np.abs(transform).max())


def test_ringing_turns_with_its_edge() -> None:
    ring = {"period_s": 1e-6, "amplitude": 5.0, "ring_hz": 9e6, "quality": 8.0}
    there = complex(spectrum.ringing_coefficients(3, **ring, edge_s=0.25e-6))
    here = complex(spectrum.ringing_coefficients(3, **ring))
    assert there == pytest.approx(here * np.exp(-2j * np.pi * 3 * 0.25), rel=1e-12)
