from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from models.case.document import Case
from models.case.read import parse_case
from models.network.grid import point_grid
from models.network.solver import Solver
from models.outcomes.load import biased, load_currents
from models.parts.bead import Bead

CASE = """
isthmus = 1
[pair]
a = "power"
b = "quiet"
[[candidate]]
name = "two beads"
[[candidate.branch]]
parts = [
  {{ kind = "bead", rdc = "0.1 ohm", rated_current = "1 A", cells = [ {{ resistance = 600, inductance = 1e-6 }} ] }},
]
[[candidate.branch]]
parts = [ {{ kind = "resistor", resistance = "0.3 ohm" }} ]
[[source]]
name = "load"
kind = "return-current"
between = ["power", "quiet"]
amplitude = "1.6 A"
frequency = "100 kHz"
duty = 0.5
rise = "10 ns"
fall = "10 ns"
[[source]]
name = "ripple"
kind = "ripple"
between = ["quiet", "power"]
amplitude = "0.1 A"
mean = "{mean} A"
frequency = "300 kHz"
"""


def case_with(mean: float = 0.0, old: str = "", new: str = "") -> Case:
    return parse_case(CASE.format(mean=mean).replace(old, new) if old else CASE.format(mean=mean))


def test_the_load_divides_by_resistance() -> None:
    """0.8 A come back from quiet to power over 0.1 Ω and 0.3 Ω: 0.6 A and 0.2 A, 60 mV."""
    case = case_with()
    bead, resistor = load_currents(Solver(), case, case.candidates[0])
    assert bead.current_a == pytest.approx(-0.6)
    assert resistor.current_a == pytest.approx(-0.2)
    assert bead.drop_v == resistor.drop_v == pytest.approx(-0.06)


def test_sources_against_each_other_leave_the_difference() -> None:
    case = case_with(mean=0.8)
    assert [each.current_a for each in load_currents(Solver(), case, case.candidates[0])] == pytest.approx([0.0, 0.0])


def test_the_load_biases_the_bead() -> None:
    """0.6 A in a bead of 1 A leave less of its inductance: 1/(1 + (0.6/0.35)^1.6) of 1 µH."""
    case, solver = case_with(), Solver()
    candidate = biased(solver, case, case.candidates[0])
    part = candidate.branches[0].parts[0]
    assert isinstance(part, Bead)
    assert part.bias_current_a == pytest.approx(0.6)
    alone = evolve(candidate, branches=candidate.branches[:1])
    z = solver.bridge(case, alone, point_grid((1e6,)))[0]
    assert z.imag == pytest.approx(2.0 * math.pi / (1.0 + (0.6 / 0.35) ** 1.6), rel=1e-3)


def test_a_stated_bias_and_an_unrated_bead_stay() -> None:
    stated = case_with(old='rated_current = "1 A"', new='rated_current = "1 A", bias_current = "0.1 A"')
    unrated = case_with(old='rated_current = "1 A", ', new="")
    for case in (stated, unrated):
        assert biased(Solver(), case, case.candidates[0]) is case.candidates[0]


def test_no_way_back_is_no_number() -> None:
    case = case_with(mean=0.4, old='between = ["quiet", "power"]', new='between = ["quiet", "earth"]')
    assert all(np.isnan(each.current_a) for each in load_currents(Solver(), case, case.candidates[0]))
