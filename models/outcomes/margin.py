"""How far an emission stays below a limit line, and which line of the spectrum comes closest."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from attrs import frozen

from models.arrays import Real
from models.formulas.levels import level_dbuv, volts_of_level
from models.limits import LimitLine
from models.outcomes.reading import Together


@frozen(kw_only=True)
class Margin:
    """Where an emission comes closest to a limit line.

    Attributes
    ----------
    line : name of the limit line
    where : the cable, or what stands for all of them
    source, order, f_hz, detector : the line of the spectrum that comes closest, and the detector that reads it
    level_db : reading there of all sources, amplitudes added as an upper bound, dBµV or dBµV/m
    power_sum_db : the same with powers added, which sources that know nothing of each other come to
    limit_db : the limit there
    margin_db : limit − level; negative over the limit
    """

    line: str
    where: str
    source: str
    order: int
    f_hz: float
    detector: str
    level_db: float
    power_sum_db: float
    limit_db: float

    @property
    def margin_db(self) -> float:
        """Limit less level; negative over the limit, dB."""
        return self.limit_db - self.level_db


def worst_margin(together: Together, line: LimitLine, where: str) -> Margin | None:
    """Return where an emission comes closest to a limit line; None where no line of its spectrum has a limit."""
    found = [
        margin
        for index in range(len(together.each))
        for detector in line.detectors
        if (margin := _margin(together, index, line, detector, where)) is not None
    ]
    return min(found, key=lambda margin: margin.margin_db, default=None)


def _margin(together: Together, index: int, line: LimitLine, detector: str, where: str) -> Margin | None:
    own = together.each[index]
    per_limit = _per_limit(line, detector, own.spacing_hz, own.first, own.v_rms.size)
    if not per_limit.any():
        return None
    power, bound = together.read(index, detector)
    with np.errstate(invalid="ignore"):
        # the worst line is one that has a limit, even where nothing at all is emitted
        worst = int(np.argmax(np.where(per_limit > 0.0, bound * per_limit, -1.0)))
    return Margin(
        line=line.name,
        where=where,
        source=own.source,
        order=own.first + worst,
        f_hz=float(own.f_hz[worst]),
        detector=detector,
        level_db=float(level_dbuv(bound[worst])),
        power_sum_db=float(level_dbuv(power[worst])),
        limit_db=float(level_dbuv(1.0 / per_limit[worst])),
    )


@lru_cache(maxsize=64)
def _per_limit(line: LimitLine, detector: str, spacing_hz: float, first: int, count: int) -> Real:
    """Return one over the limit (K,), 1/V or m/V, at lines of equal distance; 0 where there is no limit."""
    limit_db = line.limit_db((first + np.arange(count, dtype=np.float64)) * spacing_hz, detector)
    return np.nan_to_num(1.0 / volts_of_level(limit_db), nan=0.0)
