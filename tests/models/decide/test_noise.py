from __future__ import annotations

import math

import numpy as np
import pytest

from models.case.document import Branch, Candidate, Case, Coupling, Pair
from models.decide.noise import highest_impedance
from models.network.solver import Solver
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper

C_F, L_H = 137e-12, 6e-9


@pytest.mark.parametrize("r_ohm", [3e-3, 50e-3, 1.0])
def test_a_resonance_between_the_points_is_met_at_its_peak(r_ohm: float) -> None:
    case = Case(
        pair=Pair(a="a", b="b"),
        couplings=(Coupling(name="gap", between=("a", "b"), parts=(Capacitor(capacitance_f=C_F),)),),
    )
    bridge = Candidate(name="bar", branches=(Branch(parts=(Copper(resistance_ohm=r_ohm, inductance_h=L_H),)),))
    f_hz = np.geomspace(30e6, 300e6, 101)
    value, at_hz = highest_impedance(Solver(), case, bridge, f_hz)
    omega = 2 * np.pi * np.linspace(150e6, 200e6, 2_000_001)
    dense = np.abs(1 / (1j * omega * C_F + 1 / (r_ohm + 1j * omega * L_H)))
    assert value == pytest.approx(dense.max(), rel=1e-4)
    assert at_hz == pytest.approx(omega[dense.argmax()] / (2 * math.pi), rel=1e-4)


def test_an_open_pair_has_no_bound() -> None:
    case = Case(pair=Pair(a="a", b="b"))
    assert highest_impedance(Solver(), case, Candidate(name="none"), np.array([1e6, 2e6, 3e6]))[0] == math.inf
