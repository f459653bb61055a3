"""A part from a data sheet's few numbers: what was typed, and the part that follows from it. No Qt."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import attrs
from attrs import frozen

from models.codec import Quantity
from models.errors import QuantityError
from models.formulas.bead import BIAS_FAMILIES
from models.parts.bead_sheet import BeadSheet, bead_from_data_sheet
from models.parts.capacitor_sheet import DIELECTRICS, PACKAGE_ESL_H, CapacitorSheet, capacitor_from_data_sheet
from models.parts.part import Part
from models.quantity import parse_quantity

BEAD, CAPACITOR = "bead", "capacitor"
NOT_SAID = "not said"


@frozen(kw_only=True)
class Entry:
    """One number or word that a data sheet may have."""

    name: str
    label: str
    unit: str = ""
    choices: tuple[str, ...] = ()
    help: str = ""


ENTRIES: Mapping[str, tuple[Entry, ...]] = MappingProxyType(
    {
        BEAD: (
            Entry(name="test_ohm", label="|Z| at the test frequency", unit="ohm"),
            Entry(name="test_hz", label="Test frequency", unit="Hz", help="100 MHz unless the data sheet says other"),
            Entry(name="rdc_ohm", label="DC resistance", unit="ohm"),
            Entry(name="peak_ohm", label="Height of the peak", unit="ohm"),
            Entry(name="peak_hz", label="Frequency of the peak", unit="Hz"),
            Entry(name="crossing_hz", label="R = X at", unit="Hz"),
            Entry(name="rated_current_a", label="Rated current", unit="A"),
            Entry(name="bias_family", label="Family", choices=(NOT_SAID, *BIAS_FAMILIES)),
            Entry(name="tolerance", label="Tolerance"),
        ),
        CAPACITOR: (
            Entry(name="capacitance_f", label="Capacitance", unit="F"),
            Entry(name="dissipation_factor", label="Loss, tan δ"),
            Entry(name="esr_ohm", label="ESR at self-resonance", unit="ohm"),
            Entry(name="self_resonance_hz", label="Self-resonance", unit="Hz"),
            Entry(name="esl_h", label="ESL", unit="H"),
            Entry(name="insulation_resistance_ohm", label="Insulation resistance", unit="ohm"),
            Entry(name="dielectric", label="Dielectric", choices=(NOT_SAID, *DIELECTRICS)),
            Entry(name="package", label="Package", choices=(NOT_SAID, *PACKAGE_ESL_H)),
            Entry(name="rated_voltage_v", label="Rated voltage", unit="V"),
            Entry(name="tolerance", label="Tolerance"),
        ),
    }
)


@frozen(kw_only=True)
class Sheet:
    """What was typed of a data sheet: values by name, those left out missing."""

    kind: str = BEAD
    values: Mapping[str, Any] = attrs.field(factory=dict)

    def entry(self, name: str) -> Entry:
        """Return an entry of this kind of data sheet."""
        return next(each for each in ENTRIES[self.kind] if each.name == name)


def typed(sheet: Sheet, name: str, text: str) -> Sheet:
    """Return the sheet with what was typed or chosen; an empty text leaves the number out.

    Raises
    ------
    QuantityError
        saying what was found and what is accepted
    """
    entry = sheet.entry(name)
    values = {key: value for key, value in sheet.values.items() if key != name}
    text = text.strip()
    if text and text != NOT_SAID:
        values[name] = text if entry.choices else _quantity(entry, text)
    return attrs.evolve(sheet, values=values)


def _quantity(entry: Entry, text: str) -> float:
    value = parse_quantity(text, entry.unit)
    ratio = not entry.unit
    Quantity(unit=entry.unit, positive=not ratio and entry.name != "rdc_ohm", high=0.9 if ratio else 1e30).check(value)
    return value


def part_of(sheet: Sheet) -> tuple[Part, tuple[str, ...]]:
    """Return the part, to four digits, and what was assumed for the rest.

    Raises
    ------
    QuantityError
        where too little is known, or the numbers contradict each other
    """
    if sheet.kind == BEAD:
        bead = bead_from_data_sheet(BeadSheet(**sheet.values))
        return _rounded(bead.part), bead.assumed
    if "capacitance_f" not in sheet.values:
        raise QuantityError("no capacitance", "at least the capacitance")
    capacitor = capacitor_from_data_sheet(CapacitorSheet(**sheet.values))
    return _rounded(capacitor.part), capacitor.assumed


def _rounded(owner: Any) -> Any:
    """Return a part, or a cell of one, without the digits that nobody reads."""
    values = {each.name: getattr(owner, each.name) for each in attrs.fields(type(owner))}
    numbers = {name: float(f"{found:.4g}") for name, found in values.items() if isinstance(found, float)}
    cells = {name: tuple(map(_rounded, found)) for name, found in values.items() if isinstance(found, tuple)}
    return attrs.evolve(owner, **numbers, **cells)
