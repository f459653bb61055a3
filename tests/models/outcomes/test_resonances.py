"""Resonances against closed forms of two and three elements."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.arrays import Real
from models.case.document import Branch, Candidate, Case, Pair, Transformer
from models.network.solver import Solver
from models.outcomes.resonances import makers, resonances
from models.parts.capacitor import Capacitor
from models.parts.inductor import Inductor

F_HZ: Real = np.geomspace(1e3, 1e9, 601)
OMEGA: Real = 2.0 * np.pi * F_HZ


@pytest.mark.parametrize("r", [0.05, 0.5, 1.5])
def test_series_resonance_of_three_elements(r: float) -> None:
    inductance, capacitance = 10e-9, 2.2e-9
    z_ohm = np.asarray(r + 1j * (OMEGA * inductance - 1.0 / (OMEGA * capacitance)), np.complex128)
    (found,) = resonances(F_HZ, z_ohm)
    assert found.kind == "series"
    assert found.f_hz == pytest.approx(1.0 / (2.0 * math.pi * math.sqrt(inductance * capacitance)), rel=1e-3)
    assert found.q == pytest.approx(math.sqrt(inductance / capacitance) / r, rel=0.01)
    assert found.z_ohm == pytest.approx(r)


@pytest.mark.parametrize("r", [1e3, 5e3, 30e3])
def test_parallel_resonance_of_three_elements(r: float) -> None:
    inductance, capacitance = 10e-6, 22e-12
    z_ohm = np.asarray(1.0 / (1.0 / r + 1j * (OMEGA * capacitance - 1.0 / (OMEGA * inductance))), np.complex128)
    (found,) = resonances(F_HZ, z_ohm)
    assert found.kind == "parallel"
    assert found.f_hz == pytest.approx(1.0 / (2.0 * math.pi * math.sqrt(inductance * capacitance)), rel=1e-3)
    assert found.q == pytest.approx(r * math.sqrt(capacitance / inductance), rel=0.01)
    assert found.z_ohm == pytest.approx(r)


def test_a_heavily_damped_circuit_and_an_open_one_have_none() -> None:
    damped = np.asarray(100.0 + 1j * (OMEGA * 10e-9 - 1.0 / (OMEGA * 2.2e-9)), np.complex128)
    assert resonances(F_HZ, damped) == ()
    assert resonances(F_HZ, np.full(F_HZ.shape, np.inf, np.complex128)) == ()


def test_the_parts_that_make_a_resonance_are_named() -> None:
    bridge = Branch(parts=(Capacitor(capacitance_f=2.2e-9, esr_ohm=0.1), Inductor(inductance_h=20e-9, rdc_ohm=0.1)))
    far = Branch(parts=(Capacitor(capacitance_f=1e-15),))
    candidate = Candidate(name="bridge", branches=(bridge, far))
    case = Case(
        pair=Pair(a="A", b="B"),
        transformers=(Transformer(name="T1", between=("A", "B"), interwinding_capacitance_f=30e-12),),
        candidates=(candidate,),
    )
    solver = Solver()
    f_parallel = 1.0 / (2.0 * math.pi * math.sqrt(20e-9 * (2.2e-9 * 30e-12 / (2.2e-9 + 30e-12))))
    in_circuit = makers(solver, case, candidate, f_parallel, bridge_alone=False)
    assert [each.path for each in in_circuit] == ["branch 1", "T1"]
    assert in_circuit[0].share == pytest.approx(0.5, abs=0.03)
    f_series = 1.0 / (2.0 * math.pi * math.sqrt(20e-9 * 2.2e-9))
    alone = makers(solver, case, candidate, f_series, bridge_alone=True)
    assert {type(each.part) for each in alone} == {Capacitor, Inductor}
    assert all(each.share == pytest.approx(0.5, abs=0.02) for each in alone)
