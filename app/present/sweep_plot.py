"""A sweep of one or two values as a family of curves, or as a map with lines of equal result."""

from __future__ import annotations

import math

import numpy as np

from app.present.specs import AxisSpec, CurveSpec, MarkSpec, PlotSpec
from app.present.tabs import SLOTS, ink
from app.sweep.address import Address
from app.sweep.contour import contour, levels
from app.sweep.map import Mapped
from app.sweep.offered import named
from app.sweep.surface import Surface
from models.arrays import Real
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
        x=_exact(found.inner.unit or "", found.x),
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


def map_plot(
    found: Surface, *, unit: str, here: tuple[float, float] | None, at: tuple[float, float] | None
) -> PlotSpec:
    """Return a result over two values as lines of equal result, each with its value.

    Parameters
    ----------
    found : of two values
    unit : of the result
    here : the values of the present case, where both lie on the map
    at : the point that is chosen
    """
    assert found.outer is not None
    x_axis, y_axis = _exact(found.inner.unit or "", found.x), _exact(found.outer.unit or "", found.y)
    lines = []
    for number, level in enumerate(levels(found.z)):
        pieces = contour(_straight(x_axis, found.x), _straight(y_axis, found.y), found.z, level)
        if pieces:
            lines.append((number, level, [(_bent(x_axis, x), _bent(y_axis, y)) for x, y in pieces]))
    points = [("present case", 0, here), ("chosen", 1, at)]
    return PlotSpec(
        title=found.column,
        subtitle=f"{found.outer.text} over {found.inner.text}",
        x=x_axis,
        y=y_axis,
        curves=(
            *(_iso(number, format_quantity(level, unit, digits=3), pieces) for number, level, pieces in lines),
            *(
                CurveSpec(label=label, ink=ink(slot), x=np.array([p[0]]), y=np.array([p[1]]), dots=True, strong=True)
                for label, slot, p in points
                if p is not None
            ),
        ),
        marks=(
            *(MarkSpec(label=label, ink=ink(slot), x=p[0], y=p[1]) for label, slot, p in points if p is not None),
            *(_named(number, format_quantity(level, unit, digits=3), pieces) for number, level, pieces in lines),
        ),
        empty="" if lines else "The result is the same at every point, or there is none.",
    )


def over_words(mapped: Mapped) -> str:
    """Return what runs along the axes, by the names of the values."""
    found, case = mapped.surface, mapped.request.case
    inner, outer = (each and named(case, each).rpartition(" · ")[2] for each in (found.inner, found.outer))
    return f"{outer} upwards, {inner} across" if outer else f"over {inner}"


def impedances(mapped: Mapped) -> PlotSpec:
    """Return the impedance over frequency at a few of the values, one curve each."""
    address = mapped.surface.inner
    seen = np.concatenate([curve.z_ohm for curve in mapped.curves])
    return PlotSpec(
        title="Impedance in circuit",
        subtitle=f"at values of {address.text}",
        x=AxisSpec(unit="Hz", log=True, low=float(mapped.f_hz[0]), high=float(mapped.f_hz[-1])),
        y=_axis("Ω", seen),
        curves=tuple(
            CurveSpec(label=_label(address, curve.value), ink=ink(slot), x=mapped.f_hz, y=curve.z_ohm)
            for slot, curve in enumerate(mapped.curves)
        ),
        marks=tuple(_end(mapped, slot) for slot in range(len(mapped.curves))),
    )


def _end(mapped: Mapped, slot: int) -> MarkSpec:
    """Return the name of a curve, each a little further along than the one before."""
    curve, place = mapped.curves[slot], (slot + 1) * mapped.f_hz.size // (len(mapped.curves) + 2)
    text = format_quantity(curve.value, mapped.surface.inner.unit or "", digits=3)
    return MarkSpec(label=text, ink=ink(slot), x=float(mapped.f_hz[place]), y=float(curve.z_ohm[place]))


def _iso(number: int, text: str, pieces: list[tuple[Real, Real]]) -> CurveSpec:
    gap = np.array([np.nan])
    x = np.concatenate([np.concatenate((piece, gap)) for piece, _ in pieces])
    y = np.concatenate([np.concatenate((piece, gap)) for _, piece in pieces])
    # the gap between two lines needs a place of its own on the axis
    x[np.isnan(x)] = np.array([piece[-1] for piece, _ in pieces])
    return CurveSpec(label=text, ink=ink(number), x=x, y=y)


def _named(number: int, text: str, pieces: list[tuple[Real, Real]]) -> MarkSpec:
    x, y = max(pieces, key=lambda piece: piece[0].size)
    return MarkSpec(label=text, ink=ink(number), x=float(x[x.size // 2]), y=float(y[y.size // 2]))


def _exact(unit: str, values: Real) -> AxisSpec:
    """Return an axis from the first value to the last, logarithmic where they are spaced so."""
    log = bool(values[0] > 0.0 and np.allclose(np.diff(np.log(values), 2), 0.0, atol=1e-6))
    return AxisSpec(unit=unit, log=log, low=float(values[0]), high=float(values[-1]))


def _straight(axis: AxisSpec, values: Real) -> Real:
    return np.log(values) if axis.log else values


def _bent(axis: AxisSpec, values: Real) -> Real:
    return np.exp(values) if axis.log else values
