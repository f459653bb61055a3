"""The trapezoid's coefficients against integration, the FFT of the sampled wave, Parseval and the wave itself."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.arrays import Complex, Real
from models.errors import QuantityError
from models.sources.harmonics import MOST_HARMONICS
from models.sources.trapezoid import Trapezoid
from tests.laws.strategies import DrawChoose, random_wave
from tests.reference.envelope import trapezoid_envelope

BUCK = Trapezoid(frequency_hz=100e3, duty=0.4, rise_s=50e-9, fall_s=20e-9)


@st.composite
def waves(draw: st.DrawFn) -> Trapezoid:
    return random_wave(DrawChoose(draw))


def corners(wave: Trapezoid) -> tuple[Real, Real]:
    """Return time in periods and height at the corners, from the start of the rise to that of the next."""
    rise, fall = wave.rise_s * wave.frequency_hz, wave.fall_s * wave.frequency_hz
    down = 0.5 * rise + wave.duty - 0.5 * fall
    return np.array([0.0, rise, down, down + fall, 1.0]), np.array([0.0, 1.0, 1.0, 0.0, 0.0])


def integrated(wave: Trapezoid, orders: Real) -> Complex:
    """Return ∫ v(t)·exp(−j2πnt) dt over a period, edge by edge, by Gauss-Legendre quadrature."""
    nodes, weights = np.polynomial.legendre.leggauss(120)
    total = np.zeros(orders.shape, np.complex128)
    time, height = corners(wave)
    for start, end, low, high in zip(time[:-1], time[1:], height[:-1], height[1:], strict=True):
        t = start + 0.5 * (nodes + 1.0) * (end - start)
        v = low + 0.5 * (nodes + 1.0) * (high - low)
        total += 0.5 * (end - start) * np.exp(-2j * np.pi * orders[:, np.newaxis] * t) @ (weights * v)
    return total


@given(wave=waves())
def test_coefficients_are_the_integral(wave: Trapezoid) -> None:
    orders = np.arange(31, dtype=np.float64)
    assert np.abs(wave.coefficients(30) - integrated(wave, orders)).max() < 1e-13


def sampled(wave: Trapezoid, count: int) -> Real:
    time, height = corners(wave)
    return np.interp(np.arange(count) / count, time, height)


def test_coefficients_are_the_transform_of_the_sampled_wave() -> None:
    found = BUCK.coefficients(300)
    transform = np.fft.rfft(sampled(BUCK, 1_000_000), norm="forward")[:301]
    assert np.abs(found - transform).max() < 1e-8
    assert 800.0 * abs(found[1]) == pytest.approx(242.2, abs=0.05)
    assert 400.0 * abs(found[300]) == pytest.approx(0.1521, abs=5e-5)


@given(wave=waves())
def test_power_of_the_lines_is_power_of_the_wave(wave: Trapezoid) -> None:
    """Parseval; a straight edge takes up a third of what its time would at full height."""
    c = wave.coefficients(50_000)
    lines = abs(c[0]) ** 2 + 2.0 * float(np.sum(np.abs(c[1:]) ** 2))
    whole = wave.duty - (wave.rise_s + wave.fall_s) * wave.frequency_hz / 6.0
    assert lines == pytest.approx(whole, abs=6e-6)
    assert lines <= whole + 1e-12


def test_lines_add_up_to_the_wave() -> None:
    c = BUCK.coefficients(20_000)
    orders = np.arange(1, c.size)
    time, height = np.array([0.0025, 0.2, 0.4025, 0.7]), np.array([0.5, 1.0, 0.5, 0.0])
    total = c[0].real + 2.0 * (np.exp(2j * np.pi * time[:, np.newaxis] * orders) @ c[1:]).real
    assert np.abs(total - height).max() < 1e-3


def test_a_wave_turned_upside_down_keeps_its_lines() -> None:
    turned = Trapezoid(frequency_hz=100e3, duty=0.6, rise_s=20e-9, fall_s=50e-9)
    assert np.abs(BUCK.coefficients(500)[1:]) == pytest.approx(
        np.abs(turned.coefficients(500)[1:]), rel=1e-9, abs=1e-15
    )


def test_high_orders_keep_their_digits() -> None:
    """The phase of the four-millionth line is right to nine digits: orders are folded into one turn first."""
    wave = Trapezoid(frequency_hz=1e3, duty=0.25, rise_s=0.0, fall_s=0.0)
    c = wave.coefficients(MOST_HARMONICS)
    assert c[-1] == pytest.approx(0.0, abs=1e-15)
    assert c[-2] == pytest.approx(integrated_square(MOST_HARMONICS - 1), rel=1e-9)


def integrated_square(order: int) -> complex:
    quarter_turns = order % 4
    return (1.0 - (-1j) ** quarter_turns) / (2j * np.pi * order)


@pytest.mark.parametrize(
    ("duty", "rise_s", "fall_s"),
    [(1.0, 0.0, 0.0), (0.5, 6e-6, 4.1e-6), (0.1, 1e-6, 1.1e-6), (0.9, 1.1e-6, 1e-6)],
)
def test_edges_that_do_not_fit_are_refused(duty: float, rise_s: float, fall_s: float) -> None:
    with pytest.raises(QuantityError, match="accepted"):
        Trapezoid(frequency_hz=100e3, duty=duty, rise_s=rise_s, fall_s=fall_s)


def test_harmonics_end_at_the_end_of_the_sweep() -> None:
    assert BUCK.harmonic_count(1e9) == 10_000
    assert BUCK.harmonic_count(99e3) == 0
    assert Trapezoid(frequency_hz=0.3, duty=0.5, rise_s=0.0, fall_s=0.0).harmonic_count(0.9) == 3
    with pytest.raises(QuantityError, match="harmonics"):
        Trapezoid(frequency_hz=100.0, duty=0.5, rise_s=0.0, fall_s=0.0).harmonic_count(1e9)


def test_no_harmonic_of_equal_edges_exceeds_the_envelope() -> None:
    wave = Trapezoid(frequency_hz=100e3, duty=0.37, rise_s=30e-9, fall_s=30e-9)
    peaks = 2.0 * np.abs(wave.coefficients(3000)[1:])
    bound = trapezoid_envelope(100e3 * np.arange(1.0, 3001.0), 1.0, 10e-6, 3.7e-6, 30e-9)
    assert np.all(peaks <= bound * (1.0 + 1e-9))
    assert np.max(peaks / bound) > 0.98
