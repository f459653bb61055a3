"""Ferrite beads: extraction, relaxation, chains, bias, and the generic sets over frequency."""

from __future__ import annotations

import math
from operator import itemgetter

import numpy as np
from attrs import evolve

from models.case.document import Branch, Candidate, Case, Pair
from models.formulas import bead_cell
from models.formulas.bead_cell import Cell as CellValues
from models.network.grid import point_grid
from models.network.solver import Solver
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor
from models.parts.part import Part
from tests.truth.row import Row

# at 100 MHz 338.9226 + j249.1477 Ω, size 420.6460 Ω, by exact rational arithmetic: the 249.2 and 420.7 of the physics
# sheet were rounded twice
CHAIN = ((200.0, 0.8e-6), (300.0, 0.35e-6), (220.0, 0.08e-6))
SHUNT_F, RDC_OHM = 0.5e-12, 0.3
# Rdc, |Z| at 100 MHz, Rp, f0, L, C, R = X
SETS = {
    "0603 120 Ω power": (0.030, 120.0, 145.0, 250e6, 0.2858e-6, 1.418e-12, 73.7e6),
    "0603 600 Ω signal": (0.30, 600.0, 700.0, 200e6, 1.390e-6, 0.4554e-12, 70.2e6),
    "0805 1 kΩ": (0.35, 1000.0, 1100.0, 140e6, 1.871e-6, 0.6907e-12, 70.1e6),
    "0402 GHz": (0.55, 220.0, 800.0, 900e6, 0.3597e-6, 0.08694e-12, 312e6),
    "1206 50 Ω": (0.008, 50.0, 70.0, 350e6, 0.1044e-6, 1.980e-12, 98.3e6),
}
SWEEP = (1e6, 10e6, 30e6, 100e6, 300e6, 1000e6)
MAGNITUDES = {
    "0603 120 Ω power": (1.796, 17.85, 51.16, 120.0, 144.0, 92.34),
    "0603 600 Ω signal": (8.745, 86.94, 250.5, 600.3, 664.3, 323.1),
    "0805 1 kΩ": (11.77, 117.5, 350.5, 1000.0, 732.8, 229.9),
    "0402 GHz": (2.327, 22.62, 67.68, 220.2, 552.4, 797.8),
    "1206 50 Ω": (0.6562, 6.539, 19.08, 50.01, 69.70, 55.62),
}
SHARES = (0.10, 0.25, 0.50, 1.00)
LEFT = {
    "power": ((0.862, 3), (0.500, 3), (0.200, 3), (0.0588, 3)),
    "mid": ((0.881, 3), (0.631, 3), (0.361, 3), (0.157, 3)),
    "signal": ((0.990, 3), (0.941, 3), (0.800, 3), (0.500, 3)),
}
LEFT_AT_100_MHZ = {
    "power": ((0.94, 2), (0.68, 2), (0.30, 2), (0.087, 2)),
    "mid": ((0.95, 2), (0.80, 2), (0.52, 2), (0.23, 2)),
    "signal": ((1.00, 3), (0.98, 2), (0.91, 2), (0.68, 2)),
}
SHIFT = {"power": (1.08, 1.41, 2.24, 4.12), "mid": (1.07, 1.26, 1.66, 2.52), "signal": (1.00, 1.03, 1.12, 1.41)}


def cell_of(name: str) -> CellValues:
    rdc, test, loss, peak, *_ = SETS[name]
    return bead_cell.cell_from_peak(test, loss + rdc, peak, rdc_ohm=rdc)


def impedance(part: Part, f_hz: float) -> complex:
    return complex(part.impedance(np.array([2.0 * math.pi * f_hz]))[0])


def magnitude(name: str, f_hz: float) -> float:
    return abs(impedance(Bead(rdc_ohm=SETS[name][0], cells=(Cell(**cell_of(name)._asdict()),)), f_hz))


def crossover(name: str) -> float:
    return bead_cell.crossover_hz(cell_of(name))


def relaxation(f_hz: float, inductance_h: float, relaxation_hz: float) -> complex:
    """One Debye relaxation as a cell: its resistance is ω_r·L0."""
    cell = Cell(resistance_ohm=2.0 * math.pi * relaxation_hz * inductance_h, inductance_h=inductance_h)
    return impedance(Bead(cells=(cell,)), f_hz)


def chain(f_hz: float) -> complex:
    """Cells in series with one capacitance across them all, as a bead and a capacitor side by side; Rdc besides."""
    bead = Bead(cells=tuple(Cell(resistance_ohm=loss, inductance_h=low) for loss, low in CHAIN))
    branches = (Branch(parts=(bead,)), Branch(parts=(Capacitor(capacitance_f=SHUNT_F),)))
    case, candidate = Case(pair=Pair(a="a", b="b"), candidates=()), Candidate(name="it", branches=branches)
    return RDC_OHM + complex(Solver().bridge(case, candidate, point_grid((f_hz,)))[0])


def biased(current_a: float, rated_a: float, family: str) -> Bead:
    cell = Cell(**cell_of("0603 600 Ω signal")._asdict())
    return Bead(cells=(cell,), rated_current_a=rated_a, bias_current_a=current_a, bias_family=family)


def left(current_a: float, rated_a: float, family: str) -> float:
    return biased(current_a, rated_a, family).inductance_left()


def peak_shift(current_a: float, rated_a: float, family: str) -> float:
    """Shift of the peak, found on the impedance itself."""
    part = biased(current_a, rated_a, family)
    f = 200e6 * np.geomspace(0.9, 5.0, 20_001)
    return float(f[np.argmax(np.abs(part.impedance(2.0 * np.pi * f)))]) / 200e6


def left_at_100_mhz(current_a: float, rated_a: float, family: str) -> float:
    part = biased(current_a, rated_a, family)
    return abs(impedance(part, 1e8) / impedance(evolve(part, bias_current_a=0.0), 1e8))


def _bias_rows() -> list[Row]:
    rows = []
    for family in LEFT:
        for place, share in enumerate(SHARES):
            args = {"current_a": share, "rated_a": 1.0, "family": family}
            name = f"{family} at {share:.0%}"
            kept, at_100_mhz = LEFT[family][place], LEFT_AT_100_MHZ[family][place]
            rows += [
                Row(
                    id=f"L {name}",
                    section="1.5",
                    function=left,
                    args=args,
                    expected=kept[0],
                    digits=3,
                ),
                Row(
                    id=f"f0 {name}",
                    section="1.5",
                    function=peak_shift,
                    args=args,
                    expected=SHIFT[family][place],
                    digits=3,
                ),
                Row(
                    id=f"|Z| {name}",
                    section="1.5",
                    function=left_at_100_mhz,
                    args=args,
                    expected=at_100_mhz[0],
                    digits=at_100_mhz[1],
                ),
            ]
    return rows


def _set_rows() -> list[Row]:
    rows = []
    for name, (*_, inductance, capacitance, crossing) in SETS.items():
        args = {"name": name}
        rows += [
            Row(id=f"L {name}", section="1.6", function=cell_of, args=args, read=itemgetter(1), expected=inductance),
            Row(id=f"C {name}", section="1.6", function=cell_of, args=args, read=itemgetter(2), expected=capacitance),
            Row(id=f"R = X {name}", section="1.6", function=crossover, args=args, expected=crossing, digits=3),
        ]
        rows += [
            Row(id=f"|Z| {name} {f:g}", section="1.6", function=magnitude, args={"name": name, "f_hz": f}, expected=z)
            for f, z in zip(SWEEP, MAGNITUDES[name], strict=True)
        ]
    return rows


EXTRACTED = {"test_ohm": 600.0, "peak_ohm": 700.0, "peak_hz": 200e6}
ROWS = (
    Row(
        id="L", section="1.2", function=bead_cell.cell_from_peak, args=EXTRACTED, read=itemgetter(1), expected=1.390e-6
    ),
    Row(
        id="C",
        section="1.2",
        function=bead_cell.cell_from_peak,
        args=EXTRACTED,
        read=itemgetter(2),
        expected=0.4554e-12,
    ),
    Row(
        id="Debye",
        section="1.3",
        function=relaxation,
        args={"f_hz": 100e6, "inductance_h": 1e-6, "relaxation_hz": 50e6},
        expected=251.3 + 125.7j,
    ),
    *(
        Row(id=f"chain {f:g}", section="1.4", function=chain, args={"f_hz": f}, expected=z)
        for f, z in ((1e6, 0.4435 + 7.725j), (1e7, 13.96 + 74.34j), (1e8, 338.9 + 249.1j), (1e9, 138.8 - 279.7j))
    ),
    Row(id="chain size", section="1.4", function=chain, args={"f_hz": 1e8}, read=abs, expected=420.6),
    *_bias_rows(),
    *_set_rows(),
)
