"""Capacitors: loss, leads, resonance, bias, leakage, safety classes."""

from __future__ import annotations

from models.formulas import capacitor, resonance
from tests.truth.row import Row

ROWS = (
    *(
        Row(
            id=f"ESR {f:g}",
            section="2.1",
            function=capacitor.esr,
            args={"f_hz": f, "capacitance_f": 2.2e-9, "tan_delta": 0.025},
            expected=loss,
        )
        for f, loss in ((1e6, 1.809), (1e7, 0.1809))
    ),
    Row(
        id="ESR with metal",
        section="2.1",
        function=capacitor.esr,
        args={"f_hz": 30e6, "capacitance_f": 1e-9, "tan_delta": 0.02, "metal_ohm": 0.03, "skin_hz": 10e6},
        expected=0.1661,
    ),
    Row(
        id="lead pair",
        section="2.2",
        function=capacitor.lead_pair_inductance,
        args={"length_m": 1e-3, "spacing_m": 10e-3, "diameter_m": 0.6e-3},
        expected=1.402e-9,
    ),
    *(
        Row(
            id=f"self-resonance {capacitance:g}",
            section="2.2",
            function=resonance.resonance_hz,
            args={"inductance_h": inductance, "capacitance_f": capacitance},
            expected=f,
        )
        for capacitance, inductance, f in (
            (2.2e-9, 8e-9, 37.94e6),
            (1e-9, 8e-9, 56.27e6),
            (4.7e-9, 10e-9, 23.22e6),
            (100e-9, 0.6e-9, 20.55e6),
        )
    ),
    Row(
        id="√(L/C)",
        section="2.2",
        function=resonance.characteristic_ohm,
        args={"inductance_h": 8e-9, "capacitance_f": 2.2e-9},
        expected=1.907,
    ),
    Row(
        id="bias",
        section="2.3",
        function=capacitor.bias_ratio,
        args={"voltage_v": 25.0, "half_v": 20.0, "exponent": 1.8},
        expected=0.4009,
    ),
    Row(id="leak", section="2.4", function=capacitor.leak_resistance, args={"capacitance_f": 100e-9}, expected=5.0e9),
    Row(
        id="self-discharge",
        section="2.4",
        function=lambda capacitance_f: capacitance_f * capacitor.leak_resistance(capacitance_f),
        args={"capacitance_f": 1e-9},
        expected=10.00,
    ),
    Row(id="Y2", section="2.5", function=capacitor.impulse_voltage, args={"capacitance_f": 2.2e-6}, expected=3371.0),
    Row(id="series share", section="2.5", function=capacitor.series_share, args={"tolerance": 0.2}, expected=0.6000),
)
