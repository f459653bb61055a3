"""A part from the few numbers of a data sheet, and a sentence for everything that had to be assumed."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

from attrs import frozen

from models.errors import QuantityError
from models.formulas.bead_cell import PRIORS, cell_from_crossover, cell_from_peak, cell_from_peak_and_crossover
from models.formulas.bead_cell import Cell as CellValues
from models.formulas.bead_cell import crossover_hz as crossing_of
from models.formulas.capacitor import leak_resistance
from models.formulas.resonance import resonance_hz
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor
from models.parts.part import Part, Rating
from models.quantity import format_quantity, ohms

TEST_HZ: Final = 100e6
_RDC_SHARE = 1.0 / 2000.0
_CROSSING_SHARE = 0.35
_GIGAHERTZ_PEAK_HZ = 500e6
_AGREES = 0.15
_BEAD_TOLERANCE = 0.25


@frozen(kw_only=True)
class FromDataSheet:
    """A part, and what of it no number of the data sheet says."""

    part: Part
    assumed: tuple[str, ...]


def _show(value: float, unit: str) -> str:
    return format_quantity(value, unit, digits=3)


# Beads ---------------------------------------------------------------------------------------------------------------


@frozen(kw_only=True)
class BeadSheet:
    """What a data sheet says of a bead; None for what it leaves out."""

    test_ohm: float | None = None
    test_hz: float = TEST_HZ
    rdc_ohm: float | None = None
    peak_ohm: float | None = None
    peak_hz: float | None = None
    crossing_hz: float | None = None
    rated_current_a: float | None = None
    bias_family: str | None = None
    tolerance: float | None = None


def bead_from_data_sheet(sheet: BeadSheet) -> FromDataSheet:
    """Return a bead of one cell from any sensible subset of a data sheet's numbers.

    Three numbers fix a cell: |Z| at the test frequency, height and place of the peak, R = X crossover, three of the
    four. With fewer, what is usual for beads fills in: a peak 1.2 times the test impedance at 200 MHz, or 3.6 times at
    900 MHz where the peak is known to lie above 500 MHz; a crossover at 0.35 of the peak.

    Parameters
    ----------
    sheet : Ω, Hz, A; |Z| at the test frequency or the height of the peak is needed

    Returns
    -------
    FromDataSheet with a Bead

    Raises
    ------
    QuantityError
        where neither impedance is given, or the numbers contradict each other

    Notes
    -----
    Right at the numbers given; elsewhere within 20 to 30 % for three numbers, a factor of 2 for one. Source:
    `models.formulas.bead`.
    """
    for name, given in (("|Z|", sheet.test_ohm), ("peak", sheet.peak_ohm)):
        if given is not None and given <= 0.0:
            raise QuantityError(f"{name} {ohms(given)}", "more than 0 Ω")
    assumed: list[str] = []
    rdc_ohm = _rdc(sheet, assumed)
    values = _cell(sheet, rdc_ohm, assumed)
    _compare_crossing(sheet, values, assumed)
    assumed.append("One cell stands for the ferrite: within 20 to 30 % between the numbers given.")
    if sheet.rated_current_a is None:
        assumed.append("No rated current was given: the loss of impedance under current cannot be computed.")
    elif sheet.bias_family is None:
        assumed.append("Under current it is taken as a bead between power and signal beads.")
    if sheet.tolerance is None:
        assumed.append("The impedance is taken to spread by ±25 %, as is usual.")
    bead = Bead(
        rdc_ohm=rdc_ohm,
        cells=(Cell(**values._asdict()),),
        rated_current_a=sheet.rated_current_a,
        bias_family=sheet.bias_family or "mid",
        rating=Rating(tolerance=_BEAD_TOLERANCE if sheet.tolerance is None else sheet.tolerance),
    )
    return FromDataSheet(part=bead, assumed=tuple(assumed))


def _rdc(sheet: BeadSheet, assumed: list[str]) -> float:
    if sheet.rdc_ohm is not None:
        return sheet.rdc_ohm
    impedance = sheet.test_ohm if sheet.test_ohm is not None else sheet.peak_ohm
    if impedance is None:
        return 0.0
    rdc_ohm = impedance * _RDC_SHARE
    assumed.append(
        f"The DC resistance is taken as {_show(rdc_ohm, 'ohm')}, 1/2000 of the impedance; beads vary widely."
    )
    return rdc_ohm


def _cell(sheet: BeadSheet, rdc_ohm: float, assumed: list[str]) -> CellValues:
    if sheet.test_ohm is None:
        return _cell_without_test(sheet, rdc_ohm, assumed)
    if sheet.peak_ohm is not None and sheet.crossing_hz is not None and sheet.peak_hz is None:
        peak_hz = _peak_between(sheet.test_ohm, sheet.test_hz, sheet.peak_ohm - rdc_ohm, sheet.crossing_hz)
        return cell_from_peak(sheet.test_ohm, sheet.peak_ohm, peak_hz, test_hz=sheet.test_hz, rdc_ohm=rdc_ohm)
    if sheet.peak_ohm is None and sheet.crossing_hz is not None:
        peak_hz = _peak_hz(sheet, assumed)
        return cell_from_crossover(sheet.test_ohm, sheet.crossing_hz, peak_hz, test_hz=sheet.test_hz)
    peak_hz = _peak_hz(sheet, assumed)
    peak_ohm = sheet.peak_ohm
    if peak_ohm is None:
        usual = PRIORS["gigahertz" if peak_hz > _GIGAHERTZ_PEAK_HZ else "general"]
        peak_ohm = usual.peak_ratio * sheet.test_ohm + rdc_ohm
        assumed.append(f"The peak is taken as {_show(peak_ohm, 'ohm')} high, as is usual for such beads.")
    return cell_from_peak(sheet.test_ohm, peak_ohm, peak_hz, test_hz=sheet.test_hz, rdc_ohm=rdc_ohm)


def _cell_without_test(sheet: BeadSheet, rdc_ohm: float, assumed: list[str]) -> CellValues:
    if sheet.peak_ohm is None:
        raise QuantityError("no impedance", "|Z| at the test frequency, or the height of the peak")
    peak_hz = _peak_hz(sheet, assumed)
    crossing_hz = sheet.crossing_hz
    if crossing_hz is None:
        crossing_hz = _CROSSING_SHARE * peak_hz
        assumed.append(f"R = X is taken to lie at {_show(crossing_hz, 'Hz')}, 0.35 of the peak's frequency.")
    return cell_from_peak_and_crossover(sheet.peak_ohm, peak_hz, crossing_hz, rdc_ohm=rdc_ohm)


def _peak_hz(sheet: BeadSheet, assumed: list[str]) -> float:
    if sheet.peak_hz is not None:
        return sheet.peak_hz
    peak_hz = PRIORS["general"].peak_hz
    if sheet.crossing_hz is not None:
        peak_hz = max(peak_hz, sheet.crossing_hz / _CROSSING_SHARE)
    assumed.append(f"The peak is taken to lie at {_show(peak_hz, 'Hz')}, as is usual for beads of general use.")
    return peak_hz


def _peak_between(test_ohm: float, test_hz: float, resistance_ohm: float, crossing_hz: float) -> float:
    """Return the frequency of the peak that test point, height and crossover leave.

    With q = √((Rp/Z1)² − 1) and k = q·f1/fx: 1 − (f1/f0)² = ±k·(1 − (fx/f0)²), plus below the peak, minus above it.
    """
    if resistance_ohm > test_ohm:
        k = math.sqrt((resistance_ohm / test_ohm) ** 2 - 1.0) * test_hz / crossing_hz
        for side in (1.0, -1.0):
            inverse_square = (1.0 - side * k) / (test_hz**2 - side * k * crossing_hz**2)
            tested_below = test_hz**2 * inverse_square < 1.0
            if 0.0 < crossing_hz**2 * inverse_square < 1.0 and tested_below == (side > 0.0):
                return 1.0 / math.sqrt(inverse_square)
    raise QuantityError(
        f"a peak of {_show(resistance_ohm, 'ohm')} with R = X at {_show(crossing_hz, 'Hz')}",
        f"numbers that one bead can have beside {_show(test_ohm, 'ohm')} at {_show(test_hz, 'Hz')}",
    )


def _compare_crossing(sheet: BeadSheet, values: CellValues, assumed: list[str]) -> None:
    """Say so where a crossover was given that the other numbers already decide, and that does not fit them."""
    if sheet.crossing_hz is None:
        return
    found = crossing_of(values)
    if abs(found / sheet.crossing_hz - 1.0) > _AGREES:
        assumed.append(
            f"R = X lies at {_show(found, 'Hz')} in one cell; the data sheet says {_show(sheet.crossing_hz, 'Hz')}, "
            "which more than one cell would follow."
        )


# Capacitors ----------------------------------------------------------------------------------------------------------


class Dielectric(NamedTuple):
    """What is usual for a dielectric: tanδ, and the voltage that halves C as a share of the rated one, or None."""

    tan_delta: float
    half_share: float | None


DIELECTRICS: Final[Mapping[str, Dielectric]] = MappingProxyType(
    {
        "C0G": Dielectric(0.0005, None),
        "X7R": Dielectric(0.015, 0.8),
        "Y5P": Dielectric(0.02, None),
        "Y5U": Dielectric(0.02, None),
        "Y5V": Dielectric(0.04, 0.4),
        "PP": Dielectric(0.0005, None),
        "PET": Dielectric(0.008, None),
    }
)
"""Estimates, to be edited. Safety discs see no DC, so that Y5P and Y5U have no bias here."""

PACKAGE_ESL_H: Final[Mapping[str, float]] = MappingProxyType(
    {"0402": 0.35e-9, "0603": 0.55e-9, "0805": 0.7e-9, "1206": 1.1e-9, "1210": 1.0e-9, "1808": 1.5e-9, "1812": 1.5e-9}
)
"""Estimates of the body alone, in H; pads and vias add 0.5 to 1.5 nH."""

_MOUNTING_H = 0.7e-9
_USUAL_ESL_H = 1.5e-9
_METAL_OHM, _METAL_CORNER_HZ = 0.015, 15e6


@frozen(kw_only=True)
class CapacitorSheet:
    """What a data sheet says of a capacitor; None for what it leaves out."""

    capacitance_f: float
    dissipation_factor: float | None = None
    esr_ohm: float | None = None
    """At the self-resonance."""
    self_resonance_hz: float | None = None
    esl_h: float | None = None
    insulation_resistance_ohm: float | None = None
    dielectric: str | None = None
    package: str | None = None
    rated_voltage_v: float | None = None
    tolerance: float | None = None


def capacitor_from_data_sheet(sheet: CapacitorSheet) -> FromDataSheet:
    """Return a capacitor from capacitance, loss and self-resonance, as far as they are given.

    ESL = 1/((2πf)²C) from the self-resonance f; at f the ESR is metal and dielectric together

    Parameters
    ----------
    sheet : F, Ω, Hz, H, V; the capacitance is needed

    Returns
    -------
    FromDataSheet with a Capacitor

    Raises
    ------
    QuantityError
        where self-resonance and ESL contradict each other, or a dielectric or package is unknown

    Notes
    -----
    Right at the numbers given; an assumed ESL within a factor of 2. Source: `models.formulas.capacitor`.
    """
    for found, table in ((sheet.dielectric, DIELECTRICS), (sheet.package, PACKAGE_ESL_H)):
        if found is not None and found not in table:
            raise QuantityError(f'"{found}"', " or ".join(f'"{name}"' for name in table))
    assumed: list[str] = []
    esl_h = _esl(sheet, assumed)
    tan_delta = _loss(sheet, assumed)
    metal_ohm, corner_hz = _metal(sheet, esl_h, tan_delta, assumed)
    capacitor = Capacitor(
        capacitance_f=sheet.capacitance_f,
        esl_h=esl_h,
        dissipation_factor=tan_delta,
        insulation_resistance_ohm=_insulation(sheet, assumed),
        metal_resistance_ohm=metal_ohm,
        metal_corner_hz=corner_hz,
        bias_half_voltage_v=_half_voltage(sheet, assumed),
        rating=Rating(tolerance=sheet.tolerance or 0.0, rated_voltage_v=sheet.rated_voltage_v),
    )
    if sheet.tolerance is None:
        assumed.append("No tolerance was given: the capacitance counts as exact.")
    return FromDataSheet(part=capacitor, assumed=tuple(assumed))


def _esl(sheet: CapacitorSheet, assumed: list[str]) -> float:
    if sheet.self_resonance_hz is not None:
        esl_h = 1.0 / ((math.tau * sheet.self_resonance_hz) ** 2 * sheet.capacitance_f)
        if sheet.esl_h is not None and abs(esl_h / sheet.esl_h - 1.0) > _AGREES:
            raise QuantityError(
                f"an ESL of {_show(sheet.esl_h, 'H')} and a self-resonance that wants {_show(esl_h, 'H')}",
                "one of them, or both in agreement",
            )
        assumed.append("The ESL is that of the part as it was measured; pads and vias of your board add 0.5 to 1.5 nH.")
        return esl_h
    if sheet.esl_h is not None:
        return sheet.esl_h
    esl_h = _USUAL_ESL_H if sheet.package is None else PACKAGE_ESL_H[sheet.package] + _MOUNTING_H
    of = "a chip" if sheet.package is None else f"a chip {sheet.package}"
    assumed.append(f"The ESL is taken as {_show(esl_h, 'H')}, as of {of} mounted on close planes.")
    return esl_h


def _loss(sheet: CapacitorSheet, assumed: list[str]) -> float:
    if sheet.dissipation_factor is not None:
        return sheet.dissipation_factor
    name = sheet.dielectric or "X7R"
    tan_delta = DIELECTRICS[name].tan_delta
    assumed.append(f"The loss tan δ is taken as {tan_delta:g}, as is usual for {name}.")
    return tan_delta


def _metal(sheet: CapacitorSheet, esl_h: float, tan_delta: float, assumed: list[str]) -> tuple[float, float | None]:
    """Return the resistance of the metal and its corner: what the stated ESR leaves at resonance, or what is usual."""
    if sheet.esr_ohm is None:
        assumed.append("The metal is taken as 15 mΩ, rising above 15 MHz, as of chips.")
        return _METAL_OHM, _METAL_CORNER_HZ
    resonance = resonance_hz(esl_h, sheet.capacitance_f)
    dielectric_ohm = tan_delta / (1.0 + tan_delta**2) / (math.tau * resonance * sheet.capacitance_f)
    if dielectric_ohm > sheet.esr_ohm:
        assumed.append(
            f"The dielectric alone makes {_show(dielectric_ohm, 'ohm')} at resonance, more than the ESR stated; "
            "the metal is left out."
        )
    return max(sheet.esr_ohm - dielectric_ohm, 0.0), None


def _insulation(sheet: CapacitorSheet, assumed: list[str]) -> float:
    if sheet.insulation_resistance_ohm is not None:
        return sheet.insulation_resistance_ohm
    leak_ohm = leak_resistance(sheet.capacitance_f)
    assumed.append(f"The insulation is taken as {_show(leak_ohm, 'ohm')}, the least usually promised.")
    return leak_ohm


def _half_voltage(sheet: CapacitorSheet, assumed: list[str]) -> float | None:
    share = None if sheet.dielectric is None else DIELECTRICS[sheet.dielectric].half_share
    if share is None:
        return None
    if sheet.rated_voltage_v is None:
        assumed.append(f"No rated voltage was given: what DC takes from {sheet.dielectric} cannot be computed.")
        return None
    half_v = share * sheet.rated_voltage_v
    assumed.append(f"Half of the capacitance is taken to be left at {_show(half_v, 'V')} DC, by dielectric and rating.")
    return half_v
