from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from models.case.document import Case
from models.case.read import parse_case
from models.case.write import case_text
from models.decide.bias import bias_said, overload_said
from models.decide.draws import Draws
from models.decide.judges import judge
from models.declare import set_path
from models.network.grid import DC, point_grid, sweep_grid
from models.network.load import biased, load_currents
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator
from models.outcomes.event import Event
from models.outcomes.transient import transient
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
    candidate = biased(case.candidates[0], solver.loads(case, case.candidates[0]))
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
        candidate = case.candidates[0]
        assert biased(candidate, load_currents(Solver(), case, candidate)) is candidate


def test_no_way_back_is_no_number() -> None:
    case = case_with(mean=0.4, old='between = ["quiet", "power"]', new='between = ["quiet", "earth"]')
    assert all(np.isnan(each.current_a) for each in load_currents(Solver(), case, case.candidates[0]))


LIMIT = """
[[requirement]]
kind = "return-impedance"
limit = "1 ohm"
band = ["1 MHz", "10 MHz"]
[[requirement]]
kind = "dc-drop"
limit = "1 V"
"""
BEAD = CASE.replace('[[candidate.branch]]\nparts = [ {{ kind = "resistor", resistance = "0.3 ohm" }} ]\n', "")
ALONE_A = 0.8


def loaded_pair() -> tuple[Case, Case]:
    """Return one bead alone under 0.8 A: biased by the load, and with that bias stated in its part."""
    text = BEAD.format(mean=0.0) + LIMIT
    by_load = parse_case(text.replace("isthmus = 1", 'isthmus = 1\nbead_bias = "load"'))
    stated = parse_case(text.replace('rated_current = "1 A"', f'rated_current = "1 A", bias_current = {ALONE_A}'))
    return by_load, stated


def test_what_the_load_biases_is_what_a_stated_bias_would_be_in_every_outcome() -> None:
    solved, stated = (Evaluator().evaluate(case).outcomes[0] for case in loaded_pair())
    assert solved.bridge_ohm == pytest.approx(stated.bridge_ohm, rel=1e-12)
    assert solved.in_circuit_ohm == pytest.approx(stated.in_circuit_ohm, rel=1e-12)
    assert solved.common_mode[0].coefficients == pytest.approx(stated.common_mode[0].coefficients, rel=1e-12)
    by_load, written = loaded_pair()
    event = Event(kind="discharge", into="quiet", level_v=4e3)
    waves = [transient(Solver(), case, case.candidates[0], event).v_pair_v for case in (by_load, written)]
    assert waves[0] == pytest.approx(waves[1], rel=1e-9, abs=1e-9)
    grid = point_grid((1e6, 30e6))
    drawn = [
        Draws(solver=Solver(), case=case, candidate=case.candidates[0], toleranced=(), factors=np.ones((1, 0)))
        for case in (by_load, written)
    ]
    assert drawn[0].magnitude_ohm(grid) == pytest.approx(drawn[1].magnitude_ohm(grid), rel=1e-12)


def test_without_the_key_the_cells_are_used_as_given() -> None:
    """As the contract has it: a file that says nothing of bias gets none, whatever load its bead carries."""
    case, solver = parse_case(BEAD.format(mean=0.0)), Solver()
    assert solver.operating(case, case.candidates[0]) is case.candidates[0]
    omega = sweep_grid(case.sweep).omega
    z = 0.1 + 1.0 / (1.0 / 600.0 + 1.0 / (1j * omega * 1e-6))
    assert Evaluator().evaluate(case).outcomes[0].bridge_ohm == pytest.approx(z, rel=1e-12)


def test_without_load_current_the_key_changes_nothing() -> None:
    text = CASE.format(mean=0.0).replace("1.6 A", "0 A")
    off, on = parse_case(text), parse_case(text.replace("isthmus = 1", 'isthmus = 1\nbead_bias = "load"'))
    assert Solver().operating(on, on.candidates[0]) is on.candidates[0]
    results = [Evaluator().evaluate(case).outcomes[0] for case in (off, on)]
    assert np.array_equal(results[0].in_circuit_ohm, results[1].in_circuit_ohm)


def test_direct_current_divides_alike_whatever_it_biases() -> None:
    free = case_with()
    on = evolve(free, bead_bias="load")
    solver = Solver()
    assert [each.current_a for each in solver.loads(on, on.candidates[0])] == pytest.approx([-0.6, -0.2])
    same = [solver.in_circuit(case, case.candidates[0], DC) for case in (free, on)]
    assert same[0] == pytest.approx(same[1], rel=1e-15)


def test_a_change_of_the_load_changes_the_bias() -> None:
    solver, case = Solver(), evolve(case_with(), bead_bias="load")
    (first,) = solver.bead_biases(case, case.candidates[0])
    less = evolve(case, sources=(set_path(case.sources[0], ("amplitude_a",), 0.4), case.sources[1]))
    (second,) = solver.bead_biases(less, less.candidates[0])
    assert (first.bias_a, second.bias_a) == pytest.approx((0.6, 0.15))
    assert first.left < second.left < 1.0


def test_verdicts_of_impedance_say_what_biases_the_bead() -> None:
    by_load, stated = loaded_pair()
    evaluator = Evaluator()
    impedance, drop = judge(evaluator, by_load, evaluator.evaluate(by_load).outcomes[0])
    assert "Bead in branch 1: biased by 800 mA load current, 21 % of its inductance left." in impedance.assumed
    assert drop.assumed == ()
    impedance, _ = judge(evaluator, stated, evaluator.evaluate(stated).outcomes[0])
    assert "Bead in branch 1: 800 mA of bias as stated, 21 % of its inductance left." in impedance.assumed


def test_what_is_said_where_the_load_differs_from_what_is_stated() -> None:
    case = case_with(old='rated_current = "1 A"', new='rated_current = "1 A", bias_current = "0.1 A"')
    (bias,) = Solver().bead_biases(evolve(case, bead_bias="load"), case.candidates[0])
    assert bias.by == "part"
    assert bias_said(bias).endswith("88 % of its inductance left. The load current is 600 mA: it would leave 30 %.")
    (bias,) = Solver().bead_biases(case_with(), case_with().candidates[0])
    assert bias_said(bias) == "Bead in branch 1: unbiased, though 600 mA load current leaves 30 % of its inductance."
    unrated = case_with(old='rated_current = "1 A", ', new="")
    (bias,) = Solver().bead_biases(unrated, unrated.candidates[0])
    assert "without a rated current" in bias_said(bias)


@pytest.mark.parametrize(("rated", "over"), [("0.5 A", True), ("0.6 A", False)])
def test_a_bead_that_carries_more_than_it_is_rated_for_is_said(rated: str, *, over: bool) -> None:
    """0.8 A in all, of which the bead carries 0.6 A."""
    case = case_with(old='rated_current = "1 A"', new=f'rated_current = "{rated}"')
    (bias,) = Solver().bead_biases(case, case.candidates[0])
    said = "Bead in branch 1: 600 mA load current is more than its rated 500 mA, and heats it up."
    assert overload_said(bias) == (said if over else None)


def test_an_overloaded_bead_is_said_beside_the_drop_as_well() -> None:
    text = BEAD.format(mean=0.0).replace('rated_current = "1 A"', 'rated_current = "0.5 A"') + LIMIT
    case, evaluator = parse_case(text), Evaluator()
    for verdict in judge(evaluator, case, evaluator.evaluate(case).outcomes[0]):
        assert any("more than its rated 500 mA" in each for each in verdict.assumed)


def test_the_key_survives_a_file_that_had_none() -> None:
    text = CASE.format(mean=0.0)
    case = evolve(parse_case(text), bead_bias="load")
    assert parse_case(case_text(case, text)) == case
