"""Discharge, burst, surge: shapes, charges, voltages."""

from __future__ import annotations

import math
from functools import cache

from models.formulas import burst, discharge, pulse, surge
from tests.truth.row import Row
from tests.truth.shape import Screen


@cache
def contact(stop_s: float) -> Screen:
    return Screen(lambda t: discharge.contact_current(t, 4e3), stop_s)


def at(t_s: float) -> float:
    return float(discharge.contact_current(t_s, 4e3))


@cache
def fast_transient() -> Screen:
    return Screen(lambda t: burst.burst_pulse(t, 2.0), 200e-9)


@cache
def surge_wave() -> Screen:
    return Screen(lambda t: surge.surge_voltage(t, 1.0), 100e-6)


TIME_CONSTANT = math.exp(-1.0)
ROWS = (
    *(
        Row(
            id=f"k {decay:g}",
            section="10.1",
            function=pulse.correction,
            args={"rise_s": rise, "decay_s": decay, "exponent": 1.8},
            expected=k,
        )
        for rise, decay, k in ((1.1e-9, 2e-9, 0.3455), (12e-9, 37e-9, 0.4315))
    ),
    Row(id="first peak", section="10.1", function=lambda: contact(10e-9).top(), expected=14.92),
    Row(id="time of it", section="10.1", function=lambda: contact(10e-9).top_s(), expected=1.460e-9),
    Row(id="rise", section="10.1", function=lambda: contact(10e-9).rise_s(), expected=0.8110e-9),
    Row(id="at 30 ns", section="10.1", function=at, args={"t_s": 30e-9}, expected=8.035),
    Row(id="at 60 ns", section="10.1", function=at, args={"t_s": 60e-9}, expected=4.035),
    Row(id="slope", section="10.1", function=lambda: contact(10e-9).slope(), expected=18.74e9),
    Row(id="charge", section="10.1", function=lambda: contact(1e-6).area(), expected=584.8e-9),
    Row(id="gun", section="10.1", function=discharge.gun_charge, args={"level_v": 4e3}, expected=600.0e-9),
    *(
        Row(
            id=f"shared {total:g} from {source:g}",
            section="10.2",
            function=discharge.shared_voltage,
            args={"level_v": 8e3, "total_f": total, "source_f": source},
            expected=voltage,
        )
        for source, column in (
            (150e-12, ((100e-12, 4800.0), (1e-9, 1043.0), (2.2e-9, 510.6), (4.7e-9, 247.4))),
            (330e-12, ((100e-12, 6140.0), (1e-9, 1985.0), (2.2e-9, 1043.0), (4.7e-9, 524.9))),
        )
        for total, voltage in column
    ),
    *(
        Row(
            id=f"fast {inductance:g}",
            section="10.2",
            function=discharge.fast_voltage,
            args={"level_v": 4e3, "inductance_h": inductance},
            expected=voltage,
            digits=3,
        )
        for inductance, voltage in ((1e-9, 18.7), (10e-9, 187.0))
    ),
    *(
        Row(
            id=f"bleed {resistance:g} to {share:.3g}",
            section="10.2",
            function=discharge.bleed_time,
            args={"resistance_ohm": resistance, "capacitance_f": capacitance, "share_left": share},
            expected=time,
        )
        for resistance, capacitance, share, time in (
            (1e6, 1.15e-9, TIME_CONSTANT, 1.150e-3),
            (1e6, 1.15e-9, 0.01, 5.296e-3),
            (940e3, 1e-9, TIME_CONSTANT, 0.9400e-3),
        )
    ),
    Row(id="top", section="10.3", function=lambda: fast_transient().top(), expected=1.003),
    Row(id="rise", section="10.3", function=lambda: fast_transient().rise_s(), expected=5.12e-9, digits=3),
    Row(id="width", section="10.3", function=lambda: fast_transient().width_s(), expected=49.4e-9, digits=3),
    Row(
        id="clamp",
        section="10.3",
        function=pulse.capacitive_share,
        args={"voltage_v": 2e3, "coupling_f": burst.CLAMP_F, "other_f": 2.2e-9},
        expected=86.96,
    ),
    Row(id="voltage top", section="10.4", function=lambda: surge_wave().top(), expected=1.016),
    Row(
        id="voltage front",
        section="10.4",
        function=lambda: 1.67 * surge_wave().rise_s(0.3, 0.9),
        expected=1.272e-6,
    ),
    Row(id="voltage width", section="10.4", function=lambda: surge_wave().width_s(), expected=49.86e-6),
    Row(
        id="barrier",
        section="10.4",
        function=pulse.capacitive_share,
        args={"voltage_v": 4e3, "coupling_f": 100e-12, "other_f": 2.2e-9},
        expected=173.9,
    ),
)
