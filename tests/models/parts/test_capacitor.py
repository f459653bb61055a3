"""Capacitors: the contract's formula where nothing else is said, then bias, metal, leads and slow branches."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.errors import QuantityError
from models.fitting.elements import condenser
from models.fitting.result import vector_of
from models.parts.capacitor import Capacitor, SlowBranch

F_HZ = np.geomspace(10.0, 1e9, 60)
OMEGA = 2.0 * math.pi * F_HZ


def test_without_the_further_keys_it_is_the_formula_of_the_file_format() -> None:
    part = Capacitor(
        capacitance_f=2.2e-9,
        esr_ohm=0.2,
        esl_h=9e-9,
        dissipation_factor=0.025,
        insulation_resistance_ohm=10e9,
        count=2,
    )
    inner = 1.0 / (OMEGA * 2.2e-9 * (0.025 + 1j) + 1e-10)
    assert part.impedance(OMEGA) == pytest.approx((0.2 + 1j * OMEGA * 9e-9 + inner) / 2.0, rel=1e-12)


def test_bias_of_a_class_two_dielectric() -> None:
    part = Capacitor(capacitance_f=1e-6, bias_half_voltage_v=20.0, bias_voltage_v=25.0, bias_exponent=1.8)
    assert part.capacitance_left() == pytest.approx(0.4009, abs=5e-5)
    assert part.impedance(OMEGA).imag == pytest.approx(-1.0 / (OMEGA * 0.4009e-6), rel=2e-4)


def test_a_bias_takes_nothing_where_no_half_voltage_is_stated() -> None:
    assert Capacitor(capacitance_f=1e-9, bias_voltage_v=50.0).capacitance_left() == 1.0


def test_resistance_from_dielectric_and_metal() -> None:
    part = Capacitor(capacitance_f=1e-9, dissipation_factor=0.02, metal_resistance_ohm=0.03, metal_corner_hz=10e6)
    z = part.impedance(2.0 * math.pi * np.array([30e6]))
    assert z[0].real == pytest.approx(0.1661, abs=1e-4)


def test_metal_without_a_corner_stays() -> None:
    part = Capacitor(capacitance_f=1e-9, metal_resistance_ohm=0.03)
    assert part.impedance(OMEGA).real == pytest.approx(np.full(OMEGA.shape, 0.03))


def test_leads_add_their_inductance() -> None:
    part = Capacitor(capacitance_f=1e-9, esl_h=3e-9, lead_length_m=4e-3)
    assert part.inductance_h() == pytest.approx(3e-9 + 4 * 1.402e-9, rel=1e-3)
    assert part.impedance(np.array([1e12]))[0].imag == pytest.approx(1e12 * part.inductance_h(), rel=1e-3)


def test_leads_that_overlap_are_refused() -> None:
    with pytest.raises(QuantityError, match="lead_pitch"):
        Capacitor(capacitance_f=1e-9, lead_length_m=4e-3, lead_pitch_m=0.5e-3)


def test_slow_branches_are_those_of_a_fit() -> None:
    part = Capacitor(
        capacitance_f=1e-9,
        esr_ohm=0.1,
        esl_h=1e-9,
        branches=(
            SlowBranch(resistance_ohm=1e5, capacitance_f=2e-11),
            SlowBranch(resistance_ohm=1e3, capacitance_f=1e-11),
        ),
    )
    keys = {
        "capacitance": 1e-9,
        "esr": 0.1,
        "esl": 1e-9,
        "branches": [{"resistance": 1e5, "capacitance": 2e-11}, {"resistance": 1e3, "capacitance": 1e-11}],
    }
    fitted = condenser(vector_of("capacitor", keys), OMEGA)[0]
    assert part.impedance(OMEGA) == pytest.approx(fitted, rel=1e-9)


def test_a_tolerance_takes_the_slow_branches_along() -> None:
    part = Capacitor(capacitance_f=1e-9, branches=(SlowBranch(resistance_ohm=1e4, capacitance_f=1e-10),))
    assert part.scaled(2.0).impedance(OMEGA) == pytest.approx(0.5 * part.impedance(OMEGA), rel=1e-12)
