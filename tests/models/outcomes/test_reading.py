from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas.receiver import BANDS, filter_weight
from models.outcomes.reading import Emission, Together, _noise_quasi_peak
from tests.reference.detector import impulse_envelope, quasi_peak_reading


def even(
    spacing_hz: float,
    count: int,
    *,
    v_rms: float = 1.0,
    noise_like: bool = False,
    source: str = "s",
    field: bool = False,
) -> Emission:
    lines = np.full(count, v_rms)
    return Emission(source=source, spacing_hz=spacing_hz, first=1, v_rms=lines, noise_like=noise_like, field=field)


def at(emission: Emission, f_hz: float, detector: str) -> float:
    return float(emission.read(detector)[round(f_hz / emission.spacing_hz) - emission.first])


def test_lines_far_apart_read_alike_in_every_detector() -> None:
    emission = even(300e3, 1000)
    for detector in ("peak", "quasi-peak", "average"):
        np.testing.assert_array_equal(emission.read(detector), 1.0)


def test_close_lines_add_in_peak() -> None:
    """65 kHz in 120 kHz: neighbours count 0.4433, and those after them the rest of 1.964; the average is the line."""
    emission = even(65e3, 3000)
    assert float(filter_weight(65e3, 120e3)) == pytest.approx(0.4433, abs=5e-5)
    assert at(emission, 65e6, "peak") == pytest.approx(1.964, abs=2e-3)
    assert at(emission, 65e6, "average") == 1.0
    assert at(emission, 6.5e6, "peak") == 1.0


def test_many_close_lines_come_to_the_impulse_bandwidth() -> None:
    emission = even(1e3, 200_000)
    assert at(emission, 10e6, "peak") == pytest.approx(1.0645 * 9.0, rel=1e-3)
    assert at(emission, 100e6, "peak") == pytest.approx(1.0645 * 120.0, rel=1e-3)


def test_the_edge_of_a_band_changes_the_bandwidth() -> None:
    """30 MHz is the last frequency that terminals are measured at, and the first for a field."""
    terminals, field = even(50e3, 2000), even(50e3, 2000, field=True)
    for emission in (terminals, field):
        assert at(emission, 29.9e6, "peak") == 1.0
        assert at(emission, 30.05e6, "peak") > 2.0
    assert at(terminals, 30e6, "peak") == 1.0
    assert at(field, 30e6, "peak") > 2.0


def test_noise_reads_its_density() -> None:
    """Flat noise of 1 V rms every 100 kHz: √(0.753·B/100 kHz) rms in the filter, 1.05 dB less as an average."""
    emission = even(100e3, 3000, noise_like=True)
    rms = math.sqrt(0.7527 * 9e3 / 100e3)
    assert at(emission, 1e6, "average") == pytest.approx(rms * math.sqrt(math.pi / 4.0), rel=1e-3)
    assert at(emission, 1e6, "average") < at(emission, 1e6, "quasi-peak") < at(emission, 1e6, "peak")


@pytest.mark.parametrize("place", [1, 2])
def test_quasi_peak_of_noise_agrees_with_the_detector_fed_with_noise(place: int) -> None:
    """A Rayleigh envelope, new at every step of 0.55/B, through the detector itself."""
    band = BANDS[place]
    assert band.quasi_peak is not None
    step_s = 0.55 / band.bandwidth_hz
    count = round(1.5 / step_s)
    random = np.random.default_rng(5)
    envelope = np.hypot(random.standard_normal(count), random.standard_normal(count)) / math.sqrt(2.0)
    found = quasi_peak_reading(envelope, step_s, band.quasi_peak)
    assert 20.0 * math.log10(_noise_quasi_peak(band) / found) == pytest.approx(0.0, abs=0.6)


@pytest.mark.parametrize(
    ("place", "f_hz", "rate_hz", "below_db"),
    [(2, 45e6, 100e3, 0.16), (2, 45e6, 10e3, 0.82), (2, 45e6, 1e3, 3.53), (1, 10e6, 5e3, 0.49), (1, 10e6, 1e3, 1.48)],
)
def test_quasi_peak_of_close_lines_is_bounded_by_their_peak(
    place: int, f_hz: float, rate_hz: float, below_db: float
) -> None:
    """Lines at the rate of a pulse read as their peak; the detector itself, fed with the pulse, lies so far below."""
    band, emission = BANDS[place], even(rate_hz, round(1.5 * f_hz / rate_hz))
    assert band.quasi_peak is not None
    count = round(20.0 * band.bandwidth_hz / rate_hz)
    step_s = 1.0 / rate_hz / count
    t_s = (np.arange(count) - count // 2) * step_s
    pulses = sum(
        (impulse_envelope(t_s + turn / rate_hz, band.bandwidth_hz) for turn in range(-3, 4)), start=np.zeros(count)
    )
    found = quasi_peak_reading(pulses, step_s, band.quasi_peak)
    assert 20.0 * math.log10(float(np.max(pulses)) / found) == pytest.approx(below_db, abs=0.05)
    assert at(emission, f_hz, "quasi-peak") == at(emission, f_hz, "peak")


def test_sources_together_add_powers_and_at_most_amplitudes() -> None:
    first, second = even(1e6, 100, v_rms=3.0, source="one"), even(500e3, 200, v_rms=4.0, source="two")
    together = Together(each=(first, second))
    power, bound = together.read(0, "peak")
    np.testing.assert_allclose(power, 5.0)
    np.testing.assert_allclose(bound, 7.0)
    power, bound = together.read(1, "peak")
    np.testing.assert_allclose(power[1::2], 5.0)
    np.testing.assert_allclose(bound[0::2], 4.0, atol=1e-4)


def test_a_source_alone_is_its_own_sum() -> None:
    emission = even(65e3, 3000)
    power, bound = Together(each=(emission,)).read(0, "quasi-peak")
    np.testing.assert_array_equal(power, emission.read("quasi-peak"))
    np.testing.assert_array_equal(bound, power)
