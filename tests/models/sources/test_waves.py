from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from models.arrays import Complex, Real
from models.errors import QuantityError
from models.sources.current import CrossingSignal, Ripple
from models.sources.mains_offset import MainsOffset
from models.sources.sequence import BITS, data_coefficients, maximal_sequence
from models.sources.sine import Sine
from models.sources.source import mean_of
from models.sources.switch_node import SwitchNode
from models.sources.trapezoid import Trapezoid
from models.sources.triangle import Triangle, triangle_coefficients

EDGE = Trapezoid(frequency_hz=100e3, duty=0.4, rise_s=50e-9, fall_s=20e-9)


def fourier(wave: Real, count: int) -> Complex:
    found: Complex = np.fft.rfft(wave)[: count + 1] / wave.size
    return found


@pytest.mark.parametrize("duty", [0.5, 0.3, 0.03])
def test_triangle_agrees_with_the_fft_of_the_sampled_wave(duty: float) -> None:
    t = np.arange(100_000) / 100_000
    wave = np.where(t < duty, t / duty, (1.0 - t) / (1.0 - duty)) - 0.5
    found = triangle_coefficients(np.arange(60.0), duty)
    np.testing.assert_allclose(found, fourier(wave, 59), atol=2e-9)


def test_ripple_of_half_an_ampere_at_100_khz() -> None:
    """Physics: 0.5 A peak to peak, 100 kHz: the fundamental is 0.2026 A peak, and 4ΔI/(π²n²) at odd n."""
    ripple = Ripple(name="r", between=("a", "b"), amplitude_a=0.5, wave=Triangle(frequency_hz=100e3))
    peaks = 2.0 * ripple.level() * np.abs(ripple.shape.coefficients(5))
    assert peaks[1] == pytest.approx(0.2026, abs=5e-5)
    np.testing.assert_allclose(
        peaks[1:], [2.0 / math.pi**2, 0, 2.0 / (9 * math.pi**2), 0, 0.08 / math.pi**2], atol=1e-16
    )


def test_the_mean_of_each_kind() -> None:
    pair = ("a", "b")
    ripple = Ripple(name="r", between=pair, amplitude_a=0.5, mean_a=2.0, wave=Triangle(frequency_hz=1e5, duty=0.3))
    clock = CrossingSignal(name="c", between=pair, swing_v=5.0, impedance_ohm=50.0, wave=EDGE, count=3)
    assert mean_of(ripple) == pytest.approx(2.0)
    assert mean_of(clock) == pytest.approx(3 * 0.1 * 0.4)
    assert mean_of(MainsOffset(name="o", between=pair, voltage_v=1.0, wave=Sine())) == 0.0


def test_the_sequence_is_flat_but_for_its_mean() -> None:
    power = np.abs(np.fft.fft(maximal_sequence())) ** 2
    assert power[0] == pytest.approx(16.0**2)
    np.testing.assert_allclose(power[1:], (BITS + 1) / 4.0)


def test_data_agrees_with_the_fft_of_the_sampled_wave() -> None:
    rate, rise, fall, samples = 1e6, 80e-9, 200e-9, BITS * 4000
    bits = maximal_sequence()
    step = bits - np.roll(bits, 1)
    t = np.arange(samples) * BITS / rate / samples
    wave = np.full(samples, bits[-1])
    for place, height in enumerate(step):
        wave += height * np.clip((t - place / rate) / (rise if height > 0 else fall), 0.0, 1.0)
    found = data_coefficients(np.arange(200.0), rate, rise, fall)
    np.testing.assert_allclose(found, fourier(wave, 199), atol=1e-7)


def test_data_has_the_density_of_random_data() -> None:
    """Random data of 1 V: one-sided density A²T_b/2·sinc²(fT_b) beside the mean, so ten lines hold that power."""
    data = data_coefficients(np.arange(1.0, 11.0), 10e6, 0.0, 0.0)
    f = np.arange(1, 11) * 10e6 / BITS
    expected = np.sum(0.5 * 1e-7 * np.sinc(f * 1e-7) ** 2) * 10e6 / BITS
    assert np.sum(2.0 * np.abs(data) ** 2) == pytest.approx(expected * 32 / 31, rel=1e-9)


def test_random_data_wants_a_duty_of_one_half() -> None:
    with pytest.raises(QuantityError, match="ones and zeros alike"):
        CrossingSignal(name="d", between=("a", "b"), swing_v=1.0, impedance_ohm=50.0, wave=EDGE, pattern="random")


def rung(**ringing: Any) -> SwitchNode:
    return SwitchNode(name="s", through="T1", amplitude_v=400.0, wave=EDGE, **ringing)


def test_ringing_agrees_with_the_fft_of_the_sampled_wave() -> None:
    """80 V at 30 MHz with Q = 8 after both edges of the trapezoid of physics §5."""
    node = rung(ringing_amplitude_v=80.0, ringing_frequency_hz=30e6, ringing_q=8.0)
    t = np.arange(1_000_000) * 10e-6 / 1_000_000

    def ring(after_s: float) -> Real:
        late = np.mod(t - after_s, 10e-6)
        return np.exp(-2.0 * math.pi * 30e6 / 16.0 * late) * np.sin(2.0 * math.pi * 30e6 * late)

    start_of_fall = 25e-9 + 4e-6 - 10e-9
    wave = 400.0 * (np.clip(t / 50e-9, 0.0, 1.0) - np.clip((t - start_of_fall) / 20e-9, 0.0, 1.0))
    wave += 80.0 * (ring(50e-9) - ring(start_of_fall + 20e-9))
    found = node.level() * node.shape.coefficients(400)
    np.testing.assert_allclose(found, fourier(wave, 400), atol=2e-4)
    assert abs(found[300] - 400.0 * EDGE.coefficients(300)[300]) > 0.1


def test_half_a_ringing_is_refused() -> None:
    with pytest.raises(QuantityError, match="together"):
        rung(ringing_amplitude_v=80.0)


def test_mains_offset_is_one_line_of_its_rms() -> None:
    sine = Sine()
    assert sine.harmonic_count(1e9) == 1
    assert sine.harmonic_count(40.0) == 0
    assert math.sqrt(2.0) * abs(sine.coefficients(1)[1]) == pytest.approx(1.0)
