from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from models.assets import CASES
from models.case.document import Case
from models.case.read import load_case, parse_case
from models.limits import LimitLine, limits
from models.outcomes.evaluation import Evaluator, Outcome
from models.outcomes.radiated import worst_field
from models.outcomes.reading import Emission
from tests.models.outcomes.noise_cases import RETURN_CURRENT, wired

NEAR_PLANE = ('height = "0.8 m"', 'height = "0.8 m"')


def line(name: str, kind: str) -> LimitLine:
    found = limits(Path("nowhere")).find(name, kind)
    assert found is not None
    return found


def outcome(case: Case, candidate: str = "2.2 nF") -> Outcome:
    return Evaluator().evaluate(case).outcome(candidate)


def level(emission: Emission, f_hz: float, detector: str = "quasi-peak") -> float:
    return float(emission.level_db(detector)[np.argmin(np.abs(emission.f_hz - f_hz))])


def test_each_line_reads_its_half_of_the_lead_s_current() -> None:
    """V = 25 Ω·I far above 150 kHz: (50 µH + 5 Ω) ∥ 50 Ω on each line, half the current in each."""
    found = outcome(wired(heights=NEAR_PLANE))
    conducted, current = found.conducted[0], found.cables[0]
    emission = conducted.each[0]
    assert conducted.cable == "mains lead"
    orders = np.rint(emission.f_hz / 100e3).astype(int)
    high = emission.f_hz > 5e6
    np.testing.assert_allclose(emission.v_rms[high], 25.0 * current.far_a_rms[orders][high], rtol=2e-3)
    coil = 5.0 + 2j * math.pi * 200e3 * 50e-6
    line_ohm = abs(50.0 * coil / (50.0 + coil))
    assert emission.v_rms[1] == pytest.approx(0.5 * line_ohm * current.far_a_rms[2], rel=1e-9)


def test_without_a_lisn_nothing_is_conducted() -> None:
    found = outcome(wired(far_ends=("earthed", "open")))
    assert found.conducted == ()
    assert len(found.radiated) == 1


def test_the_worst_line_of_the_spectrum_is_named() -> None:
    found = outcome(wired(heights=NEAR_PLANE))
    limit = line("CISPR 32 class B", "conducted")
    margin = found.conducted[0].margin(limit)
    assert margin is not None
    emission = found.conducted[0].each[0]
    rooms = {
        (float(f), detector): float(at - reading)
        for detector in limit.detectors
        for f, at, reading in zip(
            emission.f_hz, limit.limit_db(emission.f_hz, detector), emission.level_db(detector), strict=True
        )
        if math.isfinite(at)
    }
    worst = min(rooms, key=lambda where: rooms[where])
    assert (margin.f_hz, margin.detector) == worst
    assert margin.margin_db == pytest.approx(rooms[worst])
    assert margin.order == round(worst[0] / 100e3)
    assert (margin.source, margin.where) == ("switch", "mains lead")


def test_two_sources_read_together_exceed_neither_bound_nor_stay_below_either() -> None:
    found = outcome(wired(RETURN_CURRENT, heights=NEAR_PLANE))
    together = found.conducted[0].together
    for index, alone in enumerate(together.each):
        power, bound = together.read(index, "quasi-peak")
        assert np.all(power >= alone.read("quasi-peak") * (1.0 - 1e-12))
        assert np.all(bound >= power * (1.0 - 1e-12))
        assert np.all(bound <= math.sqrt(2.0) * power * (1.0 + 1e-12))


def test_the_field_falls_with_distance() -> None:
    field = outcome(wired()).radiated[0]
    np.testing.assert_allclose(field.at(3.0).v_rms, field.at(10.0).v_rms * 10.0 / 3.0)
    np.testing.assert_allclose(field.total_v, sum(field.field_v.values()))
    assert level(field.at(3.0), 100e6) - level(field.at(10.0), 100e6) == pytest.approx(10.46, abs=0.005)


FIVE_MICROAMPERES = """
isthmus = 1
[pair]
a = "board"
b = "connector"
[sweep]
stop = "60 MHz"
[[coupling]]
name = "plate"
between = ["board", "earth"]
parts = [ {{ kind = "capacitor", capacitance = "1 nF" }} ]
[[cable]]
name = "lead"
region = "connector"
length = "{length}"
diameter = "2 mm"
far_end = "earthed"
[[candidate]]
name = "open"
[[source]]
name = "drive"
kind = "ripple"
between = ["board", "connector"]
amplitude = "{amplitude} A"
frequency = "50 MHz"
"""


@pytest.mark.parametrize(("length", "expected", "room"), [("1 m", 40.40, 1.8), ("0.1 m", 20.40, 0.1)])
def test_five_microamperes_at_50_mhz(length: str, expected: float, room: float) -> None:
    """Physics §8.1: 5 µA on 1 m at 50 MHz is 40.40 dBµV/m at 3 m with reflection, for a current that is even along it.

    On a tenth of a metre it is even; on a metre it falls to half towards the region.
    """
    step = 5e-6 * math.sqrt(2.0) * math.pi**2 / 4.0
    case = parse_case(FIVE_MICROAMPERES.format(length=length, amplitude=step))
    found = outcome(case, "open")
    assert found.cables[0].a_rms[1] == pytest.approx(5e-6, rel=1e-6)
    at = found.radiated[0].at(3.0)
    even = level(at, 50e6) - 20.0 * math.log10(float(found.cables[0].largest_a_rms[1]) / 5e-6)
    assert even == pytest.approx(expected, abs=room)


DIPOLE = """
isthmus = 1
[pair]
a = "left"
b = "right"
[sweep]
stop = "80 MHz"
[[candidate]]
name = "gap"
[[candidate.branch]]
parts = [ { kind = "resistor", resistance = "1 mohm" } ]
[[source]]
name = "1 mV"
kind = "ripple"
between = ["left", "right"]
amplitude = "3.489 A"
frequency = "74.948 MHz"
""" + "".join(
    f"""
[[cable]]
name = "{region} arm"
region = "{region}"
length = "1 m"
diameter = "2 mm"
"""
    for region in ("left", "right")
)


def test_a_millivolt_across_a_half_wave_dipole() -> None:
    """Physics §8.4: 13.67 µA at its middle make 48.74 dBµV/m at 3 m in free space; 6.02 dB more with reflection."""
    found = outcome(parse_case(DIPOLE), "gap")
    assert found.common_mode[0].v_rms[1] == pytest.approx(1e-3, rel=1e-3)
    for arm in found.cables:
        assert arm.a_rms[1] == pytest.approx(13.67e-6, rel=5e-3)
    assert level(found.radiated[0].at(3.0), 75e6) == pytest.approx(48.74 + 6.02, abs=0.1)
    power = sum(arm.radiated_w for arm in found.cables)
    assert power == pytest.approx(13.67e-6**2 * 73.1, rel=0.01)


def test_the_field_meets_its_limit_line_once() -> None:
    found = outcome(wired())
    three, ten = (worst_field(found.radiated, line(f"CISPR 32 class B {at}", "radiated")) for at in ("3 m", "10 m"))
    assert three is not None
    assert ten is not None
    assert three.f_hz >= 30e6
    assert ten.margin_db - three.margin_db == pytest.approx(0.46, abs=0.01)


def test_the_shipped_case_shows_what_a_y_capacitor_does() -> None:
    """Below 2.9 MHz it changes little with the output earthed, and a lot with the output floating."""
    evaluation = Evaluator().evaluate(load_case(CASES / "earthed-or-floating.toml"))

    def lowered(way: str, f_hz: float) -> float:
        nothing, bridged = (
            level(evaluation.outcome(f"{way}, {bridge}").conducted[0].each[0], f_hz) for bridge in ("nothing", "2.2 nF")
        )
        return nothing - bridged

    assert abs(lowered("Earthed", 200e3)) < 0.5
    assert abs(lowered("Earthed", 500e3)) < 3.0
    assert lowered("Earthed", 10.1e6) > 10.0
    assert lowered("Floating", 200e3) == pytest.approx(25.1, abs=0.5)
    assert lowered("Floating", 10.1e6) > 20.0
