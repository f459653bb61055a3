from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from models.arrays import Complex, Real
from models.formulas.constants import LIGHT_M_PER_S
from models.network.cable import CommonModeLine, SolvedLine
from tests.reference.antenna import arm_impedance, dipole_impedance, half_wave_field, short_wire_field

SWEEP = 2.0 * math.pi * np.geomspace(10.0, 1e9, 1601)
ENDS = ("open", "earthed", "lisn", 150.0)
HEIGHTS = (None, 0.8, 0.01)


def line(**given: object) -> CommonModeLine:
    values = {"length_m": 1.5, "radius_m": 3e-3, "height_m": 0.8, "far_end": "open"} | given
    return CommonModeLine(**values)  # type: ignore[arg-type]


def current(solved: SolvedLine, place: int, s_m: Real) -> Complex:
    """Current at distances from the far end, per ampere at the region, by the sum of both waves."""
    gamma, reflection = solved.gamma[place], solved.reflection[place]
    wave = np.exp(gamma * s_m) - reflection * np.exp(-gamma * s_m)
    return np.asarray(wave / (wave[-1]), np.complex128)


def test_an_open_wire_is_half_of_the_lossy_antenna_of_two_arms() -> None:
    """Physics §8.3: h = 1 m, a = 1 mm, without copper loss, which adds less than a part in a thousand."""
    f = np.array([5e6, 30e6, 75e6, 100e6, 150e6, 225e6, 1e9])
    wire = line(length_m=1.0, radius_m=1e-3, height_m=None)
    np.testing.assert_allclose(wire.impedance(2.0 * math.pi * f), 0.5 * arm_impedance(f, 1.0, 1e-3), rtol=6e-3)


@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("far_end", ENDS)
def test_a_cable_is_a_line_with_its_load(far_end: str | float, height: float | None) -> None:
    """Z = Z_c·(Z_L + Z_c·tanh γl)/(Z_c + Z_L·tanh γl), open Z_c/tanh γl."""
    solved = line(far_end=far_end, height_m=height).solved(SWEEP)
    tanh = np.tanh(solved.gamma * 1.5)
    if solved.far_ohm is None:
        wanted = solved.zc_ohm / tanh
    else:
        wanted = solved.zc_ohm * (solved.far_ohm + solved.zc_ohm * tanh) / (solved.zc_ohm + solved.far_ohm * tanh)
    np.testing.assert_allclose(solved.input_ohm, wanted, rtol=1e-8)


def test_two_quarter_wave_wires_are_a_half_wave_dipole() -> None:
    """About 73 Ω; resonance at half a wave, within 5 % of where the induced-EMF method has it."""
    f = np.linspace(60e6, 90e6, 3001)
    both = 2.0 * line(length_m=1.0, radius_m=1e-3, height_m=None).impedance(2.0 * math.pi * f)
    resonance = float(f[np.argmin(np.abs(both.imag))])
    assert resonance == pytest.approx(LIGHT_M_PER_S / 4.0, rel=0.01)
    textbook = float(f[np.argmin(np.abs(dipole_impedance(f, 2.0, 1e-3).imag))])
    assert resonance == pytest.approx(textbook, rel=0.05)
    assert both.real[np.argmin(np.abs(both.imag))] == pytest.approx(73.1, abs=1.0)


@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("far_end", ENDS)
def test_a_cable_is_finite_smooth_and_passive_at_every_frequency(far_end: str | float, height: float | None) -> None:
    z = line(far_end=far_end, height_m=height).impedance(SWEEP)
    assert np.isfinite(z).all()
    assert (z.real >= -1e-12 * np.abs(z)).all()
    fine = 2.0 * math.pi * np.linspace(100e6, 101e6, 2001)
    magnitude = np.abs(line(far_end=far_end, height_m=height).impedance(fine))
    assert np.max(np.abs(np.diff(np.log(magnitude)))) < 0.01


@pytest.mark.parametrize(("far_end", "added"), [("earthed", 0.0), ("lisn", 2.272727), (150.0, 150.0)])
def test_dc_is_copper_and_far_end(far_end: str | float, added: float) -> None:
    copper = 1.724e-8 * 1.5 / (math.pi * 3e-3**2)
    cable = line(far_end=far_end)
    assert cable.dc_ohm() == pytest.approx(copper + added, rel=1e-6)
    assert not cable.blocks_dc()
    assert cable.impedance(np.array([2.0 * math.pi * 0.1]))[0].real == pytest.approx(cable.dc_ohm(), rel=1e-3)


def test_an_open_cable_has_no_dc_path_and_is_its_capacitance() -> None:
    cable = line()
    assert math.isinf(cable.dc_ohm())
    assert cable.blocks_dc()
    farad = 1.5 / (cable.z0_ohm * LIGHT_M_PER_S)
    np.testing.assert_allclose(cable.impedance(SWEEP[:500]), 1.0 / (1j * SWEEP[:500] * farad), rtol=2e-3)


def test_an_earthed_wire_in_free_space_is_its_partial_inductance() -> None:
    """2·10⁻⁷·l·[ln(4l/d) − 1] H, at frequencies where skin effect leaves the resistance small."""
    omega = 2.0 * math.pi * np.array([1e6])
    z = line(far_end="earthed", height_m=None).impedance(omega)
    assert z[0].imag / omega[0] == pytest.approx(2e-7 * 1.5 * (math.log(4.0 * 1.5 / 6e-3) - 1.0), rel=2e-3)


@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("far_end", ENDS)
def test_power_into_a_cable_is_lost_radiated_or_passed_on(far_end: str | float, height: float | None) -> None:
    solved = line(far_end=far_end, height_m=height).solved(SWEEP[600:])
    passed = 0.0 if solved.far_ohm is None else solved.far_ohm.real * np.abs(solved.far_ratio) ** 2
    lost = solved.copper_ohm_per_m * solved.square_length_m
    taken = solved.radiated_ohm + lost + passed
    np.testing.assert_allclose(taken, solved.input_ohm.real, rtol=1e-7)


@pytest.mark.parametrize("far_end", ENDS)
def test_the_largest_current_and_the_square_along_the_cable(far_end: str | float) -> None:
    solved = line(far_end=far_end).solved(SWEEP)
    s = np.linspace(0.0, 1.5, 2001)
    for place in range(0, SWEEP.size, 100):
        along = np.abs(current(solved, place, s))
        assert solved.largest_ratio[place] == pytest.approx(along.max(), rel=2e-4)
        assert solved.square_length_m[place] == pytest.approx(np.trapezoid(along**2, s), rel=1e-5)
        if solved.far_ohm is not None:
            assert abs(solved.far_ratio[place]) == pytest.approx(along[0], rel=1e-6)


def test_a_short_wire_has_the_textbook_field() -> None:
    """That of an even current, half of it with one that falls to the open end; within 0.1 dB."""
    omega = 2.0 * math.pi * np.array([5e6])
    textbook = float(short_wire_field(1.0, 5e6, 1.0, 1.0))
    for far_end, share in (("earthed", 1.0), ("open", 0.5)):
        solved = line(length_m=1.0, height_m=None, far_end=far_end).solved(omega)
        field = float(solved.field_v_per_a[0] * solved.largest_ratio[0])
        assert 20.0 * math.log10(field / (share * textbook)) == pytest.approx(0.0, abs=0.1)


def test_a_quarter_wave_wire_has_half_the_field_of_the_dipole() -> None:
    """Each of the dipole's two arms brings half of it."""
    omega = 2.0 * math.pi * np.array([LIGHT_M_PER_S / 4.0])
    solved = line(length_m=1.0, radius_m=1e-3, height_m=None).solved(omega)
    assert solved.field_v_per_a[0] == pytest.approx(0.5 * half_wave_field(1.0, 1.0), rel=0.01)


def test_a_low_plane_takes_the_field_away() -> None:
    omega = 2.0 * math.pi * np.array([50e6])
    free, high, low = (
        float(line(far_end="earthed", height_m=height).solved(omega).field_v_per_a[0]) for height in (None, 20.0, 0.02)
    )
    assert 20.0 * math.log10(high / free) == pytest.approx(0.0, abs=1.0)
    assert 20.0 * math.log10(low / free) < -20.0


WAVE_M = 10.0
AT_WAVE = np.array([2.0 * math.pi * LIGHT_M_PER_S / WAVE_M])
PLACES = np.linspace(0.0, 1.0, 101)


@pytest.mark.parametrize("share", [0.02, 0.125, 0.25, 0.4, 0.6, 0.9])
@pytest.mark.parametrize(("far_end", "wave"), [("open", np.sin), ("earthed", np.cos)])
def test_the_current_stands_along_the_cable_as_on_a_line_without_loss(
    far_end: str, wave: Callable[[Real], Real], share: float
) -> None:
    """|I(x)| = |sin β(l − x)| from an open end, |cos β(l − x)| from an earthed one, close over the plane; by shape."""
    length = share * WAVE_M
    wire = line(length_m=length, radius_m=0.01, height_m=0.02, far_end=far_end).solved(AT_WAVE)
    found = wire.along(PLACES * length)[:, 0]
    wanted = np.abs(wave(2.0 * math.pi / WAVE_M * length * (1.0 - PLACES)))
    assert found[0] == pytest.approx(1.0, rel=1e-12)
    np.testing.assert_allclose(found / found.max(), wanted / wanted.max(), atol=0.02)


@pytest.mark.parametrize(
    ("far_end", "share", "from_region"),
    [("open", 0.25, 0.0), ("open", 0.1, 0.0), ("open", 0.6, 0.35), ("earthed", 0.25, 0.25), ("earthed", 0.6, 0.1)],
)
def test_the_largest_current_flows_where_a_quarter_wave_has_it(far_end: str, share: float, from_region: float) -> None:
    """A quarter wave from an open end, half a wave from an earthed one, counted in waves from the region."""
    length = share * WAVE_M
    wire = line(length_m=length, radius_m=0.01, height_m=0.02, far_end=far_end).solved(AT_WAVE)
    assert float(wire.largest_at_m[0]) == pytest.approx(from_region * WAVE_M, abs=0.005 * WAVE_M)


@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("far_end", ENDS)
def test_the_place_of_the_largest_current_is_where_both_waves_sum_to_it(
    far_end: str | float, height: float | None
) -> None:
    solved = line(far_end=far_end, height_m=height, length_m=3.0).solved(2.0 * math.pi * np.linspace(1e6, 400e6, 57))
    places = np.linspace(0.0, 3.0, 2001)
    found = solved.along(places)
    by_hand = np.array([np.abs(current(solved, place, 3.0 - places[::-1]))[::-1] for place in range(57)]).T
    np.testing.assert_allclose(found, by_hand, rtol=1e-9, atol=1e-12)
    at_place = np.array([solved.along(solved.largest_at_m[k : k + 1])[0, k] for k in range(57)])
    assert (at_place >= 0.99 * found.max(axis=0)).all()
    np.testing.assert_allclose(at_place, solved.largest_ratio, rtol=1e-3)


def test_a_matched_end_leaves_no_standing_wave() -> None:
    wire = line(far_end=line(height_m=0.01).z0_ohm, height_m=0.01).solved(2.0 * math.pi * np.array([100e6]))
    np.testing.assert_allclose(wire.along(np.linspace(0.0, 1.5, 31))[:, 0], 1.0, atol=0.03)
