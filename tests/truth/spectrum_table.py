"""Trapezoid of 400 V, 10 µs, 4 µs, 50 ns and 20 ns: exact coefficients, envelope, ringing."""

from __future__ import annotations

import math
from operator import itemgetter

import numpy as np

from models.formulas import spectrum
from models.sources.trapezoid import trapezoid_coefficients
from tests.reference.envelope import corner_frequencies, trapezoid_envelope
from tests.truth.row import Row

ENVELOPE = {"amplitude": 400.0, "period_s": 10e-6, "width_s": 4e-6, "edge_s": 20e-9}
RING = {"period_s": 10e-6, "amplitude": 80.0, "ring_hz": 30e6, "quality": 8.0}


def coefficient(order: int) -> complex:
    orders = np.array([order], np.float64)
    return 400.0 * complex(trapezoid_coefficients(orders, 100e3, 0.4, 50e-9, 20e-9)[0])


def size_of(order: int) -> float:
    return abs(coefficient(order))


def level_dbuv(order: int) -> float:
    return 20.0 * math.log10(math.sqrt(2.0) * size_of(order) / 1e-6)


ROWS = (
    Row(id="c1", section="5", function=coefficient, args={"order": 1}, expected=35.61 - 115.7j),
    *(
        Row(id=f"|c{order}|", section="5", function=size_of, args={"order": order}, expected=size)
        for order, size in ((1, 121.1), (2, 37.42), (3, 24.94), (10, 21.96e-3), (100, 0.1903), (300, 0.1521))
    ),
    *(
        Row(id=f"level {order}", section="5", function=level_dbuv, args={"order": order}, expected=level)
        for order, level in ((1, 164.7), (2, 154.5), (3, 150.9), (100, 108.6), (300, 106.7))
    ),
    *(
        Row(
            id=f"corner {place} {edge:g}",
            section="5",
            function=corner_frequencies,
            args={"width_s": 4e-6, "edge_s": edge},
            read=itemgetter(place),
            expected=corner,
        )
        for place, edge, corner in ((0, 20e-9, 79.58e3), (1, 20e-9, 15.92e6), (1, 50e-9, 6.366e6))
    ),
    *(
        Row(
            id=f"envelope {f:g}",
            section="5",
            function=trapezoid_envelope,
            args={"f_hz": f, **ENVELOPE},
            expected=level,
        )
        for f, level in ((10e6, 2.546), (30e6, 0.4503))
    ),
    Row(
        id="ringing",
        section="5",
        function=spectrum.ringing_coefficients,
        args={"orders": 300, **RING},
        expected=0.01060 - 0.3392j,
    ),
    Row(
        id="ringing size",
        section="5",
        function=spectrum.ringing_coefficients,
        args={"orders": 300, **RING},
        read=abs,
        expected=0.3394,
    ),
)
