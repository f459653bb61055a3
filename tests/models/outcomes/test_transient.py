"""Discharge, burst and surge in small networks: worked numbers, closed forms, a second method, conservation."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.case.document import Case
from models.case.read import parse_case
from models.errors import QuantityError
from models.formulas.burst import burst_pulse
from models.formulas.discharge import contact_current
from models.formulas.surge import surge_voltage
from models.network.solver import Solver
from models.outcomes.event import KINDS, Event
from models.outcomes.ratings import class_impulse_v
from models.outcomes.transient import CAUTION, Transient, transient
from models.parts.capacitor import Capacitor
from models.parts.part import Rating
from tests.models.decide.small_case import branch, capacitor, coupling

EARTHED = coupling("earth lead", "p", "earth", '{ kind = "copper" }')
STRAY = coupling("stray", "s", "earth", capacitor(100e-12))


def case_of(*pieces: str, bridge: str, others: str = "[]") -> Case:
    """Return a case with one candidate and nothing else but what is given."""
    head = f'isthmus = 1\n[pair]\na = "p"\nb = "s"\nothers = {others}\n'
    return parse_case(head + "".join(pieces) + f'[[candidate]]\nname = "it"\n{bridge}')


def hit(case: Case, kind: str, into: str = "s", level_v: float = 4e3, via: str | None = None) -> Transient:
    """Return an event into a region with the only candidate."""
    return transient(Solver(), case, case.candidates[0], Event(kind=kind, into=into, level_v=level_v, via=via))


def resistor(ohm: float) -> str:
    return f'{{ kind = "resistor", resistance = {ohm!r} }}'


def inductance(henry: float) -> str:
    return f'{{ kind = "copper", inductance = {henry!r} }}'


@pytest.mark.parametrize(
    ("total_f", "with_150_pf", "with_330_pf"),
    [(100e-12, 4800.0, 6140.0), (1e-9, 1043.0, 1985.0), (2.2e-9, 510.6, 1043.0), (4.7e-9, 247.4, 524.9)],
)
def test_charge_shares_out(total_f: float, with_150_pf: float, with_330_pf: float) -> None:
    case = case_of(EARTHED, bridge=branch(capacitor(total_f)))
    usual, large = hit(case, "discharge", level_v=8e3), hit(case, "discharge", level_v=8e3, via="contact, 330 pF")
    assert usual.settled.pair_v == pytest.approx(with_150_pf, rel=5e-4)
    assert large.settled.pair_v == pytest.approx(with_330_pf, rel=5e-4)
    assert usual.v_pair_v[-1] == pytest.approx(with_150_pf, rel=1e-2)
    assert usual.settled.floating
    assert usual.settled.charge_c == pytest.approx(total_f * usual.settled.pair_v)
    assert usual.settled.pair_bleed_s == math.inf


@pytest.mark.parametrize(("henry", "peak_v"), [(1e-9, 18.74), (10e-9, 187.4)])
def test_the_rise_of_a_discharge_over_an_inductance(henry: float, peak_v: float) -> None:
    found = hit(case_of(EARTHED, bridge=branch(inductance(henry))), "discharge")
    assert found.peak_v == pytest.approx(peak_v, rel=1e-2)
    assert found.peak_s < 1e-9


def test_a_short_takes_the_contact_current() -> None:
    found = hit(case_of(EARTHED, bridge=branch('{ kind = "copper" }')), "discharge")
    wanted = contact_current(found.t_s, 4e3)
    assert found.v_pair_v == pytest.approx(np.zeros(found.t_s.size))
    assert found.currents[-1].peak_a == pytest.approx(14.92, rel=5e-3)
    assert np.abs(found.injected_a - wanted).max() < 0.1


@pytest.mark.parametrize(
    ("bleed_ohm", "total_f", "bleed_s"),
    [(1e6, 1e-9, 5.296e-3), (940e3, 850e-12, 4.605 * 0.94e-3), (1e7, 1e-9, 52.96e-3)],
)
def test_a_resistor_bleeds(bleed_ohm: float, total_f: float, bleed_s: float) -> None:
    case = case_of(EARTHED, bridge=branch(capacitor(total_f)) + branch(resistor(bleed_ohm)))
    found = hit(case, "discharge").settled
    assert found.pair_bleed_s == pytest.approx(bleed_s, rel=1e-3)
    assert found.region_bleed_s == pytest.approx(bleed_s, rel=1e-3)


def test_a_y_capacitor_alone_does_not_bleed_in_useful_time() -> None:
    bridge = branch(capacitor(1e-9, "insulation_resistance = 1e10"))
    found = hit(case_of(EARTHED, bridge=bridge), "discharge").settled
    assert found.pair_bleed_s == pytest.approx(4.605 * 11.5, rel=2e-3)
    assert found.floating


def test_a_bleed_across_a_floating_pair_frees_the_pair_only() -> None:
    strays = coupling("stray p", "p", "earth", capacitor(50e-12)) + STRAY
    found = hit(case_of(strays, bridge=branch(capacitor(1e-9)) + branch(resistor(1e6))), "discharge").settled
    assert 0.0 < found.pair_bleed_s < 0.01
    assert found.region_bleed_s == math.inf
    assert found.v_region_v[-1] == pytest.approx(4e3 * 150.0 / 300.0, rel=1e-4)


def test_a_surge_over_its_own_resistance_is_halved() -> None:
    found = hit(case_of(EARTHED, bridge=branch(resistor(42.0))), "surge", via="signal")
    assert np.abs(found.v_pair_v - 0.5 * surge_voltage(found.t_s, 4e3)).max() < 10.0


def test_a_burst_into_50_ohm_is_the_standards_pulse() -> None:
    found = hit(case_of(EARTHED, bridge=branch(resistor(50.0))), "burst", via="mains")
    wanted = burst_pulse(found.t_s, 4e3)
    assert np.abs(found.v_pair_v - wanted).max() < 0.04 * wanted.max()


def test_the_clamp_divides() -> None:
    found = hit(case_of(EARTHED, bridge=branch(capacitor(2.2e-9))), "burst", level_v=2e3)
    assert found.peak_v == pytest.approx(86.96, rel=0.1)


def test_a_surge_on_a_floating_secondary_divides() -> None:
    found = hit(case_of(STRAY, bridge=branch(capacitor(2.2e-9))), "surge", into="p")
    assert found.peak_v == pytest.approx(173.9 * 1.016, rel=1e-2)
    earthed = hit(
        case_of(coupling("earth", "s", "earth", '{ kind = "copper" }'), bridge=branch(capacitor(2.2e-9))),
        "surge",
        into="p",
    )
    assert earthed.peak_v == pytest.approx(4e3 * 1.016, rel=1e-2)


def test_against_step_by_step_integration() -> None:
    """Gun, stray and a Y-capacitor with its leads, integrated as differential equations."""
    from scipy.integrate import solve_ivp

    farad, ohm, henry, stray_f, gun_f = 2.2e-9, 0.2, 15e-9, 100e-12, 150e-12
    bridge = branch(capacitor(farad, f"esr = {ohm}, esl = {henry!r}"))
    found = hit(case_of(EARTHED, STRAY, bridge=bridge), "discharge")
    event = found.event

    def slopes(t_s: float, state: np.ndarray) -> list[float]:
        v_gun, v_region, i_bridge, v_bridge = state
        i_gun = (v_region - v_gun) / 330.0
        source = float(event.source(np.array([t_s]))[0])
        return [
            i_gun / gun_f,
            (source - i_gun - i_bridge) / stray_f,
            (v_region - v_bridge - ohm * i_bridge) / henry,
            i_bridge / farad,
        ]

    wanted = solve_ivp(
        slopes, (0.0, 200e-9), np.zeros(4), "RK45", found.t_s[:2000], max_step=0.2e-9, rtol=1e-6, atol=1e-9
    ).y
    assert np.abs(found.v_pair_v[:2000] - wanted[1]).max() < 1e-2 * np.abs(wanted[1]).max()
    i_bridge = found.currents[-1].current_a[:2000] * (-1.0 if found.currents[-1].ends[0] == "p" else 1.0)
    assert np.abs(i_bridge - wanted[2]).max() < 1e-2 * np.abs(wanted[2]).max()


def test_a_cable_answers_only_after_the_wave_has_come_back() -> None:
    lead = (
        '[[cable]]\nname = "lead"\nregion = "p"\nlength = "9 m"\ndiameter = "6 mm"\nheight = "0.1 m"\nfar_end = "{}"\n'
    )
    bridge = branch(capacitor(2.2e-9))
    open_end, earthed = (hit(case_of(lead.format(end), bridge=bridge), "discharge") for end in ("open", "earthed"))
    gap = np.abs(open_end.v_region_v["s"] - earthed.v_region_v["s"])
    back_s = 2.0 * 9.0 / 299_792_458.0
    assert gap[open_end.t_s < back_s - 0.5e-9].max() < 2e-3 * open_end.v_region_v["s"].max()
    assert gap.max() > 0.5 * open_end.v_region_v["s"].max()


@pytest.mark.parametrize("kind", sorted(KINDS))
@pytest.mark.parametrize("into", ["p", "s", "chassis"])
def test_currents_close_at_every_region(kind: str, into: str) -> None:
    case = case_of(
        EARTHED,
        STRAY,
        coupling("gap", "p", "s", capacitor(1.5e-12)),
        coupling("case", "chassis", "earth", capacitor(80e-12)),
        coupling("tie", "s", "chassis", capacitor(1e-9)),
        bridge=branch(capacitor(1e-9, 'esr = 0.2, esl = "9 nH"'), inductance(6e-9)),
        others='["chassis"]',
    )
    found = hit(case, kind, into)
    for region in case.regions:
        leaving = sum(
            (
                each.current_a * (1.0 if each.ends[0] == region else -1.0)
                for each in found.currents
                if region in each.ends
            ),
            start=np.zeros(found.t_s.size),
        )
        entering = found.injected_a if region == into else 0.0
        assert np.abs(leaving - entering).max() < 1e-9 * np.abs(found.injected_a).max()
    assert found.v_pair_v == pytest.approx(found.v_region_v["s"] - found.v_region_v["p"], abs=1e-9 * 4e3)


def test_twice_the_level_gives_twice_everything() -> None:
    case = case_of(EARTHED, STRAY, bridge=branch(capacitor(1e-9)))
    one, two = hit(case, "discharge", level_v=2e3), hit(case, "discharge", level_v=4e3)
    assert two.v_pair_v == pytest.approx(2.0 * one.v_pair_v, abs=1e-6)
    assert two.settled.pair_bleed_s == one.settled.pair_bleed_s


def test_peaks_meet_ratings() -> None:
    rated = capacitor(1e-9, 'safety_class = "Y2", withstand = 2000, rated_voltage = 300')
    found = hit(case_of(EARTHED, STRAY, bridge=branch(rated)), "surge", level_v=4e3)
    by_name = {check.rating: check for check in found.checks}
    assert set(by_name) == {"impulse of its class", "withstand", "rated voltage"}
    assert by_name["withstand"].peak_v == pytest.approx(4e3 * 1.016, rel=1e-2)
    assert by_name["withstand"].margin_db == pytest.approx(20.0 * math.log10(2e3 / by_name["withstand"].peak_v))
    assert not by_name["withstand"].holds
    assert by_name["impulse of its class"].holds
    assert [name for name, check in by_name.items() if check.decides] == ["impulse of its class"]
    assert found.checks[0].rating == "impulse of its class"
    assert "not a certification" in found.caution == CAUTION


def test_without_a_class_the_withstand_voltage_decides() -> None:
    rated = capacitor(1e-9, "withstand = 2000, rated_voltage = 300")
    found = hit(case_of(EARTHED, STRAY, bridge=branch(rated)), "surge", level_v=4e3)
    assert [check.rating for check in found.checks if check.decides] == ["withstand"]
    assert not found.checks[0].holds


def test_series_capacitors_share() -> None:
    bridge = branch(capacitor(4.7e-9, "withstand = 2000"), capacitor(2.2e-9, "withstand = 2000"))
    first, second = (peak for peak in hit(case_of(EARTHED, bridge=bridge), "surge").peaks if peak.path == "branch 1")
    assert first.peak_v / second.peak_v == pytest.approx(2.2 / 4.7, rel=1e-6)
    assert first.peak_a == second.peak_a


@pytest.mark.parametrize(
    ("safety_class", "farad", "impulse_v"),
    [
        ("Y1", 2.2e-9, 8e3),
        ("Y2", 2.2e-9, 5e3),
        ("Y2", 2.2e-6, 3371.0),
        ("Y3", 1e-9, None),
        ("Y4", 1e-9, 2.5e3),
        (None, 1e-9, None),
    ],
)
def test_impulse_of_a_class(safety_class: str | None, farad: float, impulse_v: float | None) -> None:
    found = class_impulse_v(Capacitor(capacitance_f=farad, rating=Rating(safety_class=safety_class)))
    assert found == (None if impulse_v is None else pytest.approx(impulse_v, rel=1e-4))


def test_a_pair_that_only_one_end_ties_to_earth_rises_together() -> None:
    found = hit(case_of(STRAY, bridge=branch(capacitor(1e-9))), "discharge")
    assert found.peak_v < 1e-6
    assert found.settled.region_v == pytest.approx(4e3 * 150.0 / 250.0, rel=1e-4)
    assert "no current crosses the pair" in found.notes[0]


def test_a_core_says_that_it_saturates() -> None:
    bead = '{ kind = "bead", rdc = 0.3, cells = [{ resistance = 700, inductance = "1.39 uH" }] }'
    found = hit(case_of(EARTHED, bridge=branch(bead)), "discharge")
    assert any("saturates" in note for note in found.notes)
    assert found.peak_v < 700.0 * 15.0


@pytest.mark.parametrize(
    "wrong",
    [{"kind": "lightning"}, {"level_v": 0.0}, {"level_v": math.nan}, {"level_v": math.inf}, {"via": "clamp"}],
)
def test_an_event_of_no_standard_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(QuantityError, match="accepted"):
        Event(**{"kind": "discharge", "into": "s", "level_v": 4e3, **wrong})  # type: ignore[arg-type]


def test_an_event_into_no_region_is_refused() -> None:
    with pytest.raises(QuantityError, match='"p", "s"'):
        hit(case_of(EARTHED, bridge=branch(capacitor(1e-9))), "discharge", into="moon")
