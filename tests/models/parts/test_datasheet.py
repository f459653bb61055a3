"""Parts from a few numbers: the numbers come out again, and what was assumed is said."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from models.errors import QuantityError
from models.parts.bead import Bead
from models.parts.bead_sheet import BeadSheet, bead_from_data_sheet
from models.parts.capacitor import Capacitor
from models.parts.capacitor_sheet import CapacitorSheet, capacitor_from_data_sheet

TRUE = {"test_ohm": 600.0, "peak_ohm": 700.3, "peak_hz": 200e6, "crossing_hz": 70.19e6}
SWEEP = np.geomspace(1e6, 3e9, 6001)


def ohm_at(part: Any, f_hz: float) -> float:
    return float(abs(part.impedance(np.array([2.0 * math.pi * f_hz]))[0]))


def bead(**numbers: Any) -> Bead:
    part = bead_from_data_sheet(BeadSheet(rdc_ohm=0.3, **numbers)).part
    assert isinstance(part, Bead)
    return part


@pytest.mark.parametrize("left_out", sorted(TRUE))
def test_any_three_of_the_four_numbers_give_the_same_bead(left_out: str) -> None:
    part = bead(**{name: value for name, value in TRUE.items() if name != left_out})
    cell = part.cells[0]
    assert cell.inductance_h == pytest.approx(1.390e-6, rel=2e-3)
    assert cell.capacitance_f == pytest.approx(0.4554e-12, rel=2e-3)
    assert cell.resistance_ohm == pytest.approx(700.0, rel=2e-3)


def test_peak_above_or_below_the_test_frequency_is_found_from_the_rest() -> None:
    low = bead(test_ohm=400.0, test_hz=100e6, peak_ohm=500.3, peak_hz=60e6)
    z = low.impedance(2.0 * math.pi * SWEEP)
    crossing = float(SWEEP[np.argmax(z.real - 0.3 > np.abs(z.imag))])
    again = bead(test_ohm=400.0, peak_ohm=500.3, crossing_hz=crossing)
    assert again.cells[0].inductance_h == pytest.approx(low.cells[0].inductance_h, rel=5e-3)


@pytest.mark.parametrize(
    "numbers",
    [
        {"test_ohm": 600.0},
        {"test_ohm": 600.0, "peak_hz": 150e6},
        {"test_ohm": 220.0, "peak_hz": 900e6},
        {"test_ohm": 600.0, "peak_ohm": 750.0},
        {"test_ohm": 600.0, "crossing_hz": 40e6},
        {"test_ohm": 600.0, "crossing_hz": 150e6},
        {"test_ohm": 50.0, "test_hz": 25e6},
    ],
)
def test_what_was_given_comes_out_and_the_rest_is_said(numbers: dict[str, Any]) -> None:
    found = bead_from_data_sheet(BeadSheet(**numbers))
    test_hz = numbers.get("test_hz", 100e6)
    assert ohm_at(found.part, test_hz) == pytest.approx(numbers["test_ohm"], rel=0.01)
    assert any("DC resistance is taken as" in sentence for sentence in found.assumed)
    assert any("peak is taken" in sentence for sentence in found.assumed)


def test_a_peak_alone_is_enough() -> None:
    found = bead_from_data_sheet(BeadSheet(peak_ohm=900.0, peak_hz=150e6, rdc_ohm=0.2))
    assert ohm_at(found.part, 150e6) == pytest.approx(900.0)
    assert any("R = X is taken to lie at 52.5 MHz" in sentence for sentence in found.assumed)


def test_a_crossover_that_does_not_fit_is_said() -> None:
    found = bead_from_data_sheet(BeadSheet(**{**TRUE, "crossing_hz": 30e6}))  # type: ignore[arg-type]
    assert any("R = X lies at 70.2 MHz in one cell" in sentence for sentence in found.assumed)


def test_bias_is_kept_and_its_absence_said() -> None:
    found = bead_from_data_sheet(BeadSheet(test_ohm=600.0, rated_current_a=0.5, bias_family="power", tolerance=0.2))
    assert isinstance(found.part, Bead)
    assert (found.part.rated_current_a, found.part.bias_family, found.part.rating.tolerance) == (0.5, "power", 0.2)
    assert not any("current" in sentence for sentence in found.assumed)
    assert any("No rated current" in sentence for sentence in bead_from_data_sheet(BeadSheet(test_ohm=600.0)).assumed)


@pytest.mark.parametrize(
    "numbers",
    [
        {"rdc_ohm": 0.3},
        {"test_ohm": 600.0, "peak_ohm": 500.0, "peak_hz": 200e6},
        {"test_ohm": 0.0},
        {"test_ohm": 600.0, "crossing_hz": 300e6, "peak_hz": 200e6},
        {"test_ohm": 600.0, "peak_ohm": 620.0, "crossing_hz": 300e6},
    ],
)
def test_numbers_that_no_bead_has_are_refused(numbers: dict[str, Any]) -> None:
    with pytest.raises(QuantityError, match="accepted"):
        bead_from_data_sheet(BeadSheet(**numbers))


def capacitor(**numbers: Any) -> Capacitor:
    part = capacitor_from_data_sheet(CapacitorSheet(**numbers)).part
    assert isinstance(part, Capacitor)
    return part


def test_self_resonance_gives_the_inductance() -> None:
    part = capacitor(capacitance_f=2.2e-9, dissipation_factor=0.025, self_resonance_hz=37.94e6)
    assert part.esl_h == pytest.approx(8e-9, rel=1e-3)
    z = part.impedance(2.0 * math.pi * SWEEP)
    assert SWEEP[np.argmin(np.abs(z))] == pytest.approx(37.94e6, rel=2e-3)


def test_resistance_at_resonance_comes_out() -> None:
    part = capacitor(capacitance_f=2.2e-9, dissipation_factor=0.025, self_resonance_hz=37.94e6, esr_ohm=0.2)
    assert part.impedance(2.0 * math.pi * np.array([37.94e6]))[0].real == pytest.approx(0.2, rel=1e-6)


def test_what_a_capacitor_lacks_is_said() -> None:
    found = capacitor_from_data_sheet(
        CapacitorSheet(capacitance_f=100e-9, dielectric="X7R", package="0603", rated_voltage_v=50.0)
    )
    part = found.part
    assert isinstance(part, Capacitor)
    assert part.esl_h == pytest.approx(1.25e-9)
    assert part.insulation_resistance_ohm == pytest.approx(5e9)
    assert part.bias_half_voltage_v == pytest.approx(40.0)
    for start in ("The ESL is taken as 1.25 nH", "The loss tan δ is taken as 0.015", "The insulation", "Half of"):
        assert any(sentence.startswith(start) for sentence in found.assumed), start


@pytest.mark.parametrize(
    "numbers", [{"self_resonance_hz": 38e6, "esl_h": 2e-9}, {"dielectric": "XYZ"}, {"package": "0201x"}]
)
def test_a_capacitor_that_contradicts_itself_is_refused(numbers: dict[str, Any]) -> None:
    with pytest.raises(QuantityError, match="accepted"):
        capacitor(capacitance_f=2.2e-9, **numbers)


def test_more_loss_than_resistance_is_said() -> None:
    found = capacitor_from_data_sheet(
        CapacitorSheet(capacitance_f=1e-9, dissipation_factor=0.1, esr_ohm=0.001, self_resonance_hz=50e6)
    )
    assert any("more than the ESR stated" in sentence for sentence in found.assumed)
