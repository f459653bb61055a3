"""Common-mode voltage: harmonics against the reference network, the waveform against its own Fourier sum."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings

from models.case.document import Branch, Candidate, Case, Coupling, Pair, Sweep, Transformer
from models.network.solver import Solver
from models.outcomes.common_mode import CommonMode, common_mode
from models.outcomes.extremes import extremes
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.resistor import Resistor
from models.sources.current import CrossingSignal, ReturnCurrent, Ripple
from models.sources.source import Source
from models.sources.switch_node import SwitchNode
from models.sources.trapezoid import Trapezoid
from models.sources.triangle import Triangle
from tests.laws.strategies import RandomChoose, cases, random_case
from tests.models.network.test_solver import agrees, transfer

BUCK = Trapezoid(frequency_hz=100e3, duty=0.4, rise_s=50e-9, fall_s=20e-9)


def finite(result: CommonMode) -> bool:
    return bool(np.isfinite(result.coefficients).all()) and math.isfinite(result.dc_v)


@pytest.mark.parametrize("seed", range(40))
def test_harmonics_of_every_source(seed: int) -> None:
    """First, middle and last harmonics and the mean against nodal analysis times the wave's coefficients."""
    case = random_case(RandomChoose(5000 + seed), sources=3)
    candidate = case.candidates[1]
    for source in case.sources:
        result = common_mode(Solver(), case, candidate, source)
        wave = source.level() * source.shape.coefficients(len(result.coefficients) - 1)
        for order in {1, 2, len(wave) // 2, len(wave) - 1}:
            omega = 2.0 * math.pi * source.shape.frequency_hz * order
            volts, own = transfer(case, candidate, source, omega)
            found = complex(result.coefficients[order])
            size = abs(wave[order])
            assert agrees(found, None if volts is None else volts * complex(wave[order]), own * size)
        check_mean(result, case, candidate, source)


def check_mean(result: CommonMode, case: Case, candidate: Candidate, source: Source) -> None:
    if isinstance(source, SwitchNode):
        assert result.dc_v == 0.0
        return
    volts, own = transfer(case, candidate, source, 0.0)
    mean = source.level() * source.wave.coefficients(0)[0].real
    assert agrees(result.dc_v, None if volts is None else volts * mean, own * mean)


@given(case=cases(sources=1))
@settings(max_examples=25)
def test_waveform_is_the_fourier_sum(case: Case) -> None:
    result = common_mode(Solver(), case, case.candidates[1], case.sources[0])
    assume(finite(result))
    wave = result.waveform_v
    places = np.linspace(0, wave.size - 1, 37).astype(int)
    turns = np.exp(2j * np.pi * np.outer(places / wave.size, result.orders[1:]))
    direct = result.dc_v + 2.0 * (turns @ result.coefficients[1:]).real
    assert np.abs(wave[places] - direct).max() <= 1e-9 * np.sum(np.abs(result.coefficients)) + 1e-9 * abs(result.dc_v)


@given(case=cases(sources=1))
@settings(max_examples=25)
def test_rms_of_the_lines_is_rms_of_the_waveform(case: Case) -> None:
    result = common_mode(Solver(), case, case.candidates[1], case.sources[0])
    assume(finite(result))
    assert result.total_rms_v == pytest.approx(float(np.sqrt(np.mean(result.waveform_v**2))), rel=1e-9, abs=1e-30)


@pytest.mark.parametrize("seed", range(40))
def test_peak_is_that_of_a_much_finer_waveform(seed: int) -> None:
    case = random_case(RandomChoose(7000 + seed), sources=1)
    result = common_mode(Solver(), case, case.candidates[1], case.sources[0])
    if not finite(result):
        assert result.peak_v == math.inf
        return
    fine = np.fft.irfft(result.coefficients, 128 * len(result.coefficients), norm="forward")
    assert result.peak_v == pytest.approx(np.abs(result.dc_v + fine).max(), rel=2e-3, abs=1e-30)
    assert result.swing_peak_v == pytest.approx(np.abs(fine).max(), rel=2e-3, abs=1e-30)
    assert result.peak_to_peak_v == pytest.approx(fine.max() - fine.min(), rel=2e-3, abs=1e-30)


@pytest.mark.parametrize("shift", np.linspace(0.0, 1.0, 7))
@pytest.mark.parametrize(("samples", "period"), [(8, 4), (40, 4), (1000, 4), (9, 3), (42, 3), (999, 3)])
def test_extremes_of_a_sine_between_its_samples(samples: int, period: int, shift: float) -> None:
    sine = np.sin(2.0 * np.pi * (np.arange(samples) + shift) / period)
    assert extremes(sine) == pytest.approx((-1.0, 1.0), rel=3e-3)


@pytest.mark.parametrize("seed", range(20))
def test_extremes_of_noise_that_rises_to_the_end_of_its_band(seed: int) -> None:
    """The tallest of hundreds of crests stands between samples that many others overtop."""
    random = np.random.default_rng(seed)
    orders = np.arange(1001.0)
    lines = (random.standard_normal(1001) + 1j * random.standard_normal(1001)) * orders ** (seed % 4)
    lines[: 1 + 979 * (seed % 2)] = 0.0
    fine = np.fft.irfft(lines, 128 * orders.size, norm="forward")
    found = extremes(np.fft.irfft(lines, 3 * orders.size, norm="forward"))
    assert found == pytest.approx((fine.min(), fine.max()), rel=2e-3)


def at_pair(source: Source, *parts: Capacitor | Copper | Resistor, stop_hz: float = 1e9) -> CommonMode:
    """Return what a source drives over parts in series between the two regions, a transformer of 40 + 60 pF aside."""
    transformer = Transformer(name="T", between=("a", "b"), interwinding_capacitance_f=100e-12, driven_fraction=0.4)
    hot = isinstance(source, SwitchNode)
    case = Case(
        pair=Pair(a="a", b="b"),
        sweep=Sweep(stop_hz=stop_hz),
        transformers=(transformer,) if hot else (),
        candidates=(Candidate(name="it", branches=(Branch(parts=parts),) if parts else ()),),
        sources=(source,),
    )
    return common_mode(Solver(), case, case.candidates[0], source)


@pytest.mark.parametrize(
    ("bridge_f", "gap_v"), [(None, 160.0), (470e-12, 28.07), (1e-9, 14.55), (2.2e-9, 6.957), (1.5e-9, 10.0)]
)
def test_switch_node_divides_over_the_capacitances(bridge_f: float | None, gap_v: float) -> None:
    """physics, 4.2: V_gap = V_sw·C_hot/(C_hot + C_cold + C_Y), peak to peak of a node that swings 400 V."""
    source = SwitchNode(name="s", through="T", amplitude_v=400.0, wave=BUCK)
    result = at_pair(source, *(() if bridge_f is None else (Capacitor(capacitance_f=bridge_f),)))
    assert result.dc_v == 0.0
    share = result.coefficients[1:] / (400.0 * BUCK.coefficients(10_000)[1:])
    assert share * 400.0 == pytest.approx(np.full(10_000, gap_v), rel=4e-4)
    assert np.ptp(share.real) < 1e-12
    assert result.peak_to_peak_v == pytest.approx(gap_v, rel=0.01)


def test_first_lines_of_the_worked_trapezoid() -> None:
    """physics, 5: c1 = 35.61 − j115.7 V, 164.7 dBµV; over a resistor of 1 Ω a current of 400 A shows them as volts."""
    result = at_pair(
        ReturnCurrent(name="s", between=("a", "b"), amplitude_a=400.0, wave=BUCK), Resistor(resistance_ohm=1.0)
    )
    assert result.coefficients[1] == pytest.approx(35.61 - 115.7j, abs=0.05)
    assert 20 * math.log10(result.v_rms[1] / 1e-6) == pytest.approx(164.7, abs=0.05)
    assert 20 * math.log10(result.v_rms[300] / 1e-6) == pytest.approx(106.7, abs=0.05)
    assert result.dc_v == pytest.approx(160.0)
    assert result.total_rms_v == pytest.approx(math.sqrt(400.0**2 * (0.4 - 7e-3 / 6)), rel=1e-4)


def test_a_current_the_other_way_turns_the_sign() -> None:
    there = ReturnCurrent(name="s", between=("a", "b"), amplitude_a=0.5, wave=BUCK)
    back = ReturnCurrent(name="s", between=("b", "a"), amplitude_a=0.5, wave=BUCK)
    part = Resistor(resistance_ohm=2.0)
    assert at_pair(there, part).dc_v == pytest.approx(0.4)
    assert at_pair(back, part).dc_v == pytest.approx(-0.4)


def test_edge_of_a_crossing_signal_over_an_inductance() -> None:
    """physics, 11: 3.3 V into 50 Ω in 1 ns over 10 nH gives 0.66 V; two lines give twice that."""
    wave = Trapezoid(frequency_hz=10e6, duty=0.5, rise_s=1e-9, fall_s=1e-9)
    for count in (1, 2):
        source = CrossingSignal(name="s", between=("a", "b"), swing_v=3.3, impedance_ohm=50.0, wave=wave, count=count)
        result = at_pair(source, Copper(inductance_h=10e-9), stop_hz=1e12)
        plateau = result.waveform_v[int(0.5e-9 * 10e6 * result.waveform_v.size)]
        assert plateau == pytest.approx(0.66 * count, rel=1e-3)
        assert result.dc_v == 0.0


def test_one_milliampere_through_five_nanohenry() -> None:
    """physics, 11: 3.142 mV at 100 MHz."""
    wave = Trapezoid(frequency_hz=100e6, duty=0.5, rise_s=1e-9, fall_s=1e-9)
    source = ReturnCurrent(name="s", between=("a", "b"), amplitude_a=1e-3, wave=wave)
    result = at_pair(source, Copper(inductance_h=5e-9))
    gain = abs(result.coefficients[1] / (1e-3 * wave.coefficients(1)[1]))
    assert 1e-3 * gain == pytest.approx(3.142e-3, rel=2e-4)


def test_ripple_through_a_bridge() -> None:
    """physics, 11: 0.5 A peak to peak at 100 kHz through 5 mΩ and 5 nH, a fundamental of 1.197 mV peak."""
    ripple = Ripple(name="s", between=("a", "b"), amplitude_a=0.5, wave=Triangle(frequency_hz=100e3))
    result = at_pair(ripple, Copper(resistance_ohm=5e-3, inductance_h=5e-9))
    assert 2.0 * abs(result.coefficients[1]) == pytest.approx(1.197e-3, rel=5e-4)


def test_a_direct_current_without_a_way_back_has_no_bound() -> None:
    source = ReturnCurrent(name="s", between=("a", "b"), amplitude_a=0.5, wave=BUCK)
    result = at_pair(source, Capacitor(capacitance_f=1e-6))
    assert result.dc_v == math.inf
    assert result.peak_v == math.inf
    assert result.total_rms_v == math.inf
    assert math.isfinite(result.swing_peak_v)
    assert math.isfinite(result.peak_to_peak_v)
    assert np.isfinite(result.waveform_v).all()


def test_a_current_with_no_way_at_all_has_no_bound_anywhere() -> None:
    stray = Coupling(name="k", between=("a", "c"), parts=(Capacitor(capacitance_f=1e-12),))
    source = ReturnCurrent(name="s", between=("a", "b"), amplitude_a=0.5, wave=BUCK)
    case = Case(pair=Pair(a="a", b="b", others=("c",)), couplings=(stray,), candidates=(Candidate(name="none"),))
    result = common_mode(Solver(), case, case.candidates[0], source)
    for value in (result.peak_v, result.swing_peak_v, result.peak_to_peak_v, result.total_rms_v, result.v_rms[1]):
        assert value == math.inf


def test_a_source_slower_than_the_sweep_has_only_its_mean() -> None:
    source = ReturnCurrent(name="s", between=("a", "b"), amplitude_a=0.5, wave=BUCK)
    result = at_pair(source, Resistor(resistance_ohm=1.0), stop_hz=50e3)
    assert result.coefficients.size == 1
    assert result.peak_v == pytest.approx(0.2)
    assert result.total_rms_v == pytest.approx(0.2)
    assert result.peak_to_peak_v == 0.0
