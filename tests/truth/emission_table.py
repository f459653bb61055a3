"""Conducted measurement, receiver, limits."""

from __future__ import annotations

import cmath
import math

import numpy as np

from models.arrays import Real
from models.case.document import Branch, Candidate, Case, Coupling, Pair, Transformer
from models.formulas import levels, lisn, receiver, resonance
from models.network.grid import point_grid
from models.network.solver import Solver
from models.outcomes.reading import Emission
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.resistor import Resistor
from models.sources.switch_node import SwitchNode
from models.sources.trapezoid import Trapezoid
from tests.truth.row import Row

SMALL = {"series_ohm": 0.0}
LOW = {"series_ohm": 5.0}
# f, |Z| and angle of 50 µH ‖ 50 Ω, |Z| and angle of (50 µH + 5 Ω) ‖ 50 Ω
NETWORKS = (
    (9e3, 2.823, None, 5.215, 26.54),
    (20e3, 6.234, None, 7.253, 44.97),
    (100e3, 26.60, None, 25.11, 51.22),
    (150e3, 34.29, 46.70, 32.71, 43.35),
    (500e3, 47.64, None, 47.21, None),
    (1e6, 49.38, None, 49.26, None),
    (30e6, 50.00, None, 50.00, None),
)
# order, Y-capacitor, levels with the secondary earthed, floating with 30 pF, earthed with a 5 mH choke
CHAIN = (
    (2, 0.0, 96.46, 83.72, 110.0),
    (2, 2.2e-9, 96.43, 58.65, 71.77),
    (51, 0.0, 100.1, 87.36, 45.90),
    (51, 2.2e-9, 93.67, 62.29, 18.65),
    (101, 0.0, 98.41, 85.78, 32.45),
    (101, 2.2e-9, 86.96, 60.71, 5.206),
)


def angle_deg(z: object) -> float:
    return math.degrees(cmath.phase(complex(z)))  # type: ignore[call-overload]


def level_for(current_a: float) -> float:
    return float(levels.level_dbuv(lisn.line_voltage(current_a)))


def chain_level(order: int, bridge_f: float, stray_f: float | None = None, choke_h: float = 0.0) -> float:
    """Level on a line of a harmonic that 40 pF drive and 60 pF hold, 25 Ω of the network being in the loop."""
    line: tuple[Part, ...] = (Resistor(resistance_ohm=25.0), *((Inductor(inductance_h=choke_h),) if choke_h else ()))
    back: tuple[Part, ...] = (Copper() if stray_f is None else Capacitor(capacitance_f=stray_f),)
    bridge = (Branch(parts=(Capacitor(capacitance_f=bridge_f),)),) if bridge_f else ()
    candidate = Candidate(name="it", branches=bridge)
    wave = Trapezoid(frequency_hz=100e3, duty=0.4, rise_s=50e-9, fall_s=20e-9)
    source = SwitchNode(name="switch", through="T", amplitude_v=400.0, wave=wave)
    case = Case(
        pair=Pair(a="hot", b="out"),
        transformers=(
            Transformer(name="T", between=("hot", "out"), interwinding_capacitance_f=100e-12, driven_fraction=0.4),
        ),
        couplings=(
            Coupling(name="line", between=("hot", "earth"), parts=line),
            Coupling(name="back", between=("out", "earth"), parts=back),
        ),
        candidates=(candidate,),
        sources=(source,),
    )
    grid = point_grid((order * 100e3,))
    rise = Solver().response(case, candidate, source, grid).rise("hot", "earth")[0]
    through = complex(rise) / (25.0 + 1j * float(grid.omega[0]) * choke_h)
    drive = 400.0 * math.sqrt(2.0) * abs(wave.coefficients(order)[order])
    return float(levels.level_dbuv(lisn.line_voltage(drive * through)))


def reading_of(v_rms: Real, spacing_hz: float, f_hz: float) -> float:
    """Peak reading at one of many lines."""
    emission = Emission(source="s", spacing_hz=spacing_hz, first=1, v_rms=v_rms, noise_like=False, field=False)
    return float(emission.read("peak")[round(f_hz / spacing_hz) - 1])


def five_lines() -> float:
    """Five equal lines at 65 kHz in the filter of 120 kHz."""
    lines = np.zeros(1100)
    lines[997:1002] = 1.0
    return reading_of(lines, 65e3, 1000 * 65e3)


def _network_rows() -> list[Row]:
    rows = []
    for f, small, small_angle, low, low_angle in NETWORKS:
        for name, kind, size, angle in (("small", SMALL, small, small_angle), ("low", LOW, low, low_angle)):
            args = {"f_hz": f, **kind}
            rows.append(
                Row(
                    id=f"{name} {f:g}",
                    section="6.1",
                    function=lisn.network_impedance,
                    args=args,
                    read=abs,
                    expected=size,
                )
            )
            if angle is not None:
                rows.append(
                    Row(
                        id=f"{name} {f:g} angle",
                        section="6.1",
                        function=lisn.network_impedance,
                        args=args,
                        read=angle_deg,
                        expected=angle,
                    )
                )
    return rows


def _chain_rows() -> list[Row]:
    rows = []
    for order, bridge, earthed, floating, choked in CHAIN:
        for name, extra, level in (
            ("earthed", {}, earthed),
            ("floating", {"stray_f": 30e-12}, floating),
            ("choke", {"choke_h": 5e-3}, choked),
        ):
            rows.append(
                Row(
                    id=f"harmonic {order}, {bridge:g}, {name}",
                    section="6.3",
                    function=chain_level,
                    args={"order": order, "bridge_f": bridge, **extra},
                    expected=level,
                )
            )
    return rows


ROWS = (
    *_network_rows(),
    Row(
        id="both lines at 150 kHz",
        section="6.2",
        function=lisn.common_mode_impedance,
        args={"f_hz": 150e3, **LOW},
        read=abs,
        expected=16.36,
    ),
    Row(id="10 µA", section="6.2", function=lisn.line_voltage, args={"current_a_rms": 10e-6}, expected=250.0e-6),
    Row(
        id="10 µA as a level",
        section="6.2",
        function=levels.level_dbuv,
        args={"v_rms": 250e-6},
        expected=47.96,
    ),
    *(
        Row(id=f"{1e6 * current:g} µA", section="6.2", function=level_for, args={"current_a": current}, expected=level)
        for level, current in ((46.00, 7.981e-6), (50.00, 12.65e-6))
    ),
    *_chain_rows(),
    Row(
        id="choke and windings",
        section="6.3",
        function=resonance.resonance_hz,
        args={"inductance_h": 5e-3, "capacitance_f": 100e-12},
        expected=225.1e3,
    ),
    Row(
        id="neighbour",
        section="6.4",
        function=receiver.filter_weight,
        args={"offset_hz": 65e3, "bandwidth_hz": 120e3},
        expected=0.4433,
    ),
    Row(id="five lines", section="6.4", function=five_lines, expected=1.964),
    Row(
        id="five lines in dB",
        section="6.4",
        function=lambda: 20.0 * math.log10(five_lines()),
        expected=5.86,
        digits=3,
    ),
    Row(
        id="impulse bandwidth",
        section="6.4",
        function=lambda: reading_of(np.ones(20_000), 1e3, 10e6) * 1e3 / 9e3,
        expected=1.064,
    ),
    *(
        Row(
            id=f"slope {f:g}, {low:g}",
            section="7.1",
            function=levels.sloped_limit_db,
            args={"f_hz": f, "start": (150e3, low), "stop": (500e3, low - 10.0)},
            expected=level,
        )
        for f, low, level in ((200e3, 66.0, 63.61), (200e3, 56.0, 53.61), (300e3, 66.0, 60.24))
    ),
    *(
        Row(
            id=f"{1e6 * field:g} µV/m",
            section="7.3",
            function=levels.level_dbuv,
            args={"v_rms": field},
            expected=level,
        )
        for field, level in (
            (100e-6, 40.00),
            (150e-6, 43.52),
            (200e-6, 46.02),
            (500e-6, 53.98),
            (90e-6, 39.08),
            (210e-6, 46.44),
            (300e-6, 49.54),
        )
    ),
)
