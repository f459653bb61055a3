"""Inverse transforms against closed forms, and parts off the frequency axis against themselves on it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from models.arrays import Complex, Real
from models.case.document import Cable
from models.fitting.data import make_measurement
from models.network.cable import common_mode_line
from models.outcomes.laplace import TimeBase, euler_nodes, euler_sum
from models.outcomes.laplace_parts import continued, laplace_ohm
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor, SlowBranch
from models.parts.choke import CommonModeChoke
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.measured import Measured
from models.parts.measured_file import curve_of
from models.parts.part import Part
from models.parts.plane_gap import PlaneGap
from models.parts.plane_overlap import PlaneOverlap
from models.parts.resistor import Resistor
from models.parts.via import Via

BASE = TimeBase(step_s=0.1e-9, loss_omega=2e8)
SLOW_S, FAST_S = 50e-9, 1e-9
LOSSLESS: tuple[Part, ...] = (
    Resistor(resistance_ohm=330.0, inductance_h=2e-9, capacitance_f=0.2e-12),
    Inductor(inductance_h=1e-6, rdc_ohm=0.1, capacitance_f=2e-12, parallel_resistance_ohm=5e3),
    Bead(
        rdc_ohm=0.3,
        cells=(Cell(resistance_ohm=700.0, inductance_h=1.39e-6, capacitance_f=0.455e-12),),
        rated_current_a=1.0,
        bias_current_a=0.3,
    ),
    CommonModeChoke(cells=(Cell(resistance_ohm=4e3, inductance_h=1e-3, capacitance_f=8e-12),)),
    Copper(resistance_ohm=1e-3, inductance_h=5e-9),
    Capacitor(
        capacitance_f=2.2e-9,
        esr_ohm=0.2,
        esl_h=9e-9,
        insulation_resistance_ohm=1e6,
        count=2,
        branches=(SlowBranch(resistance_ohm=1e3, capacitance_f=1e-10),),
        bias_voltage_v=100.0,
        bias_half_voltage_v=300.0,
    ),
    PlaneGap(gap_m=1e-3, length_m=0.1, depth_m=0.05, dissipation_factor=0.0, feed=0.3),
)
FOLLOWED: tuple[Part, ...] = (
    Copper(length_m=3e-3, width_m=5e-3, thickness_m=35e-6),
    Via(length_m=1.6e-3, diameter_m=0.3e-3),
    PlaneOverlap(width_m=20e-3, length_m=10e-3, separation_m=1e-4, dissipation_factor=0.0),
)


def drive(t_s: Real) -> Real:
    """Two exponentials, 0 at the start."""
    return np.asarray(np.exp(-t_s / SLOW_S) - np.exp(-t_s / FAST_S), np.float64)


def answer(poles: tuple[complex, ...], residues: tuple[complex, ...], t_s: Real) -> Real:
    """Return Σ over both exponentials and all poles of the closed convolution."""
    total: NDArray[np.complex128] = np.zeros(t_s.shape, np.complex128)
    for sign, tau in ((1.0, SLOW_S), (-1.0, FAST_S)):
        for pole, residue in zip(poles, residues, strict=True):
            total += sign * residue * (np.exp(pole * t_s) - np.exp(-t_s / tau)) / (pole + 1.0 / tau)
    return np.asarray(total.real, np.float64)


def solved(response: Complex) -> Real:
    return BASE.inverse(response * BASE.transform(drive(BASE.record_s)))


def test_a_capacitor_keeps_its_charge() -> None:
    wanted = answer((0.0,), (1.0,), BASE.t_s)
    assert np.abs(solved(1.0 / BASE.s) - wanted).max() < 5e-4 * wanted.max()


@pytest.mark.parametrize("tau_s", [3e-9, 100e-9, 10e-6])
def test_a_resistor_and_a_capacitor(tau_s: float) -> None:
    wanted = answer((-1.0 / tau_s,), (1.0 / tau_s,), BASE.t_s)
    assert np.abs(solved(1.0 / (1.0 + BASE.s * tau_s)) - wanted).max() < 3e-3 * wanted.max()


@pytest.mark.parametrize("quality", [0.8, 10.0, 5000.0])
def test_a_resonance_rings_as_long_as_it_should(quality: float) -> None:
    omega = 2.0 * math.pi * 60e6
    decay = 0.5 * omega / quality
    ringing = math.sqrt(omega**2 - decay**2)
    pole = complex(-decay, ringing)
    residue = omega**2 / (2j * ringing)
    wanted = answer((pole, pole.conjugate()), (residue, residue.conjugate()), BASE.t_s)
    found = solved(omega**2 / (BASE.s**2 + omega * BASE.s / quality + omega**2))
    assert np.abs(found - wanted).max() < 1e-2 * np.abs(wanted).max()


def test_nothing_comes_before_a_delay() -> None:
    delay_s = 80e-9
    found = solved(np.exp(-BASE.s * delay_s))
    before = BASE.t_s < delay_s - 1e-9
    assert np.abs(found[before]).max() < 2e-3
    after = BASE.t_s > delay_s + 2e-9
    assert np.abs(found - drive(BASE.t_s - delay_s))[after].max() < 2e-3


def test_eulers_sum_of_an_exponential_and_of_a_step() -> None:
    t_s = np.geomspace(1e-7, 1e3, 60)
    nodes = euler_nodes(t_s)
    assert euler_sum(1.0 / nodes, t_s) == pytest.approx(np.ones(60), rel=1e-6)
    assert euler_sum(1.0 / (nodes + 1.0), t_s) == pytest.approx(np.exp(-t_s), abs=2e-6)


def on_axis(part: Part, omega: float) -> complex:
    """Return what the part's continuation gives at s → jω, by a time base that is hardly damped."""
    base = TimeBase(step_s=math.pi / omega, loss_omega=2e8, count=2**17)
    return complex(laplace_ohm(part, base)[-1])


@pytest.mark.parametrize("part", LOSSLESS, ids=lambda part: part.kind)
@pytest.mark.parametrize("omega", [1e6, 3e7, 2e8, 4e9])
def test_a_lumped_part_is_itself_on_the_axis(part: Part, omega: float) -> None:
    wanted = complex(part.impedance(np.array([omega]))[0])
    assert abs(on_axis(part, omega) - wanted) < 1e-2 * abs(wanted)


@pytest.mark.parametrize("part", FOLLOWED, ids=lambda part: part.kind)
@pytest.mark.parametrize("omega", [1e6, 3e7, 6e8, 4e9])
def test_other_kinds_are_followed(part: Part, omega: float) -> None:
    wanted = complex(part.impedance(np.array([omega]))[0])
    assert abs(on_axis(part, omega) - wanted) < 2e-2 * abs(wanted)


def test_a_constant_loss_counts_where_the_event_has_its_middle() -> None:
    part = Capacitor(capacitance_f=1e-9, dissipation_factor=0.02)
    omega = BASE.loss_omega
    z = laplace_ohm(part, BASE)
    middle = int(np.abs(BASE.s.imag - omega).argmin())
    assert (z[middle] - 1.0 / (BASE.s[middle] * 1e-9)).real == pytest.approx(0.02 / (omega * 1e-9))


@pytest.mark.parametrize("part", [*LOSSLESS, *FOLLOWED], ids=lambda part: part.kind)
def test_no_part_gives_energy(part: Part) -> None:
    assert (laplace_ohm(part, BASE).real >= 0.0).all()


def test_a_measured_part_rings_as_what_was_measured() -> None:
    """A coil with its own capacitance, 112 MHz, Q 20: relaxations alone would not have it resonate."""
    coil = Inductor(inductance_h=1e-6, rdc_ohm=0.1, capacitance_f=2e-12, parallel_resistance_ohm=14e3)
    f_hz: Real = np.geomspace(1e5, 1e9, 401)
    curve = curve_of(make_measurement(f_hz, coil.impedance(2.0 * math.pi * f_hz), source="made up"))
    part = Measured(file="made-up.s1p", curve=curve)
    assert laplace_ohm(part, BASE) == pytest.approx(laplace_ohm(coil, BASE), rel=2e-2)
    relaxed = continued(part.impedance, BASE)
    assert np.abs(relaxed / laplace_ohm(coil, BASE) - 1.0).max() > 0.3
    assert (laplace_ohm(part, BASE).real >= 0.0).all()


@pytest.mark.parametrize("far_end", ["open", "earthed", "lisn", 150.0])
def test_a_cable_is_close_to_the_line_over_frequency(far_end: str | float) -> None:
    line = common_mode_line(
        Cable(name="lead", region="p", length_m=1.5, diameter_m=6e-3, height_m=0.8, far_end=far_end)
    )
    z = laplace_ohm(line, BASE)
    low = (BASE.s.imag > 1e8) & (BASE.s.imag < 2e8)
    wanted = line.impedance(BASE.s.imag[low])
    assert np.abs(z[low] / wanted - 1.0).max() < 0.35
    assert (z.real > 0.0).all()
