from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from models.arrays import Complex
from models.assets import CASES
from models.case.document import Candidate, Case
from models.case.read import load_case, parse_case
from models.codec import KeyPath
from models.decide.parameters import Parameter, network_parameters
from models.decide.sensitivity import (
    change_text,
    effects,
    effects_at,
    impedance_slopes,
)
from models.decide.slopes import difference, slope
from models.network.grid import point_grid
from models.network.solver import Solver
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.resistor import Resistor
from tests.models.decide.small_case import CHASSIS, HEAD, T1, branch, capacitor

EXAMPLES = ("gateway", "class-ii-supply", "sensor-board")
EDGE = ("branch", "branch 1")
F_HZ = (137.0, 20e3, 1.3e6, 47e6, 300e6)


@pytest.mark.parametrize(
    "part",
    [
        Capacitor(
            capacitance_f=2.2e-9,
            esr_ohm=0.2,
            esl_h=9e-9,
            dissipation_factor=0.025,
            insulation_resistance_ohm=1e9,
            count=2,
        ),
        Copper(resistance_ohm=3e-3, inductance_h=6e-9),
        Resistor(resistance_ohm=1e6, inductance_h=2e-9, capacitance_f=0.1e-12),
        Inductor(inductance_h=1e-3, rdc_ohm=1.0, capacitance_f=5e-12, parallel_resistance_ohm=2e4),
        Bead(rdc_ohm=0.3, cells=(Cell(resistance_ohm=700.0, inductance_h=1.39e-6, capacitance_f=0.455e-12),)),
    ],
    ids=lambda part: part.kind,
)
def test_slopes_by_hand_are_those_of_the_formula(part: Part) -> None:
    omega = 2.0 * math.pi * np.array([1e4, 1e6, 3e7, 4e8])
    for path in _paths(part):
        exact = slope(part, path, omega)
        found = difference(lambda value, path=path: _with(part, path, value).impedance(omega), _value(part, path))  # type: ignore[misc]
        # what differences lose to rounding is a share of Z per relative step
        noise = 1e-12 * np.abs(part.impedance(omega)) / _value(part, path)
        assert np.all(np.abs(exact - found) <= 1e-9 * np.abs(exact) + noise), path


def _paths(part: Part) -> list[KeyPath]:
    from models.decide.parameters import _quantities

    return list(_quantities(part))


def _value(part: Part, path: KeyPath) -> float:
    from models.declare import get_path

    value: float = get_path(part, path)
    return value


def _with(part: Part, path: KeyPath, value: float) -> Part:
    from models.declare import set_path

    changed: Part = set_path(part, path, value)
    return changed


def _bridged(part: str) -> Case:
    """Return 100 pF of transformer with one part across it."""
    return parse_case(HEAD + CHASSIS + T1 + f'[[candidate]]\nname = "it"\n{branch(part)}')


@pytest.mark.parametrize("name", EXAMPLES)
def test_impedance_slopes_equal_differences_of_the_whole_network(name: str) -> None:
    case = load_case(CASES / f"{name}.toml")
    grid = point_grid(F_HZ)
    for candidate in case.candidates:
        z, slopes = impedance_slopes(Solver(), case, candidate, grid)
        assert set(slopes) == set(network_parameters(case, candidate))
        for parameter, exact in slopes.items():

            def again(value: float, parameter: Parameter = parameter, candidate: Candidate = candidate) -> Complex:
                return Solver().in_circuit(*parameter.changed(case, candidate, value), grid)

            found = difference(again, parameter.value)
            noise = 1e-9 * np.abs(z) / parameter.value
            assert np.all(np.abs(exact - found) <= 1e-6 * np.abs(exact) + noise), parameter.path


def test_slope_of_a_divider_in_high_precision() -> None:
    """Z = 1/(jωC_g + 1/(R + jωL + 1/(jωC))), differentiated with 19 digits."""
    case = _bridged(capacitor(2.2e-9, "esr = 0.2, esl = 9e-9"))
    grid = point_grid((5e6, 35.8e6, 120e6, 168e6))
    _, slopes = impedance_slopes(Solver(), case, case.candidates[0], grid)
    by_key = {parameter.edge[0] + " " + parameter.key: found for parameter, found in slopes.items()}
    values = {key: np.longdouble(each) for key, each in {"r": 0.2, "l": 9e-9, "c": 2.2e-9, "g": 100e-12}.items()}
    s = 1j * grid.omega.astype(np.clongdouble)

    def z(**v: np.longdouble) -> Any:
        whole = {**values, **v}
        return 1 / (s * whole["g"] + 1 / (whole["r"] + s * whole["l"] + 1 / (s * whole["c"])))

    keys = {"r": "esr_ohm", "l": "esl_h", "c": "capacitance_f", "g": "interwinding_capacitance_f"}
    for short, key in keys.items():
        step = values[short] * np.longdouble(1e-6)
        above, below = z(**{short: values[short] + step}), z(**{short: values[short] - step})
        exact = ((above - below) / (2 * step)).astype(np.complex128)
        role = "transformer" if short == "g" else "branch"
        assert by_key[f"{role} {key}"] == pytest.approx(exact, rel=1e-6)


def test_the_text_speaks_of_one_nanohenry() -> None:
    case = _bridged(capacitor(2.2e-9, "esl = 9e-9"))
    grid = point_grid((1e6, 100e6))
    z, slopes = impedance_slopes(Solver(), case, case.candidates[0], grid)
    high = effects_at(z, slopes, grid.f_hz, 90e6)
    low = effects_at(z, slopes, grid.f_hz, 1.1e6)
    assert high[0].parameter.key == "esl_h"
    assert high[0].text.startswith("1 nH less equivalent series inductance")
    assert high[0].text.endswith("dB at 100 MHz")
    assert high[0].change_db < 0.0
    assert low[0].parameter.key == "capacitance_f"
    assert low[0].log_slope == pytest.approx(-2.2 / 2.3, rel=1e-2)


def test_the_ranking_is_by_what_a_tenth_does() -> None:
    first = Parameter(owner="x", of_candidate=True, path=("a",), value=1.0, unit="ohm", label="a", edge=EDGE)
    second = Parameter(owner="x", of_candidate=True, path=("b",), value=100.0, unit="ohm", label="b", edge=EDGE)
    found = effects(2.0, {first: 1.0, second: -0.5})
    assert [each.parameter.label for each in found] == ["b", "a"]
    assert found[1].change_db == pytest.approx(-0.1 * 0.5 * 20.0 / math.log(10.0))


@pytest.mark.parametrize(
    ("change_db", "expected"),
    [
        (-0.4512, "−0.45 dB"),
        (1.24, "+1.2 dB"),
        (-0.00213, "−0.0021 dB"),
        (-9.97, "−10 dB"),
        (123.4, "+123 dB"),
        (2.8e-5, "less than 0.001 dB"),
        (-2.8e-5, "less than 0.001 dB"),
    ],
)
def test_a_change_is_said_without_a_power_of_ten(change_db: float, expected: str) -> None:
    assert change_text(change_db) == expected


def test_only_a_leading_minus_is_one() -> None:
    parameter = Parameter(
        owner="branch 1, low-loss bead",
        of_candidate=True,
        path=("branches", 0, "parts", 0, "inductance_h"),
        value=1e-6,
        unit="H",
        label="low-frequency inductance",
        edge=EDGE,
    )
    (found,) = effects(10.0, {parameter: 1e7}, where=" at 1 MHz")
    assert found.text == "10 % less low-frequency inductance (branch 1, low-loss bead): −0.87 dB at 1 MHz"
