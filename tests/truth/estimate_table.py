"""Formulas that only estimates use: bodies, facing layers, wires side by side. Worked by hand."""

from __future__ import annotations

from models.formulas import copper, line, stray, winding
from tests.truth.row import Row

BOX = {"length_m": 0.2, "width_m": 0.15, "thickness_m": 0.05}
ROWS = (
    # S = 0.095 m², 8.854 pF/m · √(4π · 0.095)
    Row(id="free box", section="estimate", function=stray.free_body_capacitance, args=BOX, expected=9.674e-12),
    # 8.854 pF/m · 2/π · 0.7 m · ln 1.5
    Row(
        id="walls",
        section="estimate",
        function=stray.wall_capacitance,
        args={"perimeter_m": 0.7, "thickness_m": 0.05, "height_m": 0.1},
        expected=1.600e-12,
    ),
    # 2.656 + 1.600 + 9.674
    Row(
        id="box over plane",
        section="estimate",
        function=stray.body_over_plane_capacitance,
        args={**BOX, "height_m": 0.1},
        expected=13.93e-12,
    ),
    # 27.82 pF/m · 1.1 · 0.3 m/acosh 2.5
    Row(
        id="lead to lead",
        section="estimate",
        function=line.wire_pair_capacitance,
        args={"length_m": 0.3, "spacing_m": 10e-3, "diameter_m": 4e-3, "permittivity": 1.1},
        expected=5.859e-12,
    ),
    # 2 · 8.854 pF/m · 3 · 45 mm · 10 mm/0.2 mm
    Row(
        id="sandwich",
        section="estimate",
        function=winding.facing_capacitance,
        args={"mean_turn_m": 45e-3, "width_m": 10e-3, "insulation_m": 0.2e-3, "permittivity": 3.0, "interfaces": 2},
        expected=119.5e-12,
    ),
    # 8.854 pF/m · 3 · 45 mm · 10 mm/(0.2 mm + 0.033 mm)
    Row(
        id="layers of wire",
        section="estimate",
        function=winding.facing_capacitance,
        args={
            "mean_turn_m": 45e-3,
            "width_m": 10e-3,
            "insulation_m": 0.2e-3,
            "permittivity": 3.0,
            "wire_m": 0.3e-3,
        },
        expected=51.30e-12,
    ),
    *(
        Row(
            id=f"both ends, {layers}",
            section="estimate",
            function=winding.two_ended_share,
            args={"layers": layers},
            expected=share,
        )
        for layers, share in ((1, 0.0), (2, 0.5), (4, 0.75))
    ),
    # halves of 55 and 45 % at ±0.5: 0.275 − 0.225
    Row(id="uneven", section="estimate", function=winding.uneven_share, args={"imbalance": 0.1}, expected=0.05),
    # 0.2 µH/m · (50 mm · 2.5958 − 50.559 mm + 7.5 mm)
    Row(
        id="wires side by side",
        section="estimate",
        function=copper.wire_mutual_inductance,
        args={"length_m": 50e-3, "spacing_m": 7.5e-3},
        expected=17.35e-9,
    ),
)
