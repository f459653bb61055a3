"""A bead from the few numbers of a data sheet."""

from __future__ import annotations

import math
from typing import Final

from attrs import frozen

from models.errors import QuantityError
from models.formulas.bead_cell import PRIORS, cell_from_crossover, cell_from_peak, cell_from_peak_and_crossover
from models.formulas.bead_cell import Cell as CellValues
from models.formulas.bead_cell import crossover_hz as crossing_of
from models.parts.bead import Bead, Cell
from models.parts.datasheet import AGREES, FromDataSheet, shown
from models.parts.part import Rating
from models.quantity import ohms

TEST_HZ: Final = 100e6
_RDC_SHARE = 1.0 / 2000.0
_CROSSING_SHARE = 0.35
_GIGAHERTZ_PEAK_HZ = 500e6
_BEAD_TOLERANCE = 0.25


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
        f"The DC resistance is taken as {shown(rdc_ohm, 'ohm')}, 1/2000 of the impedance; beads vary widely."
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
        assumed.append(f"The peak is taken as {shown(peak_ohm, 'ohm')} high, as is usual for such beads.")
    return cell_from_peak(sheet.test_ohm, peak_ohm, peak_hz, test_hz=sheet.test_hz, rdc_ohm=rdc_ohm)


def _cell_without_test(sheet: BeadSheet, rdc_ohm: float, assumed: list[str]) -> CellValues:
    if sheet.peak_ohm is None:
        raise QuantityError("no impedance", "|Z| at the test frequency, or the height of the peak")
    peak_hz = _peak_hz(sheet, assumed)
    crossing_hz = sheet.crossing_hz
    if crossing_hz is None:
        crossing_hz = _CROSSING_SHARE * peak_hz
        assumed.append(f"R = X is taken to lie at {shown(crossing_hz, 'Hz')}, 0.35 of the peak's frequency.")
    return cell_from_peak_and_crossover(sheet.peak_ohm, peak_hz, crossing_hz, rdc_ohm=rdc_ohm)


def _peak_hz(sheet: BeadSheet, assumed: list[str]) -> float:
    if sheet.peak_hz is not None:
        return sheet.peak_hz
    peak_hz = PRIORS["general"].peak_hz
    if sheet.crossing_hz is not None:
        peak_hz = max(peak_hz, sheet.crossing_hz / _CROSSING_SHARE)
    assumed.append(f"The peak is taken to lie at {shown(peak_hz, 'Hz')}, as is usual for beads of general use.")
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
        f"a peak of {shown(resistance_ohm, 'ohm')} with R = X at {shown(crossing_hz, 'Hz')}",
        f"numbers that one bead can have beside {shown(test_ohm, 'ohm')} at {shown(test_hz, 'Hz')}",
    )


def _compare_crossing(sheet: BeadSheet, values: CellValues, assumed: list[str]) -> None:
    """Say so where a crossover was given that the other numbers already decide, and that does not fit them."""
    if sheet.crossing_hz is None:
        return
    found = crossing_of(values)
    if abs(found / sheet.crossing_hz - 1.0) > AGREES:
        assumed.append(
            f"R = X lies at {shown(found, 'Hz')} in one cell; the data sheet says {shown(sheet.crossing_hz, 'Hz')}, "
            "which more than one cell would follow."
        )
