"""A choke in a lead against the verdicts of cases that have it written into them, value by value."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.case.document import Case
from models.case.read import parse_case
from models.decide.bounds import Problem, most_capacitance
from models.decide.choke import WINDING_F, choke_opening
from models.decide.judges import judge
from models.decide.opening import Opening
from models.decide.sizing import size
from models.decide.template import template_of
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator
from tests.models.decide.small_case import CHASSIS, HEAD, SWITCH, T1, branch, capacitor, mains, requirement

_OUT = '[[cable]]\nname = "out"\nregion = "s"\nlength = 2.0\ndiameter = 0.004\nheight = 0.8\nfar_end = "open"\n'
_TOUCH = requirement("touch-current", "limit = 0.25e-3")
_LINE = requirement("conducted-emission", 'limit_line = "CISPR 32 class B"')
_HEAD = HEAD.replace('"chassis"', '"chassis", "behind"')


def _lead(region: str) -> str:
    ends = 'length = 1.5\ndiameter = 0.006\nheight = 0.8\nfar_end = "lisn"\n'
    return f'[[cable]]\nname = "lead"\nregion = "{region}"\n{ends}'


def _case(farad: float = 1e-9, choke: str = "", limit: str = _LINE, swing: str = "400 V") -> Case:
    """Return the case, the lead behind a choke where there is one."""
    stands = f'[[coupling]]\nname = "choke"\nbetween = ["p", "behind"]\nparts = [{choke}]\n' if choke else ""
    lead, source = _lead("behind" if choke else "p"), SWITCH.replace("400 V", swing)
    head = _HEAD if choke else HEAD
    bridge = f'[[candidate]]\nname = "it"\n{branch(capacitor(farad))}'
    return parse_case(head + CHASSIS + T1 + source + stands + lead + _OUT + mains() + _TOUCH + limit + bridge)


def _emission(farad: float, henry: float, winding_f: float = 0.0) -> str:
    """Return the verdict on emission with a choke that stands in the file."""
    case = _case(farad, f'{{ kind = "inductor", inductance = {henry!r}, capacitance = {winding_f!r} }}')
    evaluator = Evaluator()
    verdicts = judge(evaluator, case, evaluator.evaluate(case).outcomes[0])
    return {each.requirement: each.outcome for each in verdicts}["conducted-emission"]


def _opening(case: Case) -> Opening:
    (found,) = [each for each in size(case).openings if each.change == "A common-mode choke"]
    return found


@pytest.fixture(scope="module")
def most() -> float:
    case = _case()
    found = most_capacitance(Problem(case=case, template=template_of(case), solver=Solver()))
    assert found is not None
    return found


def test_the_least_choke_is_that_of_a_brute_force_scan(most: float) -> None:
    needed = _opening(_case()).needed
    assert needed is not None
    assert 1e-6 < needed < 0.1
    for henry in np.geomspace(needed / 30.0, needed * 0.98, 12):
        assert _emission(most * 0.999999, float(henry)) == "fail", henry
    assert _emission(most * 0.999999, needed * 1.001) == "pass"


def test_the_text_says_up_to_where_it_is_an_inductance_and_whether_its_own_capacitance_undoes_it(most: float) -> None:
    found = _opening(_case())
    assert found.needed is not None
    up_to = 1.0 / (2.0 * math.pi * math.sqrt(found.needed * 10e-12)) / 1e3
    assert f"up to {up_to:.3g} kHz" in found.text
    stays = _emission(most * 0.999999, found.needed * 1.001, WINDING_F) == "pass"
    assert ("stays open" in found.text) == stays


def test_a_choke_hardly_moves_the_voltage_across_the_pair() -> None:
    found = _opening(_case(limit=requirement("common-mode-voltage", "limit = 1e-3")))
    assert found.needed is None
    assert "hardly the voltage across the pair" in found.text


def test_without_a_lead_there_is_no_choke() -> None:
    case = parse_case(HEAD + CHASSIS + T1 + SWITCH + requirement("common-mode-voltage", "limit = 1e-6"))
    assert choke_opening(Problem(case=case, template=template_of(case), solver=Solver()), None) is None


def test_emission_bounds_the_least_capacitance_as_the_verdicts_do() -> None:
    found = size(_case(swing="8 V"))
    assert found.least_f is not None
    assert 10e-12 < found.least_f < 1e-9
    evaluator = Evaluator()
    for ratio in (0.5, 0.8, 0.97, 1.001, 1.3, 3.0):
        case = _case(found.least_f * ratio, swing="8 V")
        verdicts = judge(evaluator, case, evaluator.evaluate(case).outcomes[0])
        assert (verdicts[1].outcome == "pass") == (ratio > 1.0), ratio
    assert "conducted emission under CISPR 32 class B" in found.why
