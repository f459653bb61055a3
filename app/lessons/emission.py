"""What the cables of a lesson radiate: the field at each harmonic, what drives it, and the limit that it is held to."""

from __future__ import annotations

import numpy as np
from attrs import frozen

from app.lessons.bench import Bench
from models.arrays import Real
from models.case.document import Candidate, Case
from models.formulas.levels import volts_of_level
from models.limits import LimitLine, limits

KIND = "radiated-emission"


@frozen(kw_only=True, eq=False)
class Field:
    """The field of all cables from the loudest source, at its harmonics from 30 MHz up.

    Attributes
    ----------
    f_hz : (K,)
    drive_v, cable_a : (K,) rms voltage across the pair, and largest rms current along any cable
    field_v_per_m : (K,) rms field at the distance of the limit
    limit_v_per_m : (K,) the limit, ``nan`` where there is none
    """

    f_hz: Real
    drive_v: Real
    cable_a: Real
    field_v_per_m: Real
    limit_v_per_m: Real

    def nearest(self, f_hz: float) -> int:
        """Return the index of the harmonic next to a frequency."""
        return int(np.argmin(np.abs(self.f_hz - f_hz)))


def limit_line(case: Case) -> LimitLine | None:
    """Return the limit line of a case's requirement on radiated emission, None where it has none that is known."""
    name = next((each.limit_line for each in case.requirements if each.kind == KIND), None)
    return None if name is None else limits().find(name, "radiated")


def radiates(case: Case) -> bool:
    """Return whether a case has what a field is computed from and held to: a cable, a source, a limit line."""
    return bool(case.cables and case.sources and limit_line(case))


def field(bench: Bench, case: Case, candidate: Candidate) -> Field | None:
    """Return what the cables radiate with a candidate; None without a cable, a source or a limit."""
    line = limit_line(case)
    if line is None or not radiates(case):
        return None
    outcome = bench.outcome(case, candidate)
    loudest = max(range(len(case.sources)), key=lambda k: outcome.common_mode[k].peak_v)
    assert line.distance_m is not None
    seen = outcome.radiated[loudest].at(line.distance_m)
    orders = slice(seen.first, seen.first + seen.v_rms.size)
    currents = [each.largest_a_rms[orders] for each in outcome.radiated[loudest].currents]
    return Field(
        f_hz=seen.f_hz,
        drive_v=outcome.common_mode[loudest].v_rms[orders],
        cable_a=np.max(currents, axis=0),
        field_v_per_m=seen.v_rms,
        limit_v_per_m=volts_of_level(line.limit_db(seen.f_hz, line.detectors[0])),
    )
