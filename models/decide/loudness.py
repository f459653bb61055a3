"""How loud a case is with a bridge in it: one measure for every bridge of a case, so that they can be ranked."""

from __future__ import annotations

import numpy as np
from attrs import frozen

from models.decide.emission_judge import closest
from models.decide.subject import Subject
from models.formulas.levels import level_dbuv
from models.outcomes.emitted import USUAL_DETECTOR
from models.outcomes.reading import Together

AGAINST_LINE, CONDUCTED, FIELD, PEAK = "against-line", "conducted", "field", "peak"
FIELD_DISTANCE_M = 10.0
CONDUCTED_BAND_HZ = (150e3, 30e6)
_FIELD_BAND_HZ = (30e6, 1e12)


@frozen(kw_only=True)
class Loudness:
    """What is emitted, as one number of which less is always quieter.

    Attributes
    ----------
    measure : ``against-line``, ``conducted``, ``field`` or ``peak``
    value : dB over the nearest limit line, below 0 under it; dBµV at a LISN; dBµV/m at 10 m; V of common mode
    """

    measure: str
    value: float


def loudness(subject: Subject) -> Loudness:
    """Return how loud a candidate leaves its case, by the first of these that the case has.

    The least margin to any limit line that a requirement names; the highest quasi-peak reading at a LISN from 150 kHz
    to 30 MHz; the highest field of the cables from 30 MHz up; the common-mode peak of the loudest source. The first
    three are nominal, as emission is judged; the last is the worst case within tolerances.

    Parameters
    ----------
    subject : the candidate in its case

    Notes
    -----
    Which one it is depends on the case alone, never on the candidate, so all candidates of a case compare.
    """
    found = [closest(subject, each) for each in subject.case.requirements]
    margins = [each.margin_db for each in found if each is not None]
    if margins:
        return Loudness(measure=AGAINST_LINE, value=-min(margins))
    for measure in (CONDUCTED, FIELD):
        level_db = _highest_db(subject, measure)
        if level_db is not None:
            return Loudness(measure=measure, value=level_db)
    return Loudness(measure=PEAK, value=max((each.peak_v for each in subject.worst_common_mode), default=0.0))


def _highest_db(subject: Subject, measure: str) -> float | None:
    if not subject.case.sources or not subject.case.cables:
        return None
    if measure == CONDUCTED:
        read, band_hz = [each.together for each in subject.emission.conducted], CONDUCTED_BAND_HZ
    else:
        fields = [each.at(FIELD_DISTANCE_M) for each in subject.emission.radiated]
        read, band_hz = [Together(each=fields)] if fields else [], _FIELD_BAND_HZ
    return max((level for each in read for level in _levels_db(each, band_hz)), default=None)


def _levels_db(together: Together, band_hz: tuple[float, float]) -> list[float]:
    """Return the highest reading within a band at the lines of each source, where it has any there."""
    found = []
    for index, own in enumerate(together.each):
        inside = (own.f_hz >= band_hz[0]) & (own.f_hz <= band_hz[1])
        if inside.any():
            found.append(float(level_dbuv(np.max(together.read(index, USUAL_DETECTOR)[1][inside]))))
    return found
