"""What is wrong with data is said, and good data is left in peace."""

from __future__ import annotations

import numpy as np
import pytest

from models.arrays import Complex
from models.errors import DataError
from models.fitting.checks import before_fit, guess_kind
from models.fitting.data import make_measurement
from models.fitting.elements import coil, condenser
from models.fitting.fit import KINDS, fit_part
from models.quantity import parse_quantity
from tests.models.fitting.synthetic import dielectric, ferrite, measured, noisy, random_ferrite

F = np.geomspace(1e6, 1e9, 301)
CAPACITOR = dielectric(F, capacitance_f=2.2e-9, loss=0.02, resistance_ohm=0.04, skin_hz=1e7, inductance_h=9e-9)


def said(z: Complex, kind: str = "bead") -> str:
    return " | ".join(fit_part(measured(F, z), kind).warnings)


@pytest.mark.parametrize("seed", range(4))
def test_nothing_is_said_of_good_data(seed: int) -> None:
    rng = np.random.default_rng(seed)
    f = np.geomspace(1e5, 1e9, 301)
    m = measured(f, noisy(random_ferrite(f, rng), rng))
    assert before_fit(m) == []
    assert [text for text in fit_part(m, "bead").warnings if "DC resistance" not in text] == []


def test_negative_resistance() -> None:
    assert "resistance is negative in 7 % of the range, from 1 MHz" in said(ferrite(F) - 5)


def test_phase_of_the_other_convention() -> None:
    for z in (ferrite(F), CAPACITOR):
        assert "wrong sign" not in said(z, guess_kind(measured(F, z)))
        assert "wrong sign" in said(z.conj())


@pytest.mark.parametrize("period_hz", [3e7, 8e7])
def test_ripple_and_its_period(period_hz: float) -> None:
    text = said(ferrite(F) * (1 + 0.03 * np.cos(2 * np.pi * F / period_hz)))
    period = parse_quantity(text.partition("with a period of ")[2].partition(",")[0], "Hz")
    assert period == pytest.approx(period_hz, rel=0.06)


def test_short_range_and_few_points() -> None:
    f = np.geomspace(1e7, 5e7, 8)
    text = " | ".join(before_fit(measured(f, ferrite(f))))
    assert "spans only 10 MHz to 50 MHz, less than a decade" in text
    assert "only 8 points over 0.7 decades" in text


def test_a_kind_that_does_not_suit() -> None:
    assert "the data looks like a capacitor, not like a bead" in said(CAPACITOR)
    assert "the data looks like a capacitor, not like an inductor" in said(CAPACITOR, "inductor")
    assert "the data looks like a bead, not like a capacitor" in said(ferrite(F), "capacitor")
    assert "an inductor describes this data only to" in said(ferrite(F), "inductor")


@pytest.mark.parametrize("seed", range(12))
def test_guesses_a_bead(seed: int) -> None:
    rng = np.random.default_rng(seed)
    assert guess_kind(measured(F, noisy(random_ferrite(F, rng), rng))) == "bead"


@pytest.mark.parametrize("values", [(1e-6, 0.05, 1e-12, 2e4), (1e-5, 0.3, 5e-12, 5e4), (5e-9, 0.01, 0.1e-12, 1e4)])
def test_guesses_an_inductor(values: tuple[float, ...]) -> None:
    assert guess_kind(measured(F, coil(np.array(values), 2 * np.pi * F)[0])) == "inductor"


@pytest.mark.parametrize("capacitance_f", [100e-12, 2.2e-9, 100e-9])
def test_guesses_a_capacitor(capacitance_f: float) -> None:
    f = np.geomspace(1e4, 1e9, 301)
    z = condenser(np.array([capacitance_f, 0.05, 1e-9, 0.01, np.inf]), 2 * np.pi * f)[0]
    assert guess_kind(measured(f, z)) == "capacitor"
    assert guess_kind(make_measurement(f, np.abs(z), source="x", has_phase=False)) == "capacitor"


def test_every_kind_has_its_fit() -> None:
    for kind in KINDS:
        assert fit_part(measured(F, ferrite(F)), kind).part["kind"] == kind
    with pytest.raises(DataError, match="found resistor; accepted: bead, capacitor, inductor"):
        fit_part(measured(F, ferrite(F)), "resistor")


STRANGE = {
    "resistance": np.full(F.size, 10.0 + 0j),
    "negative": np.full(F.size, -5.0 + 0j),
    "noise": noisy(np.ones(F.size, np.complex128), np.random.default_rng(0), 60.0),
    "inductance": 2j * np.pi * F * 1e-6,
    "capacitance": 1 / (2j * np.pi * F * 1e-9),
    "negative inductance": -2j * np.pi * F * 1e-6,
    "smallest": np.full(F.size, 1e-15 + 0j),
    "largest": np.full(F.size, 1e15 + 0j),
}


@pytest.mark.parametrize("name", STRANGE)
@pytest.mark.parametrize("kind", KINDS)
def test_strange_data_ends_in_a_passive_part(kind: str, name: str) -> None:
    thin = slice(None, None, 10)
    fit = fit_part(measured(F[thin], STRANGE[name][thin]), kind)
    z = fit.impedance(F)
    assert np.isfinite(z).all()
    assert (z.real >= -1e-9 * np.abs(z)).all()
