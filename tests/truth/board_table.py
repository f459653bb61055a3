"""The board: vias, planes, gaps, overlaps, and return currents across a split."""

from __future__ import annotations

import math
from operator import attrgetter

from models.formulas import gap, overlap, plane, return_plane, via
from tests.truth.row import Row

VIA = {"length_m": 1.6e-3, "diameter_m": 0.3e-3}
FR4 = {"board_m": 1.6e-3, "permittivity": 4.3}
OVERLAP = {"width_m": 20e-3, "length_m": 10e-3, "separation_m": 0.4e-3, "permittivity": 4.3}
LINES = (
    (1e-3, 20e-3, 28.75e-12, 48.44e-12, 1.685, 0.3871e-6, 89.39),
    (3e-3, 30e-3, 24.97e-12, 35.57e-12, 1.424, 0.4456e-6, 111.9),
    (6e-3, 30e-3, 21.32e-12, 27.63e-12, 1.296, 0.5219e-6, 137.4),
    (8e-3, 40e-3, 21.32e-12, 26.29e-12, 1.233, 0.5219e-6, 140.9),
)
NARROW = gap.gap_line(1e-3, 20e-3, 20e-3, **FR4)


def line_of(gap_m: float, depth_m: float, board_m: float = 1.6e-3, permittivity: float = 4.3) -> gap.GapLine:
    return gap.gap_line(gap_m, depth_m, depth_m, board_m, permittivity)


def signal_edge_voltage() -> float:
    return return_plane.edge_voltage(10e-9, 3.3 / 50.0, 1e-9)


def sine_voltage() -> float:
    return 1e-3 * abs(complex(return_plane.crossing_impedance(100e6, 0.0, 5e-9, 1.0)))


def net_voltage() -> float:
    return 2.0 * math.pi * 100e6 * return_plane.plane_net_inductance(10e-3, 0.2e-3) * 0.1 * 10e-3


def ripple_voltage() -> float:
    return abs(return_plane.triangle_harmonic(0.5, 1) * (5e-3 + 2j * math.pi * 100e3 * 5e-9))


def _line_rows() -> list[Row]:
    rows = []
    for g, depth, air, whole, effective, inductance, impedance in LINES:
        name = f"{1e3 * g:g}, {1e3 * depth:g} mm"
        args = {"gap_m": g, "depth_m": depth}
        rows.append(
            Row(
                id=f"air {name}",
                section="3.5",
                function=gap.gap_air_capacitance,
                args={"gap_m": g, "depth_a_m": depth, "depth_b_m": depth},
                expected=air,
            )
        )
        rows += [
            Row(
                id=f"{field} {name}", section="3.5", function=line_of, args=args, read=attrgetter(field), expected=value
            )
            for field, value in (
                ("capacitance_f_per_m", whole),
                ("permittivity", effective),
                ("inductance_h_per_m", inductance),
                ("impedance_ohm", impedance),
            )
        ]
    return rows


ROWS = (
    Row(id="via", section="3.3", function=via.via_partial_inductance, args=VIA, expected=0.5429e-9),
    Row(id="via rule", section="3.3", function=via.via_inductance_by_rule, args=VIA, expected=1.299e-9),
    Row(
        id="via pair",
        section="3.3",
        function=via.via_pair_inductance,
        args={**VIA, "spacing_m": 1e-3},
        expected=1.199e-9,
    ),
    *(
        Row(
            id=f"strip {1e3 * width:g} over {1e3 * height:g}",
            section="3.4",
            function=plane.strip_over_plane_inductance,
            args={"width_m": width, "height_m": height},
            expected=inductance,
        )
        for width, height, inductance in ((2e-3, 0.2e-3, 0.09652e-6), (1e-3, 1.5e-3, 0.4997e-6))
    ),
    Row(
        id="via spreading",
        section="3.4",
        function=plane.via_spreading_inductance,
        args={"separation_m": 0.4e-3, "via_radius_m": 0.3e-3, "outer_radius_m": 20e-3},
        expected=0.3360e-9,
    ),
    *_line_rows(),
    *(
        Row(
            id=f"against the field solution {1e3 * g:g}, {1e3 * depth:g}, {permittivity:g}",
            section="3.5",
            function=line_of,
            args={"gap_m": g, "depth_m": depth, "board_m": board, "permittivity": permittivity},
            read=attrgetter("capacitance_f_per_m"),
            expected=capacitance,
        )
        for g, depth, permittivity, board, capacitance in (
            (3e-3, 12e-3, 1.0, 1.6e-3, 20.18e-12),
            (3e-3, 12e-3, 4.3, 1.6e-3, 30.78e-12),
            (1e-3, 10e-3, 4.3, 1.6e-3, 44.66e-12),
            (6e-3, 20e-3, 4.3, 0.8e-3, 22.76e-12),
        )
    ),
    Row(
        id="unequal depths",
        section="3.5",
        function=gap.gap_air_capacitance,
        args={"gap_m": 3e-3, "depth_a_m": 30e-3, "depth_b_m": 60e-3},
        expected=26.55e-12,
    ),
    Row(
        id="safety gap of 60 mm",
        section="3.5",
        function=lambda: 60e-3 * line_of(8e-3, 40e-3).capacitance_f_per_m,
        expected=1.577e-12,
    ),
    Row(id="plates", section="3.6", function=overlap.plate_capacitance, args=OVERLAP, expected=19.04e-12),
    Row(id="overlap", section="3.6", function=overlap.overlap_capacitance, args=OVERLAP, expected=21.39e-12),
    Row(id="edge", section="11", function=signal_edge_voltage, expected=0.6600),
    Row(id="sine", section="11", function=sine_voltage, expected=3.142e-3),
    *(
        Row(
            id=f"detour, {sides}",
            section="11",
            function=return_plane.detour_inductance,
            args={"inductance_h_per_m": NARROW.inductance_h_per_m, "distance_m": 20e-3, "sides": sides},
            expected=inductance,
        )
        for sides, inductance in ((1, 7.741e-9), (2, 3.871e-9))
    ),
    Row(
        id="detour at 100 MHz",
        section="11",
        function=return_plane.crossing_impedance,
        args={
            "f_hz": 100e6,
            "bridge_ohm": 0.0,
            "inductance_h_per_m": NARROW.inductance_h_per_m,
            "distance_m": 20e-3,
            "sides": 2,
        },
        expected=2.432j,
    ),
    Row(id="no bridge", section="11", function=lambda: 0.5 * NARROW.impedance_ohm, expected=44.70),
    Row(
        id="detour rule",
        section="11",
        function=return_plane.detour_inductance_by_rule,
        args={"distance_m": 25.4e-3, "trace_m": 0.254e-3},
        expected=23.03e-9,
    ),
    *(
        Row(
            id=f"net inductance {1e3 * width:g}, {1e3 * offset:g}",
            section="11",
            function=return_plane.plane_net_inductance,
            args={"width_m": width, "height_m": 0.2e-3, "offset_m": offset},
            expected=inductance,
        )
        for width, offset, inductance in ((50e-3, 0.0, 1.600e-9), (10e-3, 0.0, 7.998e-9), (10e-3, 4e-3, 13.27e-9))
    ),
    Row(id="net voltage", section="11", function=net_voltage, expected=5.025e-3),
    *(
        Row(
            id=f"slot {permittivity:g} {ends}",
            section="11",
            function=return_plane.slot_resonance_hz,
            args={"length_m": 0.1, "permittivity": permittivity, "ends": ends},
            expected=f,
        )
        for permittivity, ends, f in (
            (2.65, "alike", 920.8e6),
            (1.0, "alike", 1499e6),
            (1.685, "open-closed", 577.4e6),
        )
    ),
    # the sheet's 362.5 − j210.9 Ω follows from a dipole of 73.13 + j42.54 Ω, which belongs to η0 = 120π
    Row(
        id="slot against dipole",
        section="11",
        function=return_plane.slot_impedance,
        args={"dipole_ohm": 73.08 + 42.52j},
        expected=362.7 - 211.0j,
    ),
    Row(
        id="bridge spacing",
        section="11",
        function=return_plane.bridge_spacing,
        args={"f_hz": 1e9, "permittivity": 4.3},
        expected=7.229e-3,
    ),
    Row(
        id="ripple",
        section="11",
        function=return_plane.triangle_harmonic,
        args={"peak_to_peak": 0.5, "order": 1},
        expected=0.2026,
    ),
    Row(id="ripple voltage", section="11", function=ripple_voltage, expected=1.197e-3),
)
