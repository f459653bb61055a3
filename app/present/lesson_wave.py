"""The common-mode voltage of a lesson, over time and by frequency."""

from __future__ import annotations

import math

import numpy as np

from app.present.common_mode import spectrum_dbuv
from app.present.lesson_scene import Scene
from app.present.specs import AxisSpec, CurveSpec, PlotSpec
from app.present.tabs import ink
from models.case.document import Candidate


def waveform_plot(scene: Scene) -> PlotSpec:
    """Return two periods of the voltage between the two grounds."""
    shown = [(index, each, _loudest(scene, each)) for index, each in scene.seen]
    period_s = 1.0 / scene.own.sources[_source_index(scene)].wave.frequency_hz
    curves = []
    for index, each, source in shown:
        wave = scene.truth.bench.common_mode(scene.present, each)[source]
        if np.isfinite(wave.coefficients).all():
            volts = np.tile(wave.waveform_v, 2)
            time_s = np.arange(volts.size, dtype=np.float64) * (2.0 * period_s / volts.size)
            strong = scene.is_strong(index, each.name)
            curves.append(CurveSpec(label=each.name, ink=ink(index), x=time_s, y=volts, strong=strong))
    reach = 1.15 * _reach(scene)
    return PlotSpec(
        title="Voltage between the two grounds",
        subtitle=f"{scene.own.sources[_source_index(scene)].name}, two periods",
        x=AxisSpec(unit="s", low=0.0, high=2.0 * period_s),
        y=AxisSpec(unit="V", low=-reach, high=reach),
        curves=tuple(curves),
    )


def spectrum_plot(scene: Scene) -> PlotSpec:
    """Return the voltage between the two grounds at each multiple of its frequency."""
    curves = []
    for index, each in scene.seen:
        wave = scene.truth.bench.common_mode(scene.present, each)[_loudest(scene, each)]
        strong = scene.is_strong(index, each.name)
        x = wave.orders[1:] * wave.frequency_hz
        curves.append(
            CurveSpec(label=each.name, ink=ink(index), x=x, y=spectrum_dbuv(wave), strong=strong, faint=not strong)
        )
    source = scene.own.sources[_source_index(scene)]
    return PlotSpec(
        title="Voltage between the two grounds, by frequency",
        subtitle=f"{source.name}, each multiple of its frequency",
        x=AxisSpec(unit="Hz", log=True, low=source.wave.frequency_hz, high=scene.own.sweep.stop_hz),
        y=AxisSpec(unit="dBµV", low=0.0, high=160.0),
        curves=tuple(curves),
        cursor_x=scene.at_hz,
    )


def _reach(scene: Scene) -> float:
    names = scene.plot.after or tuple(each.name for each in scene.own.candidates)
    waves = [
        scene.truth.bench.common_mode(scene.own, each)[_source_index(scene)]
        for each in scene.own.candidates
        if each.name in names
    ]
    return max((each.peak_v for each in waves if math.isfinite(each.peak_v)), default=1.0) or 1.0


def _source_index(scene: Scene) -> int:
    names = [each.name for each in scene.own.sources]
    return names.index(scene.plot.source) if scene.plot.source in names else 0


def _loudest(scene: Scene, candidate: Candidate) -> int:
    """Return the source to show: the one named, or the first that the document still has."""
    count = len(scene.truth.bench.common_mode(scene.present, candidate))
    return min(_source_index(scene), count - 1)
