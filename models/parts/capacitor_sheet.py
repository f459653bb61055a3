"""A capacitor from the few numbers of a data sheet."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

from attrs import frozen

from models.errors import QuantityError
from models.formulas.capacitor import leak_resistance
from models.formulas.resonance import resonance_hz
from models.parts.capacitor import Capacitor
from models.parts.datasheet import AGREES, FromDataSheet, shown
from models.parts.part import Rating


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
        if sheet.esl_h is not None and abs(esl_h / sheet.esl_h - 1.0) > AGREES:
            raise QuantityError(
                f"an ESL of {shown(sheet.esl_h, 'H')} and a self-resonance that wants {shown(esl_h, 'H')}",
                "one of them, or both in agreement",
            )
        assumed.append("The ESL is that of the part as it was measured; pads and vias of your board add 0.5 to 1.5 nH.")
        return esl_h
    if sheet.esl_h is not None:
        return sheet.esl_h
    esl_h = _USUAL_ESL_H if sheet.package is None else PACKAGE_ESL_H[sheet.package] + _MOUNTING_H
    of = "a chip" if sheet.package is None else f"a chip {sheet.package}"
    assumed.append(f"The ESL is taken as {shown(esl_h, 'H')}, as of {of} mounted on close planes.")
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
            f"The dielectric alone makes {shown(dielectric_ohm, 'ohm')} at resonance, more than the ESR stated; "
            "the metal is left out."
        )
    return max(sheet.esr_ohm - dielectric_ohm, 0.0), None


def _insulation(sheet: CapacitorSheet, assumed: list[str]) -> float:
    if sheet.insulation_resistance_ohm is not None:
        return sheet.insulation_resistance_ohm
    leak_ohm = leak_resistance(sheet.capacitance_f)
    assumed.append(f"The insulation is taken as {shown(leak_ohm, 'ohm')}, the least usually promised.")
    return leak_ohm


def _half_voltage(sheet: CapacitorSheet, assumed: list[str]) -> float | None:
    share = None if sheet.dielectric is None else DIELECTRICS[sheet.dielectric].half_share
    if share is None:
        return None
    if sheet.rated_voltage_v is None:
        assumed.append(f"No rated voltage was given: what DC takes from {sheet.dielectric} cannot be computed.")
        return None
    half_v = share * sheet.rated_voltage_v
    assumed.append(f"Half of the capacitance is taken to be left at {shown(half_v, 'V')} DC, by dielectric and rating.")
    return half_v
