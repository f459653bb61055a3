"""What one looks at first when choosing a part: a few figures by its kind."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Any

import numpy as np
from attrs import frozen

from models.formulas.resonance import resonance_hz
from models.parts.part import Part

_TEST_HZ = 100e6


@frozen(kw_only=True)
class Figure:
    """A figure with its name and SI unit; the unit is empty for a ratio."""

    label: str
    value: float
    unit: str


def key_figures(subject: Any) -> tuple[Figure, ...]:
    """Return the figures of a part, or of a transformer's construction, that matter most for a choice.

    Parameters
    ----------
    subject : part or construction

    Returns
    -------
    figures, the main one first; those that the subject does not state are left out

    Notes
    -----
    As exact as the part. Source: the part's own formulas.
    """
    stated = _FIGURES.get(subject.kind, _impedances)(subject)
    return tuple(figure for figure in stated if figure.value is not None and math.isfinite(figure.value))


def _ohm_at(part: Part, f_hz: float) -> Figure:
    z = part.impedance(np.array([math.tau * f_hz]))
    return Figure(label=f"|Z| at {f_hz / 1e6:g} MHz", value=float(abs(z[0])), unit="ohm")


def _figures(*named: tuple[str, float | None, str]) -> Iterator[Figure]:
    return (Figure(label=label, value=value, unit=unit) for label, value, unit in named if value is not None)


def _impedances(part: Part) -> Iterator[Figure]:
    yield _ohm_at(part, 1e6)
    yield _ohm_at(part, _TEST_HZ)


def _ferrite(part: Any) -> Iterator[Figure]:
    yield _ohm_at(part, _TEST_HZ)
    yield from _figures(("Rdc", part.rdc_ohm, "ohm"), ("rated", part.rated_current_a, "A"))


def _capacitor(part: Any) -> Iterator[Figure]:
    inductance_h = part.inductance_h()
    resonance = resonance_hz(inductance_h, part.capacitance_f) if inductance_h else None
    yield from _figures(
        ("C", part.capacitance_f * part.count, "F"),
        ("ESL", inductance_h or None, "H"),
        ("resonance", resonance, "Hz"),
        ("rated", part.rating.rated_voltage_v, "V"),
    )


def _resistor(part: Any) -> Iterator[Figure]:
    return _figures(("R", part.resistance_ohm, "ohm"), ("L", part.inductance_h, "H"))


def _inductor(part: Any) -> Iterator[Figure]:
    resonance = resonance_hz(part.inductance_h, part.capacitance_f) if part.capacitance_f else None
    return _figures(("L", part.inductance_h, "H"), ("Rdc", part.rdc_ohm, "ohm"), ("resonance", resonance, "Hz"))


def _copper(part: Part) -> Iterator[Figure]:
    omega = math.tau * _TEST_HZ
    inductance_h = float(part.impedance(np.array([omega]))[0].imag) / omega
    return _figures(("R", part.dc_ohm(), "ohm"), ("L", inductance_h, "H"))


def _planes(part: Any) -> Iterator[Figure]:
    return _figures(("C", part.capacitance_f(), "F"))


def _transformer(construction: Any) -> Iterator[Figure]:
    return _figures(
        ("C", construction.interwinding_capacitance_f, "F"), ("driven share", construction.driven_fraction, "")
    )


_FIGURES: Mapping[str, Callable[[Any], Iterator[Figure]]] = MappingProxyType(
    {
        "bead": _ferrite,
        "common-mode-choke": _ferrite,
        "capacitor": _capacitor,
        "resistor": _resistor,
        "inductor": _inductor,
        "copper": _copper,
        "via": _copper,
        "plane-gap": _planes,
        "plane-overlap": _planes,
        "transformer": _transformer,
    }
)
