"""Judges of what noise does to the pair: common-mode voltage, impedance of the return path."""

from __future__ import annotations

import math

import numpy as np

from models.arrays import Real
from models.case.document import MOST_POINTS, Candidate, Case, Sweep
from models.case.requirement import Requirement
from models.decide.corners import stiff, weak
from models.decide.loop_judge import loops_said
from models.decide.subject import Subject
from models.decide.verdict import Verdict, at_most, not_applicable, shown
from models.network.grid import point_grid
from models.network.solver import Solver
from models.outcomes.common_mode import CommonMode

_TOPS, _CLOSER, _ROUNDS = 4, 17, 5
_WITHIN = "Every part at the end of its tolerance where the regions are joined most weakly."


def judge_return_impedance(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the highest impedance in circuit within a band, at nominal values and at both ends of the tolerances."""
    band = requirement.band_hz
    assert band is not None
    f_hz = band_points(subject.case.sweep, band)
    nominal = (subject.case, subject.candidate)
    corners = dict.fromkeys((nominal, weak(*nominal), stiff(*nominal)))
    peaks = [highest_impedance(subject.solver, case, candidate, f_hz) for case, candidate in corners]
    value, where_hz = max(peaks)
    at = shown(where_hz, "Hz")
    return at_most(
        requirement,
        value,
        f"The highest impedance in circuit between {shown(band[0], 'Hz')} and {shown(band[1], 'Hz')} is "
        f"{shown(value, 'ohm')}, at {at}."
        if math.isfinite(value)
        else "Nothing joins the regions.",
        nominal=peaks[0][0],
        equation=f"|Z({at})| = {shown(value, 'ohm')}" if math.isfinite(value) else "",
        assumed=("Nominal values and both ends of the tolerances, all parts together.",) if len(corners) > 1 else (),
        source="Network of the case, sources dead, 1 A into the second region and out of the first",
    )


def band_points(sweep: Sweep, band_hz: tuple[float, float]) -> Real:
    """Return the sweep's points within a band and the band's ends (F,), Hz; beyond the sweep as close as within it."""
    low, high = band_hz
    if sweep.start_hz <= low and high <= sweep.stop_hz:
        inside = sweep.f_hz()
        return np.array([low, *inside[(inside > low) & (inside < high)].tolist(), high])
    count = min(MOST_POINTS, 2 + math.ceil(math.log10(high / low) * sweep.points_per_decade))
    return np.geomspace(low, high, count)


def highest_impedance(solver: Solver, case: Case, candidate: Candidate, f_hz: Real) -> tuple[float, float]:
    """Return the highest impedance in circuit over a band, between its points too.

    Around the highest local tops of |Z| the points are laid ever closer, so that a resonance which is narrower than
    their spacing is met at its peak.

    Parameters
    ----------
    solver, case, candidate : what is solved
    f_hz : (F,) rising, both ends of the band included, Hz

    Returns
    -------
    (|Z| in Ω, where in Hz)

    Notes
    -----
    Finds every peak that shows as a local top on the points: for a single resonance always, for two within one spacing
    the higher one. Good to 1e-4 of the peak up to a quality of about 1e4.
    """

    def magnitude(points: Real) -> Real:
        size: Real = np.abs(solver.in_circuit(case, candidate, point_grid(points.tolist())))
        return size

    size = magnitude(f_hz)
    best = int(np.argmax(size))
    found = (float(size[best]), float(f_hz[best]))
    tops = np.flatnonzero((size[1:-1] >= size[:-2]) & (size[1:-1] >= size[2:])) + 1
    tops = tops[np.argsort(size[tops])[-_TOPS:]]
    low, high = f_hz[tops - 1], f_hz[tops + 1]
    for _ in range(_ROUNDS if tops.size and math.isfinite(found[0]) else 0):
        points = np.geomspace(low, high, _CLOSER)
        closer = magnitude(points.ravel()).reshape(points.shape)
        place = np.argmax(closer, axis=0)
        columns = np.arange(place.size)
        one = int(np.argmax(closer[place, columns]))
        found = max(found, (float(closer[place[one], one]), float(points[place[one], one])))
        low = points[np.maximum(place - 1, 0), columns]
        high = points[np.minimum(place + 1, _CLOSER - 1), columns]
    return found


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
        " ".join((why, *loops_said(subject))),
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
    level, count = shown(source.level(), source.unit), len(worst.coefficients) - 1
    if not math.isfinite(worst.peak_v):
        return ""
    return (
        f"max |Σ c_n·{level}·H(n·{shown(worst.frequency_hz, 'Hz')})| over n = 0 to {count} = {shown(worst.peak_v, 'V')}"
    )
