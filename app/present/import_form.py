"""The fields of the import view: how the data was measured and what to fit."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from attrs import evolve

from app.present.specs import FieldSpec, FormSpec, SectionSpec
from app.state.importing import ImportRequest
from app.state.typed import NONE
from models.fitting.connection import CONNECTIONS
from models.fitting.data import Measurement
from models.fitting.fit import KINDS
from models.quantity import format_quantity, parse_quantity

BY_LOOK = "as it looks"
_UNITS: Mapping[str, str] = MappingProxyType({"from_hz": "Hz", "to_hz": "Hz", "rdc_ohm": "ohm"})


def import_form(request: ImportRequest | None) -> FormSpec:
    """Return the form of a request; without one there is nothing to ask yet."""
    if request is None:
        return FormSpec(title="No measurement yet", subtitle="Choose a file, or drop one here.")
    fields = [
        FieldSpec(
            path=("kind",),
            label="Kind",
            text=request.kind or BY_LOOK,
            choices=(BY_LOOK, *KINDS),
            help="What the part is: a bead and an inductor pass DC, a capacitor blocks it.",
        ),
        _quantity(request, "from_hz", "From", "Leave out what lies below, such as a range of poor calibration."),
        _quantity(request, "to_hz", "To", "Leave out what lies above."),
        _quantity(request, "rdc_ohm", "DC resistance", "Of a bead, where it is known otherwise."),
    ]
    if not isinstance(request.source, Measurement):
        fields.insert(0, _connection(request))
    name = request.source.source if isinstance(request.source, Measurement) else request.source.name
    return FormSpec(title=name, sections=(SectionSpec(title="Measurement", fields=tuple(fields)),))


def changed(request: ImportRequest, field: str, text: str) -> ImportRequest:
    """Return the request with what was typed or chosen in one field.

    Raises
    ------
    QuantityError
        saying what was found and what is accepted
    """
    value: Any = text.strip()
    if field == "kind":
        value = None if value == BY_LOOK else value
    elif field in _UNITS:
        value = None if value in ("", NONE) else parse_quantity(value, _UNITS[field])
    return evolve(request, **{field: value})


def _connection(request: ImportRequest) -> FieldSpec:
    return FieldSpec(
        path=("connection",),
        label="Connection",
        text=request.connection,
        choices=CONNECTIONS,
        help="How the part was connected to the instrument; a table of impedances needs none.",
    )


def _quantity(request: ImportRequest, name: str, label: str, help: str) -> FieldSpec:
    value: float | None = getattr(request, name)
    unit = _UNITS[name]
    text = "" if value is None else format_quantity(value, unit)
    return FieldSpec(path=(name,), label=label, text=text, unit=unit, value=value, help=help, optional=True)
