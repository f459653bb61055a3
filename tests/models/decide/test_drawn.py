from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from models.decide.drawn import scaled_dc_ohm, scaled_impedance
from models.decide.sequence import halton
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor, SlowBranch
from models.parts.choke import CommonModeChoke
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.plane_overlap import PlaneOverlap
from models.parts.registry import PARTS
from models.parts.resistor import Resistor
from models.parts.via import Via

_CELLS = (Cell(resistance_ohm=700.0, inductance_h=1.39e-6, capacitance_f=0.455e-12),)
_CAPACITOR = Capacitor(
    capacitance_f=2.2e-9,
    esr_ohm=0.2,
    esl_h=9e-9,
    dissipation_factor=0.025,
    insulation_resistance_ohm=1e9,
    lead_length_m=3e-3,
    metal_resistance_ohm=0.03,
    metal_corner_hz=1e7,
    count=2,
    branches=(SlowBranch(resistance_ohm=1e5, capacitance_f=1e-10),),
)
MANY: tuple[Part, ...] = (
    _CAPACITOR,
    Capacitor(capacitance_f=1e-9),
    Resistor(resistance_ohm=1e6, inductance_h=2e-9, capacitance_f=1e-13),
    Resistor(resistance_ohm=10.0),
    Inductor(inductance_h=1e-3, rdc_ohm=1.0, capacitance_f=5e-12, parallel_resistance_ohm=2e5),
    Bead(rdc_ohm=0.3, cells=_CELLS, rated_current_a=1.0, bias_current_a=0.3),
    CommonModeChoke(rdc_ohm=0.1, cells=_CELLS),
    Copper(resistance_ohm=3e-3, inductance_h=6e-9),
    Copper(length_m=5e-3, width_m=2e-3, thickness_m=35e-6),
    Via(length_m=1.6e-3, diameter_m=3e-4),
    PlaneOverlap(width_m=0.02, length_m=0.01, separation_m=4e-4),
)
OMEGA = 2.0 * math.pi * np.geomspace(50.0, 1e9, 23)
FACTORS = np.array([0.7, 0.9, 0.98, 1.0, 1.13, 1.3])


@pytest.mark.parametrize("part", MANY, ids=lambda part: part.kind)
def test_all_draws_at_once_are_the_draws_one_by_one(part: Part) -> None:
    together = scaled_impedance(part, OMEGA, FACTORS)
    alone = np.array([part.scaled(factor).impedance(OMEGA) for factor in FACTORS])
    assert together == pytest.approx(alone, rel=1e-8)


def test_every_kind_of_part_is_among_them() -> None:
    assert {part.kind for part in MANY} >= set(PARTS) - {"plane-gap", "measured"}


def test_direct_current_resistance_is_drawn_as_well() -> None:
    part = Resistor(resistance_ohm=1e6)
    assert scaled_dc_ohm(part, FACTORS) == pytest.approx(1e6 * FACTORS)
    assert scaled_dc_ohm(evolve(_CAPACITOR), FACTORS) == pytest.approx(_CAPACITOR.dc_ohm())


def test_the_sequence_is_repeatable_and_even() -> None:
    points = halton(6, 1000, seed=3)
    assert np.array_equal(points, halton(6, 1000, seed=3))
    assert not np.array_equal(points, halton(6, 1000, seed=4))
    assert points.min() >= 0.0
    assert points.max() < 1.0
    # chance would leave the mean off by 0.009 a dimension
    assert np.abs(points.mean(axis=0) - 0.5).max() < 2e-3
    corner = np.mean((points[:, :2] < 0.25).all(axis=1))
    assert corner == pytest.approx(1.0 / 16.0, abs=4e-3)


def test_no_dimension_no_harm() -> None:
    assert halton(0, 5, seed=1).shape == (5, 0)
