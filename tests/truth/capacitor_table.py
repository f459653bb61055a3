"""Capacitors: loss, leads, resonance, bias, leakage, safety classes."""

from __future__ import annotations

import math

import numpy as np

from models.decide.barrier import series_withstand_v
from models.formulas import capacitor, resonance
from models.parts.capacitor import Capacitor
from models.parts.part import Rating
from tests.truth.row import Row


def loss_ohm(
    f_hz: float, capacitance_f: float, tan_delta: float, metal_ohm: float = 0.0, skin_hz: float | None = None
) -> float:
    """Resistance of a part whose capacitance is stated for the series form, C/(1 + tan²δ) for the parallel one."""
    part = Capacitor(
        capacitance_f=capacitance_f / (1.0 + tan_delta**2),
        dissipation_factor=tan_delta,
        metal_resistance_ohm=metal_ohm,
        metal_corner_hz=skin_hz,
    )
    return float(part.impedance(np.array([2.0 * math.pi * f_hz]))[0].real)


def series_share(tolerance: float) -> float:
    """Greatest share of the voltage on one of two like capacitors, from what both together withstand."""
    part = Capacitor(capacitance_f=1e-9, rating=Rating(tolerance=tolerance, withstand_v=1.0))
    together = series_withstand_v((part, part))
    assert together is not None
    return 1.0 / together


ROWS = (
    *(
        Row(
            id=f"ESR {f:g}",
            section="2.1",
            function=loss_ohm,
            args={"f_hz": f, "capacitance_f": 2.2e-9, "tan_delta": 0.025},
            expected=loss,
        )
        for f, loss in ((1e6, 1.809), (1e7, 0.1809))
    ),
    Row(
        id="ESR with metal",
        section="2.1",
        function=loss_ohm,
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
    Row(id="series share", section="2.5", function=series_share, args={"tolerance": 0.2}, expected=0.6000),
)
