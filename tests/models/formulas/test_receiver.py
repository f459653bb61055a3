from __future__ import annotations

import numpy as np
import pytest

from models.arrays import Real
from models.formulas import receiver
from models.formulas.receiver import BANDS, Band, QuasiPeak
from tests.reference.detector import impulse_envelope, quasi_peak_reading


def pulses(rate_hz: float, band: Band, count: int) -> tuple[Real, float]:
    step = 1.0 / rate_hz / count
    t = (np.arange(count) - count // 4) * step
    return impulse_envelope(t, band.bandwidth_hz), step


def reading_db(rate_hz: float, band: Band) -> float:
    assert band.quasi_peak is not None
    envelope, step = pulses(rate_hz, band, int(20.0 * band.bandwidth_hz / rate_hz))
    return 20.0 * float(np.log10(quasi_peak_reading(envelope, step, band.quasi_peak)))


def test_a_steady_carrier_reads_itself() -> None:
    for band in BANDS[:3]:
        assert band.quasi_peak is not None
        assert quasi_peak_reading([2.0] * 50, 1e-4, band.quasi_peak) == pytest.approx(2.0, rel=1e-6)


def test_nothing_reads_nothing() -> None:
    assert quasi_peak_reading([0.0] * 50, 1e-4, QuasiPeak(1e-3, 0.16, 0.16)) == 0.0


@pytest.mark.parametrize(("rate_hz", "standard_db"), [(20.0, -6.5), (1000.0, 4.5)])
def test_pulses_in_band_b_read_as_the_standard_says(rate_hz: float, standard_db: float) -> None:
    assert reading_db(rate_hz, BANDS[1]) - reading_db(100.0, BANDS[1]) == pytest.approx(standard_db, abs=1.1)


def test_peak_exceeds_quasi_peak_as_the_standard_says() -> None:
    assert -reading_db(100.0, BANDS[1]) == pytest.approx(6.6, abs=1.0)


def test_detector_settles_where_one_period_returns_to_its_start() -> None:
    detector = QuasiPeak(1e-3, 50e-3, 1e-9)
    on, off = 40, 160
    envelope = np.r_[np.ones(on), np.zeros(off)]
    rate = 1.0 / 1e-3 + 1.0 / 50e-3
    rising, falling = np.exp(-on * 1e-4 * rate), np.exp(-off * 1e-4 / 50e-3)
    steady = 50.0 / 51.0
    top = steady * (1.0 - rising) / (1.0 - rising * falling)
    assert quasi_peak_reading(envelope, 1e-4, detector) == pytest.approx(top / steady, rel=1e-4)


def test_filter_is_half_at_its_edge_and_its_area_is_the_impulse_bandwidth() -> None:
    assert receiver.filter_weight(4500.0, 9e3) == 0.5
    offsets = np.linspace(-50e3, 50e3, 20001)
    assert np.trapezoid(receiver.filter_weight(offsets, 9e3), offsets) == pytest.approx(1.06447 * 9e3, rel=1e-5)


def test_envelope_is_the_transform_of_the_filter() -> None:
    offsets = np.linspace(-60e3, 60e3, 24001)
    weights = receiver.filter_weight(offsets, 9e3)
    for t in (0.0, 40e-6, 100e-6):
        transform = np.trapezoid(weights * np.cos(2.0 * np.pi * offsets * t), offsets) / np.trapezoid(weights, offsets)
        assert impulse_envelope(t, 9e3) == pytest.approx(transform, abs=1e-9)
