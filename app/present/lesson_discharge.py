"""The voltage after a discharge in a lesson."""

from __future__ import annotations

import math

import numpy as np

from app.present.lesson_scene import POINTS, Scene
from app.present.specs import AxisSpec, CurveSpec, PlotSpec
from app.present.tabs import ink
from models.formulas.discharge import shared_voltage
from models.quantity import format_quantity

_START_S = 1e-6
_SLOW_HZ = 1e3


def discharge_plot(scene: Scene) -> PlotSpec:
    """Return the voltage that is left over time; level without a path for direct current."""
    level_v, until_s = scene.plot.level_v, scene.plot.until_s
    time_s = np.geomspace(_START_S, until_s, POINTS)
    curves = []
    for index, each in scene.seen:
        farad = scene.truth.bench.capacitance(scene.present, each, _SLOW_HZ)
        ohm = abs(scene.truth.bench.impedance(scene.present, each, 0.0))
        left = np.exp(-time_s / (ohm * farad)) if math.isfinite(ohm) else np.ones_like(time_s)
        volts = np.where(left > 1e-6, shared_voltage(level_v, farad) * left, np.nan)
        strong = scene.is_strong(index, each.name)
        curves.append(CurveSpec(label=each.name, ink=ink(index), x=time_s, y=volts, strong=strong))
    return PlotSpec(
        title="Voltage between the two grounds after a discharge",
        subtitle=f"{format_quantity(level_v, 'V')} from a charged person, once",
        x=AxisSpec(unit="s", log=True, low=_START_S, high=until_s),
        y=AxisSpec(unit="V", log=True, low=1.0, high=1e4),
        curves=tuple(curves),
    )
