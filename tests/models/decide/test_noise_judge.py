from __future__ import annotations

import math

import numpy as np
import pytest

from models.case.document import Branch, Candidate, Case, Coupling, Pair
from models.case.read import parse_case
from models.decide.judges import judge_one
from models.decide.noise_judge import highest_impedance
from models.decide.subject import Subject
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


def test_a_band_beyond_the_sweep_is_looked_through_as_closely() -> None:
    """The resonance at 175.5 MHz lies above a sweep that ends at 10 MHz, and inside the band that is asked for."""
    text = (
        'isthmus = 1\n[pair]\na = "a"\nb = "b"\n[sweep]\nstop = "10 MHz"\n'
        '[[coupling]]\nname = "gap"\nbetween = ["a", "b"]\nparts = [{ kind = "capacitor", capacitance = "137 pF" }]\n'
        '[[candidate]]\nname = "bar"\n[[candidate.branch]]\n'
        'parts = [{ kind = "copper", resistance = "50 mohm", inductance = "6 nH" }]\n'
        '[[requirement]]\nkind = "return-impedance"\nlimit = "10 ohm"\nband = ["1 MHz", "1 GHz"]\n'
    )
    case = parse_case(text)
    verdict = judge_one(Subject(solver=Solver(), case=case, candidate=case.candidates[0]), case.requirements[0])
    # L/(C·R), within 1/Q² of the peak
    assert verdict.value == pytest.approx(L_H / (C_F * 50e-3), rel=2e-4)


def test_an_open_pair_has_no_bound() -> None:
    case = Case(pair=Pair(a="a", b="b"))
    assert highest_impedance(Solver(), case, Candidate(name="none"), np.array([1e6, 2e6, 3e6]))[0] == math.inf
