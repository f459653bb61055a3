from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import wire
from models.formulas.constants import ETA0


def test_series_and_closed_form_of_the_resistance_meet() -> None:
    below, above = wire.radiation_resistance([0.3 - 1e-12, 0.3 + 1e-12])
    assert below == pytest.approx(above, rel=1e-8)


def test_resistance_agrees_with_the_far_field_of_the_current() -> None:
    for kl in (0.05, 0.4, 2.0, math.pi, 9.0):
        cosine, weight = np.polynomial.legendre.leggauss(80)
        pattern = (np.cos(0.5 * kl * cosine) - math.cos(0.5 * kl)) ** 2 / (1.0 - cosine**2)
        assert wire.radiation_resistance(kl) == pytest.approx(ETA0 / (2.0 * math.pi) * (weight @ pattern), rel=1e-7)
