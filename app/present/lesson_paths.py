"""The shares of the ways back in a lesson."""

from __future__ import annotations

import numpy as np

from app.present.lesson_scene import Scene, frequencies
from app.present.specs import AxisSpec, CurveSpec, PlotSpec, ReadoutSpec
from app.present.tabs import ink
from models.quantity import format_quantity


def paths_plot(scene: Scene) -> PlotSpec:
    """Return the share of each way back over frequency."""
    f_hz = frequencies(scene.own)
    candidate = scene.seen[0][1] if scene.seen else None
    shares = () if candidate is None else scene.truth.bench.paths(scene.present, candidate, f_hz)
    curves = tuple(
        CurveSpec(
            label=_path_label(each.name),
            ink=ink(index),
            x=f_hz,
            y=100.0 * each.share,
            strong=scene.strong == each.name or (not scene.strong and each.role == "branch"),
        )
        for index, each in enumerate(each for each in shares if each.leaves_b)
    )
    return PlotSpec(
        title="Which way the current goes back",
        subtitle="share of each path" if candidate is None else f"{candidate.name}, share of each path",
        x=AxisSpec(unit="Hz", log=True, low=float(f_hz[0]), high=float(f_hz[-1])),
        y=AxisSpec(unit="%", low=0.0, high=105.0),
        curves=curves,
        cursor_x=scene.at_hz,
        cursor_text="" if scene.at_hz is None else format_quantity(scene.at_hz, "Hz", digits=3),
        readouts=_share_readouts(curves, scene.at_hz),
    )


def _share_text(percent: float) -> str:
    return "< 0.1 %" if percent < 0.1 else format_quantity(percent / 100.0, "", digits=2)


def _path_label(name: str) -> str:
    """Return what a path is called: a candidate's only branch is the bridge."""
    return "the bridge" if name == "branch 1" else name


def _share_readouts(curves: tuple[CurveSpec, ...], at_hz: float | None) -> tuple[ReadoutSpec, ...]:
    if at_hz is None:
        return ()
    shares = [(each, float(np.interp(at_hz, each.x, each.y))) for each in curves]
    return tuple(
        ReadoutSpec(label=each.label, ink=each.ink, text=_share_text(share), y=share) for each, share in shares
    )
