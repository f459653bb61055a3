"""Radiated emission: the field that the common-mode current on the cables makes at a distance. An estimate."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import Final

import numpy as np
from attrs import frozen

from models.arrays import Real
from models.formulas.constants import LIGHT_M_PER_S
from models.formulas.receiver import FIELD_HZ
from models.limits import LimitLine
from models.network.cable import CommonModeLine
from models.network.grid import Grid
from models.network.solver import Solver
from models.outcomes.cables import CableCurrent
from models.outcomes.margin import Margin, worst_margin
from models.outcomes.reading import Emission, Together

DISTANCES_M: Final = (3.0, 10.0)
START_HZ = FIELD_HZ
"""Below it a distance of 3 m is no far field, and no limit asks for the field of a cable."""
REFLECTION = 2.0
"""Reflection of the test site in phase, the upper end: a height scan finds 4 to 6 dB of it."""
USUAL_ERROR_DB = 6.0
"""Usual error either way, to be shown as a band: where the cable lies decides more than any formula."""
ALL_CABLES = "all cables"
_FIELD_STEP = 0.3
"""Change of kl from one tabulated field to the next: several points for each lobe that a longer wire gains."""
_LEAST_POINTS, _MOST_POINTS = 64, 400


@frozen(kw_only=True, eq=False, slots=False)
class Radiated:
    """Field that one source's current makes on the cables; computed when asked for.

    E·r = g·G(f)·I, I the largest current along the cable, G from the standing wave on it in its strongest direction
    and g = 2 for the reflection; every cable straight and alone.

    ±6 dB. The short wire and the half wave come out as in the textbooks. Source: C. A. Balanis, *Antenna Theory*.

    Attributes
    ----------
    source : name of the source
    currents : of the source in every cable
    solver : remembers each cable's field per ampere
    """

    source: str
    currents: Sequence[CableCurrent]
    solver: Solver

    @cached_property
    def field_v(self) -> Mapping[str, Real]:
        """Cable → rms field times distance (K,), V, at the lines from 30 MHz up."""
        return {each.cable: _field_v(self.solver, each) for each in self.currents}

    @cached_property
    def total_v(self) -> Real:
        """Field of all cables times distance (K,), V rms: their amplitudes added, as for arms in line."""
        fields = list(self.field_v.values())
        return sum(fields[1:], start=fields[0])

    def at(self, distance_m: float, cable: str | None = None) -> Emission:
        """Return the field at a distance, of one cable or of all together, V/m rms."""
        field = self.total_v if cable is None else self.field_v[cable]
        lines = self.currents[0].lines
        return Emission(
            source=self.source,
            spacing_hz=lines.frequency_hz,
            first=lines.first_from(START_HZ),
            v_rms=field / distance_m,
            noise_like=lines.noise_like,
            field=True,
        )


def radiated(solver: Solver, currents: Sequence[CableCurrent]) -> tuple[Radiated, ...]:
    """Return the field of each source, from its currents in every cable."""
    sources = dict.fromkeys(each.source for each in currents)
    return tuple(
        Radiated(source=source, currents=[each for each in currents if each.source == source], solver=solver)
        for source in sources
    )


def worst_field(fields: Sequence[Radiated], line: LimitLine) -> Margin | None:
    """Return where the field of all sources and cables comes closest to a limit line; None where none falls on it."""
    assert line.distance_m is not None
    return worst_margin(Together(each=[each.at(line.distance_m) for each in fields]), line, ALL_CABLES)


def _field_v(solver: Solver, current: CableCurrent) -> Real:
    first = current.lines.first_from(START_HZ)
    solved, grid = current.solved, current.lines.grid
    if solved is None or grid is None:
        return np.zeros(0)
    per_a = solver.memo.get(("field", solved.line, grid, first), lambda: _field_per_a(solver, solved.line, grid, first))
    return current.largest_a_rms[first:] * per_a


def _field_per_a(solver: Solver, line: CommonModeLine, grid: Grid, first: int) -> Real:
    """Return g·G(f) (K,), V/A: found at few frequencies, since it is smooth, and read off straight between them."""
    f_hz = grid.f_hz[first - 1 :]
    if not f_hz.size:
        return np.zeros(0)
    stop_hz = float(f_hz[-1])
    at_hz, field = solver.memo.get(("field table", line, stop_hz), lambda: _field_table(line, stop_hz))
    return np.asarray(REFLECTION * np.interp(f_hz, at_hz, field), np.float64)


def _field_table(line: CommonModeLine, stop_hz: float) -> tuple[Real, Real]:
    stop_hz = max(stop_hz, START_HZ * 1.01)
    turn = math.tau * (stop_hz - START_HZ) * line.length_m / LIGHT_M_PER_S
    points = int(np.clip(turn / _FIELD_STEP, _LEAST_POINTS, _MOST_POINTS))
    at_hz = np.linspace(START_HZ * 0.999, stop_hz, points)
    return at_hz, line.solved(math.tau * at_hz).field_v_per_a
