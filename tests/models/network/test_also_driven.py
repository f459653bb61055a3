"""A switch node that drives a coupling beside its transformer, against nodal analysis with the node itself in it."""

from __future__ import annotations

import pytest
from attrs import evolve

from app.exchange.faults import ExchangeError
from app.exchange.two_port import two_port
from app.state.edits import remove_at, remove_region, set_value
from models.case.document import Case
from models.case.read import parse_case
from models.case.write import case_text
from models.decide.corners import weak_bridge
from models.decide.tolerance import Request, drawn_case, study
from models.errors import CaseError
from models.network.grid import point_grid
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator
from models.sources.switch_node import SwitchNode
from tests.reference.elements import Element, path_elements
from tests.reference.exact import driven_by_voltage

TEXT = """
isthmus = 1
[pair]
a = "primary"
b = "secondary"
others = ["chassis"]
[sweep]
stop = "100 MHz"
[[transformer]]
name = "T1"
between = ["primary", "secondary"]
interwinding_capacitance = "60 pF"
driven_fraction = 0.4
[[coupling]]
name = "heat sink"
between = ["chassis", "primary"]
parts = [
  { kind = "capacitor", capacitance = "30 pF", tolerance = "20 %" },
  { kind = "resistor", resistance = "5 ohm" },
]
[[coupling]]
name = "chassis stray"
between = ["chassis", "earth"]
parts = [ { kind = "capacitor", capacitance = "100 pF" } ]
[[coupling]]
name = "secondary stray"
between = ["secondary", "earth"]
parts = [ { kind = "capacitor", capacitance = "40 pF" } ]
[[coupling]]
name = "bond"
between = ["primary", "chassis"]
parts = [ { kind = "resistor", resistance = "1 Mohm" } ]
[[candidate]]
name = "Nothing"
[[candidate]]
name = "Y"
[[candidate.branch]]
parts = [ { kind = "capacitor", capacitance = "2.2 nF", esl = "9 nH", esr = "0.2 ohm" } ]
[[candidate]]
name = "Y to the chassis"
[[candidate.branch]]
between = ["secondary", "chassis"]
parts = [ { kind = "capacitor", capacitance = "4.7 nF", esl = "9 nH", esr = "0.2 ohm" } ]
[[source]]
name = "switch"
kind = "switch-node"
through = "T1"
also_through = "heat sink"
amplitude = "300 V"
frequency = "100 kHz"
duty = 0.4
rise = "40 ns"
fall = "40 ns"
"""
CASE = parse_case(TEXT)
GRID = point_grid((1e3, 1e5, 3.7e6, 3.3e7, 1e8))


def with_switch(case: Case, candidate: int) -> tuple[Element, ...]:
    """Return the network with the switch node as a node of its own, where C_hot and the heat sink begin."""
    paths = [(each.between, each.parts) for each in case.couplings]
    paths[0] = (("chassis", "switch"), case.couplings[0].parts)
    paths += [(case.ends_of(branch), branch.parts) for branch in case.candidates[candidate].branches]
    elements = [
        Element(ends=("switch", "secondary"), kind="C", value=24e-12),
        Element(ends=("primary", "secondary"), kind="C", value=36e-12),
    ]
    for number, (ends, parts) in enumerate(paths):
        elements += path_elements(ends, parts, f"path {number}")
    return tuple(elements)


@pytest.mark.parametrize("candidate", [0, 1, 2])
def test_the_voltage_across_the_pair_is_that_of_the_node_itself(candidate: int) -> None:
    found = Solver().transfer(CASE, CASE.candidates[candidate], CASE.sources[0], GRID)
    for omega, volts in zip(GRID.omega, found, strict=True):
        solved = driven_by_voltage(with_switch(CASE, candidate), float(omega), "primary", "switch")
        assert solved is not None
        wanted = solved.across("secondary", "primary")
        assert wanted is not None
        assert abs(volts - wanted) <= 1e-9 * abs(wanted)


def test_every_draw_is_the_case_with_its_values_drawn() -> None:
    wanted = parse_case(f'{TEXT}[[requirement]]\nkind = "common-mode-voltage"\nlimit = "1 V"\n')
    found = study(Request(case=wanted, draws=4, peaks=4, points=10))
    assert found is not None
    for spread in found.candidates:
        for number, peak_v in enumerate(spread.spreads[0].values):
            alone = Evaluator().evaluate(drawn_case(wanted, spread, number)).outcomes[0].peak_v()
            assert peak_v == pytest.approx(alone, rel=0.01)


def test_the_worst_corner_has_more_of_what_hangs_on_the_node() -> None:
    corner, _ = weak_bridge(CASE, CASE.candidates[0], CASE.sources[0])
    assert corner.couplings[0].parts[0].capacitance_f == pytest.approx(36e-12)  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", ["nobody", "chassis stray", "bond"])
def test_what_cannot_hang_on_it_is_refused_with_what_can(name: str) -> None:
    with pytest.raises(CaseError, match=r'also_through.*"heat sink"'):
        parse_case(TEXT.replace('also_through = "heat sink"', f'also_through = "{name}"'))


def test_the_file_keeps_it() -> None:
    assert case_text(CASE, TEXT) == TEXT


def also(case: Case) -> str | None:
    (source,) = case.sources
    assert isinstance(source, SwitchNode)
    return source.also_through


def test_it_follows_a_new_name_and_goes_with_the_coupling() -> None:
    assert also(set_value(CASE, ("couplings", 0, "name"), "tab")) == "tab"
    assert also(set_value(CASE, ("couplings", 1, "name"), "other")) == "heat sink"
    assert also(remove_at(CASE, ("couplings", 0))) is None
    assert also(remove_at(CASE, ("couplings", 1))) == "heat sink"
    assert also(remove_region(evolve(CASE, candidates=CASE.candidates[:2]), "chassis")) is None


def test_it_has_no_two_terminals() -> None:
    with pytest.raises(ExchangeError, match="drives a coupling as well"):
        two_port(Solver(), CASE, CASE.candidates[1], CASE.sources[0], GRID)
