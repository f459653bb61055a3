"""Copper: resistance, skin effect, partial inductance."""

from __future__ import annotations

from models.formulas import copper
from tests.reference.copper import bar_inductance_grover
from tests.truth.row import Row

BAR = {"length_m": 3e-3, "width_m": 5e-3, "thickness_m": 35e-6}
FOIL_M = 35e-6


def spread_of_foil(neck_m: float, radius_m: float) -> float:
    return copper.spreading_resistance(copper.sheet_resistance(FOIL_M), neck_m, radius_m)


def bar_over_plane(f_hz: float) -> complex:
    return complex(copper.slab_impedance(f_hz, FOIL_M) * BAR["length_m"] / BAR["width_m"])


ROWS = (
    Row(id="bar 20 °C", section="3.1", function=copper.bar_dc_resistance, args=BAR, expected=0.2955e-3),
    Row(
        id="sheet 35 µm",
        section="3.1",
        function=copper.sheet_resistance,
        args={"thickness_m": FOIL_M},
        expected=0.4926e-3,
    ),
    *(
        Row(id=f"skin depth {f:g}", section="3.1", function=copper.skin_depth, args={"f_hz": f}, expected=depth)
        for f, depth in ((1e6, 66.08e-6), (1e8, 6.608e-6), (1e9, 2.090e-6))
    ),
    *(
        Row(id=f"bar AC {f:g}", section="3.1", function=copper.bar_ac_resistance, args={"f_hz": f, **BAR}, expected=r)
        for f, r in ((1e6, 0.3056e-3), (1e8, 0.8315e-3), (1e9, 2.475e-3))
    ),
    *(
        Row(id=f"slab {f:g}", section="3.1", function=bar_over_plane, args={"f_hz": f}, expected=z)
        for f, z in ((1e6, 0.2976e-3 + 0.05516e-3j), (1e8, 1.565e-3 + 1.565e-3j), (1e9, 4.950e-3 + 4.950e-3j))
    ),
    Row(
        id="spreading",
        section="3.1",
        function=spread_of_foil,
        args={"neck_m": 1e-3, "radius_m": 20e-3},
        expected=1.374e-3,
    ),
    *(
        Row(
            id=f"bar exact {1e3 * length:g} × {1e3 * width:g}",
            section="3.2",
            function=copper.bar_partial_inductance,
            args={"length_m": length, "width_m": width},
            expected=exact,
        )
        for length, width, exact in (
            (10e-3, 1e-3, 7.057e-9),
            (3e-3, 5e-3, 0.6801e-9),
            (3e-3, 1e-3, 1.439e-9),
            (20e-3, 2e-3, 14.11e-9),
        )
    ),
    *(
        Row(
            id=f"bar rule {1e3 * length:g} × {1e3 * width:g}",
            section="3.2",
            function=bar_inductance_grover,
            args={"length_m": length, "width_m": width, "thickness_m": FOIL_M},
            expected=rule,
        )
        for length, width, rule in (
            (10e-3, 1e-3, 6.969e-9),
            (3e-3, 5e-3, 0.6303e-9),
            (3e-3, 1e-3, 1.401e-9),
            (20e-3, 2e-3, 14.00e-9),
        )
    ),
    *(
        Row(
            id=f"wire, skin effect {skin}",
            section="3.2",
            function=copper.wire_partial_inductance,
            args={"length_m": 10e-3, "diameter_m": 0.6e-3, "skin_effect": skin},
            expected=inductance,
        )
        for skin, inductance in ((True, 6.399e-9), (False, 6.899e-9))
    ),
)
