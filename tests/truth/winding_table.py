"""Interwinding coupling: shares by construction, gap voltage, sizing."""

from __future__ import annotations

from models.formulas import winding
from tests.truth.row import Row

DRIVE = {"switch_v": 400.0, "hot_f": 40e-12, "cold_f": 60e-12}
ROWS = (
    *(
        Row(
            id=f"single layer {sense}",
            section="4.1",
            function=winding.single_layer_share,
            args={"turns_ratio": 10 / 60, "sense": sense},
            expected=share,
        )
        for sense, share in (("same", 0.4167), ("opposite", 0.5833))
    ),
    *(
        Row(
            id=f"three layers {facing}",
            section="4.1",
            function=winding.layered_share,
            args={"layers": 3, "facing": facing},
            expected=share,
        )
        for facing, share in (("hot", 0.8333), ("cold", 0.1667))
    ),
    Row(id="quiet secondary", section="4.1", function=winding.single_layer_share, expected=0.5),
    Row(
        id="edge",
        section="4.2",
        function=winding.displacement_current,
        args={"capacitance_f": 40e-12, "slope_v_per_s": 10e9},
        expected=0.4000,
    ),
    *(
        Row(
            id=f"gap voltage {bridge:g}",
            section="4.2",
            function=winding.gap_voltage,
            args={**DRIVE, "bridge_f": bridge},
            expected=voltage,
        )
        for bridge, voltage in ((0.0, 160.0), (470e-12, 28.07), (1e-9, 14.55), (2.2e-9, 6.957))
    ),
    *(
        Row(
            id=f"least capacitor {wanted:g} V",
            section="4.2",
            function=winding.least_bridge_capacitance,
            args={**DRIVE, "wanted_v": wanted},
            expected=capacitance,
        )
        for wanted, capacitance in ((10.0, 1.500e-9), (5.0, 3.100e-9))
    ),
)
