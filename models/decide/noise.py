"""Judges of what noise does to the pair: common-mode voltage, impedance of the return path."""

from __future__ import annotations

import math

import numpy as np

from models.case.requirement import Requirement
from models.decide.corners import stiff, weak
from models.decide.ruling import Verdict, at_most, not_applicable, shown
from models.decide.subject import Subject
from models.network.grid import point_grid
from models.outcomes.common_mode import CommonMode

_CURRENTS = ("return-current", "ripple", "crossing-signal")
_WITHIN = "Every part at the end of its tolerance where the regions are joined most weakly."


def judge_return_impedance(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the highest impedance in circuit within a band, at nominal values and at both ends of the tolerances."""
    band = requirement.band_hz
    assert band is not None
    inside = subject.case.sweep.f_hz()
    inside = inside[(inside > band[0]) & (inside < band[1])]
    grid = point_grid((band[0], *inside.tolist(), band[1]))
    nominal = (subject.case, subject.candidate)
    corners = dict.fromkeys((nominal, weak(*nominal), stiff(*nominal)))
    magnitudes = [np.abs(subject.solver.in_circuit(case, candidate, grid)) for case, candidate in corners]
    highest = np.max(magnitudes, axis=0)
    worst = int(np.argmax(highest))
    value, at = float(highest[worst]), shown(float(grid.f_hz[worst]), "Hz")
    return at_most(
        requirement,
        value,
        f"The highest impedance in circuit between {shown(band[0], 'Hz')} and {shown(band[1], 'Hz')} is "
        f"{shown(value, 'ohm')}, at {at}."
        if math.isfinite(value)
        else "Nothing joins the regions.",
        nominal=float(magnitudes[0].max()),
        equation=f"|Z({at})| = {shown(value, 'ohm')}" if math.isfinite(value) else "",
        assumed=("Nominal values and both ends of the tolerances, all parts together.",) if len(corners) > 1 else (),
        source="Network of the case, sources dead, 1 A into the second region and out of the first",
    )


def judge_common_mode(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the highest peak that any one source drives across the pair, within tolerances."""
    if not subject.case.sources:
        return not_applicable(requirement, "The case has no source.")
    worst = max(subject.worst_common_mode, key=lambda each: each.peak_v)
    nominal = max(each.peak_v for each in subject.common_mode)
    toleranced = worst not in subject.common_mode
    why = (
        f"{worst.source} drives {shown(worst.peak_v, 'V')} peak across the pair, {shown(worst.total_rms_v, 'V')} rms."
        if math.isfinite(worst.peak_v)
        else f"The direct current of {worst.source} has no way back."
    )
    return at_most(
        requirement,
        worst.peak_v,
        why,
        nominal=nominal,
        equation=_peak_equation(subject, worst),
        assumed=(
            "Each source alone, edges straight, every harmonic to the end of the sweep.",
            *((_WITHIN,) if toleranced else ()),
        ),
        source="v(t) = Σ c_n·A·H(f_n)·e^(jω_n t), with the exact Fourier coefficients of its wave",
    )


def _peak_equation(subject: Subject, worst: CommonMode) -> str:
    source = next(each for each in subject.case.sources if each.name == worst.source)
    unit = "A" if source.kind in _CURRENTS else "V"
    count = len(worst.coefficients) - 1
    if not math.isfinite(worst.peak_v):
        return ""
    return (
        f"max |Σ c_n·{shown(source.level(), unit)}·H(n·{shown(worst.frequency_hz, 'Hz')})| over n = 0 to {count} = "
        f"{shown(worst.peak_v, 'V')}"
    )
