"""Sizing and damping: 20 nH, 2.2 nF against 100 pF."""

from __future__ import annotations

import math

from models.formulas import damping, resonance
from tests.truth.bodynet_table import most
from tests.truth.row import Row

BRIDGE = {"bridge_f": 2.2e-9, "inductance_h": 20e-9, "gap_f": 100e-12}
ROWS = (
    *(
        Row(
            id=f"most for {1e3 * limit:g} mA",
            section="13",
            function=most,
            args={"limit_a": limit, "voltage_v": 264.0, "f_hz": 60.0},
            expected=capacitance,
            digits=3,
        )
        for limit, capacitance in ((0.25e-3, 2.09e-9), (0.5e-3, 4.19e-9))
    ),
    Row(
        id="10 nH at 100 MHz",
        section="13",
        function=lambda: 2.0 * math.pi * 100e6 * 10e-9,
        expected=6.283,
    ),
    *(
        Row(
            id=f"{name} of {capacitance:g}",
            section="13",
            function=function,
            args={"inductance_h": 20e-9, "capacitance_f": capacitance},
            expected=value,
        )
        for name, function, capacitance, value in (
            ("resonance", resonance.resonance_hz, 2.2e-9, 23.99e6),
            ("√(L/C)", resonance.characteristic_ohm, 2.2e-9, 3.015),
            ("√(L/C)", resonance.characteristic_ohm, 100e-12, 14.14),
        )
    ),
    Row(id="anti-resonance", section="13", function=damping.antiresonance_hz, args=BRIDGE, expected=115.1e6),
    *(
        Row(
            id=f"peak with {resistance:g} Ω",
            section="13",
            function=damping.antiresonance_peak,
            args={**BRIDGE, "resistance_ohm": resistance},
            expected=peak,
        )
        for resistance, peak in ((0.2, 956.6), (3.0, 65.25), (14.14, 19.95))
    ),
    *(
        Row(
            id=f"10 MHz with {resistance:g} Ω",
            section="13",
            function=damping.bridged_gap_impedance,
            args={"f_hz": 10e6, **BRIDGE, "resistance_ohm": resistance},
            read=abs,
            expected=size,
        )
        for resistance, size in ((0.2, 5.765), (14.14, 14.74))
    ),
)
