"""Measurements are cleaned once: sorted, finite, without duplicates, DC apart."""

from __future__ import annotations

import numpy as np
import pytest

from models.errors import DataError
from models.fitting.data import log_resampled, log_share, make_measurement


def test_sorts_merges_and_drops() -> None:
    m = make_measurement([3e6, 1e6, 2e6, 2e6, 4e6], [3, 1, 2, 4, np.nan], source="x")
    np.testing.assert_array_equal(m.f_hz, [1e6, 2e6, 3e6])
    np.testing.assert_array_equal(m.z_ohm, [1, 3, 3])
    assert [word in text for word, text in zip(("finite", "ascending", "twice"), m.warnings, strict=True)] == [True] * 3


def test_keeps_dc_apart() -> None:
    m = make_measurement([0, 1e6], [0.2, 3j], source="x")
    assert m.dc_ohm == 0.2
    assert m.f_hz.tolist() == [1e6]
    assert "kept as the DC resistance, 200 mΩ" in m.warnings[0]


def test_sets_a_negative_dc_point_aside() -> None:
    m = make_measurement([0, 1e6], [-0.2, 3j], source="x")
    assert m.dc_ohm is None
    assert "set aside" in m.warnings[0]


@pytest.mark.parametrize(
    ("f", "z", "words"),
    [
        ([1e6, 2e6], [1], "2 frequencies and 1 impedances"),
        ([-1e6, 2e6], [1, 1], "the frequency −1 MHz"),
        ([1e6], [np.inf], "no usable point"),
        ([], [], "no usable point"),
        ([0.0], [1.0], "no usable point"),
    ],
)
def test_refuses(f: list[float], z: list[complex], words: str) -> None:
    with pytest.raises(DataError, match=words):
        make_measurement(f, z, source="x")


def test_range_counts_both_ends_in() -> None:
    m = make_measurement([1e6, 2e6, 3e6], [1, 2, 3], source="x")
    assert m.within(2e6, 3e6).f_hz.tolist() == [2e6, 3e6]
    assert m.within(to_hz=2e6).f_hz.tolist() == [1e6, 2e6]
    with pytest.raises(DataError, match="no point from 4 MHz on; accepted: a range that meets"):
        m.within(from_hz=4e6)


def test_arrays_are_locked() -> None:
    m = make_measurement([1e6], [1], source="x")
    with pytest.raises(ValueError, match="read-only"):
        m.z_ohm[0] = 2


def test_each_decade_counts_alike_in_a_linear_sweep() -> None:
    f = np.linspace(1e6, 1e8, 2000)
    share = log_share(f)
    low = share[f < 1e7].sum() / share.sum()
    assert low == pytest.approx(0.5, abs=0.02)
    assert share.mean() == pytest.approx(1.0)


def test_thinning_keeps_a_power_law_and_drops_an_outlier() -> None:
    f = np.geomspace(1e4, 1e8, 40_001)
    z = 1j * f * 1e-3
    z[20_000] *= 100
    thin_f, thin_z = log_resampled(make_measurement(f, z, source="x"), 200)
    assert thin_f.size == 200
    np.testing.assert_allclose(thin_z, 1j * thin_f * 1e-3, rtol=1e-9)
