from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.eseries import standard_values

# the published tables, as whole numbers of one decade
TABLES = {
    3: "10 22 47",
    6: "10 15 22 33 47 68",
    12: "10 12 15 18 22 27 33 39 47 56 68 82",
    24: "10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91",
    48: "100 105 110 115 121 127 133 140 147 154 162 169 178 187 196 205 215 226 237 249 261 274 287 301 "
    "316 332 348 365 383 402 422 442 464 487 511 536 562 590 619 649 681 715 750 787 825 866 909 953",
    96: "100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174 "
    "178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294 301 309 "
    "316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549 "
    "562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976",
}


@pytest.mark.parametrize("series", TABLES)
def test_one_decade_is_the_published_table(series: int) -> None:
    table = [int(text) for text in TABLES[series].split()]
    assert standard_values(series, table[0], 10 * table[0] - 0.5) == tuple(map(float, table))


def test_e192_holds_e96_and_its_irregular_value() -> None:
    values = standard_values(192, 100.0, 999.0)
    assert len(values) == 192
    assert set(standard_values(96, 100.0, 999.0)) < set(values)
    assert 920.0 in values
    assert 919.0 not in values
    assert values[-8:] == (909.0, 920.0, 931.0, 942.0, 953.0, 965.0, 976.0, 988.0)


def test_y_capacitors_from_100_pf_to_4_7_nf_with_both_ends() -> None:
    values = standard_values(6, 100e-12, 4.7e-9)
    assert values == (100e-12, 150e-12, 220e-12, 330e-12, 470e-12, 680e-12, 1e-9, 1.5e-9, 2.2e-9, 3.3e-9, 4.7e-9)


@pytest.mark.parametrize("value", [2.2e-9, 1.0, 1e3, 1e-12, 4.7e5])
def test_a_window_of_one_value_holds_it(value: float) -> None:
    assert standard_values(3, value, value) == (value,)


def test_a_window_between_values_or_upside_down_is_empty() -> None:
    assert standard_values(3, 2.3e-9, 4.6e-9) == ()
    assert standard_values(24, 2e-9, 1e-9) == ()


@given(
    series=st.sampled_from([3, 6, 12, 24, 48, 96, 192]),
    low=st.floats(1e-15, 1e9),
    decades=st.integers(1, 4),
)
def test_values_rise_in_even_ratios_and_fill_every_decade(series: int, low: float, decades: int) -> None:
    high = low * 10**decades
    values = standard_values(series, low, high)
    assert abs(len(values) - series * decades) <= 1
    assert all(low <= value <= high for value in values)
    ratios = [later / earlier for earlier, later in pairwise(values)]
    assert all(0 < math.log10(ratio) * series < 2 for ratio in ratios)


@pytest.mark.parametrize("series", [0, 1, 5, 23, 97, -6])
def test_a_series_that_does_not_exist_is_named(series: int) -> None:
    with pytest.raises(ValueError, match=f"E{series};"):
        standard_values(series, 1.0, 10.0)


@pytest.mark.parametrize(("low", "high"), [(0.0, 1.0), (-1.0, 1.0), (1.0, math.inf), (math.nan, 1.0), (1.0, math.nan)])
def test_bounds_without_end_are_refused(low: float, high: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        standard_values(6, low, high)
