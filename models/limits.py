"""Limit lines of emission: data with edition and confidence, those that ship and a person's own.

The figures are data for design, as they are usually quoted: the current edition of a standard decides.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import numpy as np
from attrs import frozen

from models.arrays import Real
from models.assets import ASSETS
from models.catalogue.folder import OVERRIDE as _CATALOGUE_OVERRIDE
from models.catalogue.folder import Stamp, own_folder, stamps
from models.codec import MISSING, ListOf, Place, Text, describe
from models.declare import Table, quantity, read_object, value
from models.errors import CaseError, Problem, QuantityError
from models.formulas.levels import sloped_limit_db
from models.sources.harmonics import SLACK
from models.toml_text import parse_tables, read_text

FORMAT = 1
SHIPPED = ASSETS / "limits"
OVERRIDE = "ISTHMUS_LIMITS"
"""Environment variable that names another folder for a person's own limit lines."""
DETECTORS = ("quasi-peak", "average", "peak")
_MOST_FILES = 200


@frozen(kw_only=True, cache_hash=True)
class Stretch:
    """A stretch of a limit for one detector, level or straight over the logarithm of frequency."""

    detector: str = value(Text(choices=DETECTORS), "detector of the receiver")
    start_hz: float = quantity("Hz", "first frequency", positive=True)
    stop_hz: float = quantity("Hz", "last frequency", positive=True)
    level: float = quantity("", "limit in dBµV, or dBµV/m for a field", high=300.0)
    stop_level: float | None = quantity("", "limit at the last frequency, where it slopes", default=None, high=300.0)

    def __attrs_post_init__(self) -> None:
        """Refuse a stretch that runs backwards."""
        if self.stop_hz <= self.start_hz:
            raise QuantityError("a stretch that runs backwards", "start below stop")

    def limit_db(self, f_hz: Real) -> Real:
        """Return the limit (F,) in dB, both ends included; ``nan`` outside."""
        last = self.level if self.stop_level is None else self.stop_level
        inside = (f_hz >= self.start_hz * (1.0 - SLACK)) & (f_hz <= self.stop_hz * (1.0 + SLACK))
        found = np.full(f_hz.shape, np.nan)
        found[inside] = sloped_limit_db(f_hz[inside], (self.start_hz, self.level), (self.stop_hz, last))
        return found


@frozen(kw_only=True, cache_hash=True)
class LimitLine:
    """A limit line: what it limits, where the figures come from and how far they are to be trusted."""

    name: str = value(Text(limit=100), "name")
    kind: str = value(Text(choices=("conducted", "radiated")), "what it limits")
    standard: str = value(Text(limit=100), "standard")
    edition: str = value(Text(limit=200), "edition that the figures are believed to be of")
    confidence: str = value(Text(choices=("high", "medium", "low")), "how sure the figures are")
    distance_m: float | None = quantity("m", "distance at which the field is limited", default=None, positive=True)
    aliases: tuple[str, ...] = value(ListOf(item=Text(limit=100)), "other names", default=())
    note: str | None = value(Text(limit=2000), "note", default=None)
    limits: tuple[Stretch, ...] = value(ListOf(item=Table(of=Stretch), least=1), "stretches of the limit")

    def __attrs_post_init__(self) -> None:
        """Refuse a field without its distance, and a distance for what is no field."""
        if (self.kind == "radiated") != (self.distance_m is not None):
            wanted = "a distance" if self.kind == "radiated" else "no distance"
            raise QuantityError(f"a distance of {self.distance_m or 'nothing'}", f"{wanted} for a {self.kind} limit")

    @property
    def unit(self) -> str:
        """Unit of the levels."""
        return "dBµV" if self.kind == "conducted" else "dBµV/m"

    @property
    def detectors(self) -> tuple[str, ...]:
        """Detectors that the line limits."""
        held = {stretch.detector for stretch in self.limits}
        return tuple(detector for detector in DETECTORS if detector in held)

    def limit_db(self, f_hz: Real, detector: str) -> Real:
        """Return the limit (F,) in dB for a detector; the lower one at a common end, ``nan`` where there is none.

        L(f) = L1 + (L2 − L1)·log(f/f1)/log(f2/f1) within a stretch.
        """
        found = np.full(f_hz.shape, np.nan)
        for stretch in self.limits:
            if stretch.detector == detector:
                found = np.fmin(found, stretch.limit_db(f_hz))
        return found

    def answers_to(self, name: str) -> bool:
        """Return whether a name means this line, whatever its case, spaces and commas."""
        return _plain(name) in {_plain(each) for each in (self.name, *self.aliases)}


@frozen(kw_only=True)
class LimitFile:
    """What one file gave: its lines, and a message where something in it is broken."""

    lines: tuple[LimitLine, ...] = ()
    message: str | None = None


@frozen(kw_only=True)
class Limits:
    """Every limit line, a person's own first, and a message for each broken file."""

    lines: tuple[LimitLine, ...]
    messages: tuple[str, ...] = ()

    def find(self, name: str, kind: str) -> LimitLine | None:
        """Return the line of a kind, ``conducted`` or ``radiated``, that answers to a name; None for none."""
        return next((line for line in self.lines if line.kind == kind and line.answers_to(name)), None)

    def names(self, kind: str) -> tuple[str, ...]:
        """Return the names of all lines of a kind."""
        return tuple(line.name for line in self.lines if line.kind == kind)


def own_limits_folder(environment: Mapping[str, str] = os.environ) -> Path:
    """Return the folder whose ``.toml`` files add limit lines; it need not exist."""
    if environment.get(OVERRIDE):
        return Path(environment[OVERRIDE])
    plain = {name: setting for name, setting in environment.items() if name != _CATALOGUE_OVERRIDE}
    return own_folder(plain).parent / "limits"


def limits(folder: Path | None = None) -> Limits:
    """Return the limit lines with what the folder adds, the person's own one by default; read once until it changes."""
    return _joined(stamps(own_limits_folder() if folder is None else folder, _MOST_FILES))


def read_limit_file(path: Path) -> LimitFile:
    """Read a file of limit lines; broken lines are left out and named in the message."""
    try:
        table = parse_tables(read_text(path, "limit file"), path.name)
    except CaseError as error:
        return _file(path, (), list(error.problems))
    place = Place((), [])
    version = table.pop("isthmus_limits", MISSING)
    if version != FORMAT or isinstance(version, bool):
        found = "nothing" if version is MISSING else describe(version)
        place.at("isthmus_limits").reject(found, f"isthmus_limits = {FORMAT}, the format version")
        table = {}
    for name in [name for name in table if name != "line"]:
        place.at(name).reject("an unknown key", "isthmus_limits, line")
    listed: Any = table.get("line", [])
    if not isinstance(listed, list):
        place.at("line").reject(describe(listed), "limit lines, each under [[line]]")
        listed = []
    read = [read_object(LimitLine, found, place.at("line").at(number)) for number, found in enumerate(listed)]
    return _file(path, tuple(line for line in read if line is not MISSING), [problem for _, problem in place.problems])


def _file(path: Path, lines: tuple[LimitLine, ...], problems: list[Problem]) -> LimitFile:
    more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
    return LimitFile(lines=lines, message=f"limit file {path}: {problems[0].text()}{more}" if problems else None)


def _plain(name: str) -> str:
    return re.sub(r"[\W_]+", "", name.casefold())


@cache
def _shipped() -> tuple[LimitFile, ...]:
    return tuple(read_limit_file(path) for path in sorted(SHIPPED.glob("*.toml")))


@lru_cache(maxsize=4)
def _joined(found: tuple[Stamp, ...]) -> Limits:
    files = (*(read_limit_file(path) for path, _, _ in found), *_shipped())
    return Limits(
        lines=tuple(line for each in files for line in each.lines),
        messages=tuple(each.message for each in files if each.message),
    )
