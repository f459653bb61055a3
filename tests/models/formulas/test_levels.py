from __future__ import annotations

import numpy as np
import pytest

from models.formulas import levels


def test_levels_and_volts_are_each_other_s_inverse() -> None:
    db = np.array([-20.0, 0.0, 46.0, 120.0])
    np.testing.assert_allclose(levels.level_dbuv(levels.volts_of_level(db)), db, atol=1e-12)
    assert levels.volts_of_level(120.0) == pytest.approx(1.0)


def test_nothing_has_no_level() -> None:
    assert levels.level_dbuv(0.0) == -np.inf


def test_a_sloped_limit_meets_both_of_its_ends() -> None:
    found = levels.sloped_limit_db([150e3, np.sqrt(150e3 * 500e3), 500e3], (150e3, 66.0), (500e3, 56.0))
    np.testing.assert_allclose(found, [66.0, 61.0, 56.0])
