"""A sweep of one or two values as a family of curves."""

from __future__ import annotations

import math

import numpy as np

from app.present.specs import AxisSpec, CurveSpec, PlotSpec
from app.present.tabs import SLOTS, ink
from app.sweep.address import Address
from app.sweep.surface import Surface
from models.formulas.impedance import Real
from models.quantity import format_quantity


def family(found: Surface, *, unit: str) -> PlotSpec:
    """Return a result over the value that varies fastest, one curve for each of up to six values of the other.

    Parameters
    ----------
    found : of one or two values
    unit : of the result, as its axis shows it
    """
    shown = np.unique(np.linspace(0, found.y.size - 1, min(found.y.size, SLOTS)).round().astype(int)).tolist()
    return PlotSpec(
        title=found.column,
        subtitle=f"over {found.inner.text}",
        x=_axis(found.inner.unit or "", found.x),
        y=_axis(unit, found.z[shown]),
        curves=tuple(_curve(found, slot, row) for slot, row in enumerate(shown)),
        empty="" if np.isfinite(found.z).any() else "The sweep gave no number here.",
    )


def _curve(found: Surface, slot: int, row: int) -> CurveSpec:
    label = _label(found.outer, found.y[row])
    return CurveSpec(label=label, ink=ink(slot), x=found.x, y=found.z[row], strong=slot == 0)


def _label(outer: Address | None, value: float) -> str:
    if outer is None:
        return "result"
    return f"{outer.text.rpartition('.')[2]} {format_quantity(value, outer.unit or '', digits=3)}"


def _axis(unit: str, values: Real) -> AxisSpec:
    """Return an axis around values, logarithmic where they span more than a decade above 0."""
    seen = values[np.isfinite(values)]
    low, high = (float(seen.min()), float(seen.max())) if seen.size else (0.0, 1.0)
    if low > 0.0 and high / low > 10.0:
        return AxisSpec(
            unit=unit, log=True, low=10.0 ** math.floor(math.log10(low)), high=10.0 ** math.ceil(math.log10(high))
        )
    air = 0.05 * (high - low)
    return AxisSpec(unit=unit, low=low - air, high=high + air)
