"""A plot of a lesson before a group: what the cursor reads stands by the names of the curves."""

from __future__ import annotations

from attrs import evolve

from app.present.lesson_scene import GUESS
from app.present.specs import MarkSpec, PlotSpec


def for_a_room(spec: PlotSpec) -> PlotSpec:
    """Return a plot for large type, in which a box of read-outs would stand on the curves that it tells of."""
    at = spec.cursor_x
    if at is None:
        return spec
    read = {each.label: each.text for each in spec.readouts}
    names = [f"{each.label}: {read[each.label]}" if each.label in read else each.label for each in spec.curves]
    top = spec.y.high if spec.y.log else spec.y.low + 0.98 * (spec.y.high - spec.y.low)
    points = [MarkSpec(label="", ink=each.ink, x=at, y=each.y) for each in spec.readouts if each.y is not None]
    return evolve(
        spec,
        curves=tuple(evolve(curve, label=name) for curve, name in zip(spec.curves, names, strict=True)),
        cursor_text="",
        readouts=(),
        marks=(*spec.marks, *points, MarkSpec(label=spec.cursor_text, ink=GUESS, x=at, y=top)),
    )
