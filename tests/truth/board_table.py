"""The board: vias, planes, gaps, overlaps, and return currents across a split."""

from __future__ import annotations

import math
from operator import attrgetter

import numpy as np

from models.case.document import Branch, Candidate, Case, Pair
from models.estimate.flat import Detour
from models.formulas import gap, overlap, plane, via
from models.formulas.constants import LIGHT_M_PER_S
from models.network.solver import Solver
from models.outcomes.common_mode import CommonMode, common_mode
from models.parts.copper import Copper
from models.parts.plane_gap import PlaneGap
from models.sources.current import Ripple
from models.sources.triangle import Triangle, triangle_coefficients
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
OPEN, SHORTED = 0.5, 0.25
NARROW = gap.gap_line(1e-3, 20e-3, 20e-3, **FR4)


def line_of(gap_m: float, depth_m: float, board_m: float = 1.6e-3, permittivity: float = 4.3) -> gap.GapLine:
    return gap.gap_line(gap_m, depth_m, depth_m, board_m, permittivity)


def voltage_over_5_nh(current_a: float, f_hz: float) -> float:
    part = Copper(inductance_h=5e-9)
    return current_a * abs(complex(part.impedance(np.array([2.0 * math.pi * f_hz]))[0]))


def detour(ends: int) -> float:
    return Detour(distance_m=20e-3, gap_m=1e-3, depth_m=20e-3, ends=ends).result().amounts[0].value


def slot_resonance_hz(permittivity: float, waves: float) -> float:
    """Frequency at which a gap of 100 mm, seen from its end, is so many waves long: it is shorted, or open."""
    part = PlaneGap(gap_m=1e-3, length_m=0.1, depth_m=20e-3, permittivity=permittivity, feed=0.0)
    f = np.linspace(0.9, 1.1, 200_001) * waves * LIGHT_M_PER_S / (0.1 * math.sqrt(part.line().permittivity))
    size = np.abs(part.impedance(2.0 * math.pi * f))
    return float(f[np.argmin(size) if waves == SHORTED else np.argmax(size)])


def ripple() -> CommonMode:
    """0.5 A peak to peak at 100 kHz over 5 mΩ and 5 nH."""
    bridge = Copper(resistance_ohm=5e-3, inductance_h=5e-9)
    candidate = Candidate(name="it", branches=(Branch(parts=(bridge,)),))
    source = Ripple(name="ripple", between=("a", "b"), amplitude_a=0.5, wave=Triangle(frequency_hz=100e3))
    case = Case(pair=Pair(a="a", b="b"), candidates=(candidate,), sources=(source,))
    return common_mode(Solver(), case, candidate, source)


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
    Row(
        id="sine",
        section="11",
        function=voltage_over_5_nh,
        args={"current_a": 1e-3, "f_hz": 100e6},
        expected=3.142e-3,
    ),
    *(
        Row(
            id=f"detour, {ends}",
            section="11",
            function=detour,
            args={"ends": ends},
            expected=inductance,
        )
        for ends, inductance in ((1, 7.741e-9), (2, 3.871e-9))
    ),
    Row(
        id="detour at 100 MHz",
        section="11",
        function=lambda: 2.0 * math.pi * 100e6 * detour(2),
        expected=2.432,
    ),
    Row(id="no bridge", section="11", function=lambda: 0.5 * NARROW.impedance_ohm, expected=44.70),
    *(
        Row(
            id=f"slot, {permittivity:g}, {waves:g} waves",
            section="11",
            function=slot_resonance_hz,
            args={"permittivity": permittivity, "waves": waves},
            expected=f,
        )
        # the sheet prints 577.4, from an ε_eff rounded to 1.685
        for permittivity, waves, f in ((1.0, OPEN, 1499e6), (4.3, SHORTED, 577.3e6))
    ),
    Row(
        id="ripple",
        section="11",
        function=lambda: 2.0 * 0.5 * abs(triangle_coefficients(np.array([1.0]), 0.5)[0]),
        expected=0.2026,
    ),
    Row(id="ripple voltage", section="11", function=lambda: 2.0 * abs(ripple().coefficients[1]), expected=1.197e-3),
)
