"""What holds for every part, whatever its kind."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.codec import Place
from models.declare import Kinds, keys_of, write_object
from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.registry import PARTS, part_kinds
from models.parts.resistor import Resistor
from tests.laws.strategies import KINDS, OMEGA, part_from, parts, parts_of, tables_of

LOW = np.array([1e-15])
"""Slow enough that the largest insulation times the largest capacitance has long settled."""
pytestmark = pytest.mark.filterwarnings("error")


def scaled_table(kind: type, table: Mapping[str, Any], factors: Mapping[str, float]) -> dict[str, Any]:
    """Return a part's table with the quantities of some units multiplied."""
    keys = keys_of(kind)
    result: dict[str, Any] = {}
    for name, entry in table.items():
        if isinstance(entry, list):
            item = keys[name].codec.item.of  # type: ignore[attr-defined]
            result[name] = [scaled_table(item, each, factors) for each in entry]
        else:
            result[name] = entry * factors.get(keys[name].unit or "", 1.0) if isinstance(entry, float) else entry
    return result


def has_geometry(kind: str, table: Mapping[str, Any]) -> bool:
    """Return whether a part is given by lengths, whose impedance does not scale element by element."""
    return any(keys_of(PARTS[kind])[name].unit == "m" for name in table)


def same(one: Any, other: Any, tolerance: float = 1e-12) -> bool:
    return bool(np.all((one == other) | (np.abs(one - other) <= tolerance * np.abs(other))))


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
@settings(max_examples=25)
def test_no_part_makes_power(kind: str, data: st.DataObject) -> None:
    z = data.draw(parts_of(kind)).impedance(OMEGA)
    assert z.shape == OMEGA.shape
    assert z.dtype == np.complex128
    assert np.all(z.real >= -1e-12 * np.abs(z))


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
@settings(max_examples=25)
def test_dc_is_the_limit_of_low_frequency(kind: str, data: st.DataObject) -> None:
    part = data.draw(parts_of(kind))
    dc_ohm, low = part.dc_ohm(), complex(part.impedance(LOW)[0])
    if math.isinf(dc_ohm):
        assert abs(low) > 1e15
    else:
        assert low.real == pytest.approx(dc_ohm, rel=1e-9, abs=1e-12)
        assert abs(low.imag) <= 1e-6 * dc_ohm + 1e-12


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data(), factor=st.sampled_from((0.125, 3.0, 1000.0)))
@settings(max_examples=25)
def test_scaling_every_element_scales_the_impedance(kind: str, data: st.DataObject, factor: float) -> None:
    table = data.draw(tables_of(kind))
    if has_geometry(kind, table):
        return
    larger = part_from(kind, scaled_table(PARTS[kind], table, {"ohm": factor, "H": factor, "F": 1.0 / factor}))
    assert same(larger.impedance(OMEGA), factor * part_from(kind, table).impedance(OMEGA), 1e-9)
    assert larger.dc_ohm() == pytest.approx(factor * part_from(kind, table).dc_ohm(), rel=1e-12)


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data(), factor=st.sampled_from((0.125, 3.0, 1000.0)))
@settings(max_examples=25)
def test_slower_elements_at_a_slower_frequency_are_the_same(kind: str, data: st.DataObject, factor: float) -> None:
    table = data.draw(tables_of(kind))
    if has_geometry(kind, table):
        return
    slower = part_from(kind, scaled_table(PARTS[kind], table, {"H": factor, "F": factor, "Hz": 1.0 / factor}))
    assert same(slower.impedance(OMEGA / factor), part_from(kind, table).impedance(OMEGA), 1e-9)


@given(part=parts())
def test_a_part_that_blocks_dc_passes_none_but_through_its_insulation(part: Part) -> None:
    if part.blocks_dc():
        assert part.dc_ohm() > 1e5
    else:
        assert math.isfinite(part.dc_ohm())


@given(part=parts())
def test_a_tolerance_of_nothing_changes_nothing(part: Part) -> None:
    assert same(part.scaled(1.0).impedance(OMEGA), part.impedance(OMEGA))
    assert part.scaled(1.0).rating == part.rating


@given(part=parts(ratings=True))
def test_every_part_survives_being_written_and_read(part: Part) -> None:
    codec = Kinds(registry=part_kinds)
    problems: list[Any] = []
    assert codec.read(codec.write(part), Place((), problems)) == part
    assert not problems


@given(part=parts())
def test_equal_parts_are_one_key(part: Part) -> None:
    twin = part_from(part.kind, write_object(part))
    assert twin == part
    assert hash(twin) == hash(part)


def test_a_capacitor_is_open_at_dc_and_its_leads_at_the_top() -> None:
    part = Capacitor(capacitance_f=1e-9, esr_ohm=0.1, esl_h=8e-9, dissipation_factor=0.02)
    assert part.dc_ohm() == math.inf
    assert same(part.impedance(np.array([1e15])), np.array([0.1 + 8e6j]), 1e-6)


def test_a_bead_is_its_resistance_at_both_ends() -> None:
    cells = Bead(rdc_ohm=0.3, cells=part_from("bead", {"cells": [_CELL, _CELL]}).cells)  # type: ignore[attr-defined]
    assert cells.dc_ohm() == 0.3
    assert complex(cells.impedance(np.array([1.0]))[0]) == pytest.approx(0.3, abs=1e-5)
    assert complex(cells.impedance(np.array([1e20]))[0]) == pytest.approx(0.3, abs=1e-6)


_CELL = {"resistance": 700.0, "inductance": 1.39e-6, "capacitance": 0.455e-12}


def test_an_inductor_is_its_capacitance_at_the_top() -> None:
    part = Inductor(inductance_h=10e-6, rdc_ohm=0.05, capacitance_f=5e-12, parallel_resistance_ohm=5e3)
    assert part.dc_ohm() == pytest.approx(0.05 * 5e3 / 5000.05)
    assert same(part.impedance(np.array([1e14])), np.array([1.0 / 500j]), 1e-3)


def test_a_resistor_is_its_capacitance_at_the_top() -> None:
    part = Resistor(resistance_ohm=1e6, inductance_h=1e-9, capacitance_f=1e-13)
    assert same(part.impedance(np.array([1e15])), np.array([1.0 / 100j]), 1e-3)


def test_copper_with_skin_effect_never_falls_below_its_dc_resistance() -> None:
    part = Copper(length_m=3e-3, width_m=5e-3, thickness_m=35e-6)
    assert part.dc_ohm() == pytest.approx(0.2955e-3, rel=2e-4)
    resistance = part.impedance(OMEGA).real
    assert np.all(resistance >= part.dc_ohm())
    assert np.all(np.diff(resistance) >= 0.0)


def test_resistance_of_a_self_resonance_is_what_remains() -> None:
    omega = np.array([1.0 / math.sqrt(2.2e-9 * 8e-9)])
    z = Capacitor(capacitance_f=2.2e-9, esl_h=8e-9, esr_ohm=0.2).impedance(omega)
    assert omega[0] / (2 * math.pi) == pytest.approx(37.94e6, rel=1e-4)
    assert abs(z[0]) == pytest.approx(0.2, rel=1e-9)
