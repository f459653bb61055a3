"""Every worked number of every table, to the digits that are printed."""

from __future__ import annotations

import pytest

from tests.truth import (
    antenna_table,
    bead_table,
    board_table,
    bodynet_table,
    capacitor_table,
    copper_table,
    damping_table,
    emission_table,
    estimate_table,
    spectrum_table,
    transient_table,
    winding_table,
)
from tests.truth.row import Row, agrees

TABLES = (
    antenna_table,
    bead_table,
    board_table,
    bodynet_table,
    capacitor_table,
    copper_table,
    damping_table,
    emission_table,
    estimate_table,
    spectrum_table,
    transient_table,
    winding_table,
)
ROWS = [row for table in TABLES for row in table.ROWS]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.section} {row.id}")
def test_worked_number(row: Row) -> None:
    found = row.found()
    assert agrees(found, row.expected, row.digits), f"found {found:.6g}, printed {row.expected:.{row.digits}g}"


def test_every_row_has_its_own_name() -> None:
    names = [(row.section, row.id) for row in ROWS]
    assert len(names) == len(set(names))


def test_a_slip_in_the_last_digit_is_caught() -> None:
    assert agrees(1.2344, 1.234, 4)
    assert not agrees(1.2351, 1.234, 4)
    assert not agrees(1.234 + 0.1j, 1.234, 4)
