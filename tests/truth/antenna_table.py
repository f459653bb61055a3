"""Cables as antennas: short wires, dipoles, lossy arms, far field, lines."""

from __future__ import annotations

from operator import attrgetter

from models.formulas import levels, line, wire
from models.formulas.constants import LIGHT_M_PER_S
from tests.reference import antenna
from tests.truth.row import Row

RULE = {"f_hz": 50e6, "length_m": 1.0, "distance_m": 3.0}


def dipole(length_waves: float) -> complex:
    """Dipole of a tenth of a thousandth of a wave in radius, in metres of a wave of 1 m."""
    return complex(antenna.dipole_impedance(LIGHT_M_PER_S, length_waves, 1e-4))


def resistance(length_waves: float) -> float:
    return dipole(length_waves).real


def reactance(length_waves: float) -> float:
    return dipole(length_waves).imag


def rule_level() -> float:
    return float(levels.level_dbuv(antenna.short_wire_field(5e-6, **RULE, reflection=2.0)))


def permitted_current(field_v_per_m: float, f_hz: float) -> float:
    """Current of a wire of 1 m that reaches a field at 3 m, with reflection."""
    return field_v_per_m / float(antenna.short_wire_field(1.0, f_hz, 1.0, 3.0, reflection=2.0))


def half_wave_field() -> float:
    return antenna.half_wave_field(1e-3 / resistance(0.5), 3.0)


def half_wave_level() -> float:
    return float(levels.level_dbuv(half_wave_field()))


ROWS = (
    *(
        Row(
            id=f"5 µA, reflection {reflection:g}",
            section="8.1",
            function=antenna.short_wire_field,
            args={"current_a_rms": 5e-6, **RULE, "reflection": reflection},
            expected=field,
        )
        for reflection, field in ((1.0, 52.36e-6), (2.0, 104.7e-6))
    ),
    Row(id="5 µA as a level", section="8.1", function=rule_level, expected=40.40),
    *(
        Row(
            id=f"permitted {f:g}, {1e6 * field:g} µV/m",
            section="8.1",
            function=permitted_current,
            args={"field_v_per_m": field, "f_hz": f},
            expected=current,
        )
        for f, field, current in (
            (30e6, 100e-6, 7.958e-6),
            (50e6, 100e-6, 4.775e-6),
            (88e6, 100e-6, 2.713e-6),
            (88e6, 150e-6, 4.069e-6),
            (216e6, 200e-6, 2.210e-6),
        )
    ),
    Row(id="half wave", section="8.2", function=dipole, args={"length_waves": 0.5}, expected=73.08 + 42.52j),
    *(
        Row(id=f"R {length:g}", section="8.2", function=resistance, args={"length_waves": length}, expected=ohm)
        for length, ohm in ((0.25, 13.43), (0.1, 1.999), (0.75, 371.4))
    ),
    *(
        Row(id=f"X {length:g}", section="8.2", function=reactance, args={"length_waves": length}, expected=ohm)
        for length, ohm in ((0.25, -722.8), (0.1, -1920.0))
    ),
    Row(
        id="arm Z0",
        section="8.3",
        function=wire.arm_wave_impedance,
        args={"arm_m": 1.0, "radius_m": 1e-3},
        expected=792.1,
    ),
    *(
        Row(
            id=f"arm {f:g}",
            section="8.3",
            function=antenna.arm_impedance,
            args={"f_hz": f, "arm_m": 1.0, "radius_m": 1e-3},
            expected=z,
        )
        for f, z in (
            (5e6, 0.2198 - 7531j),
            (30e6, 8.340 - 1089j),
            (75e6, 73.02 - 3.435j),
            (100e6, 198.8 + 431.3j),
            (150e6, 3218 - 284.0j),
            (225e6, 105.2 - 0.4352j),
            (1e9, 317.5 + 412.6j),
        )
    ),
    Row(id="half wave, 1 mV", section="8.4", function=half_wave_field, expected=273.5e-6),
    Row(id="half wave as a level", section="8.4", function=half_wave_level, expected=48.74),
    *(
        Row(
            id=f"wire over plane {field}",
            section="8.5",
            function=line.wire_over_plane,
            args={"radius_m": 1e-3, "height_m": 0.8},
            read=attrgetter(field),
            expected=value,
        )
        for field, value in (
            ("capacitance_f_per_m", 7.541e-12),
            ("inductance_h_per_m", 1.476e-6),
            ("impedance_ohm", 442.4),  # √(L'/C') of the two above; 442.7 has 60 Ω for η0/2π = 59.96 Ω
        )
    ),
)
