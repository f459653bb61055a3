"""Touch-current limits of product standards, as data: to be chosen, and to be edited.

Estimates for design, not a certification: see `verdict.SAFETY_CAUTION`.
"""

from __future__ import annotations

import tomllib
from functools import cache

from attrs import frozen

from models.assets import ASSETS
from models.case.requirement import Requirement
from models.codec import Place, Text
from models.declare import quantity, read_object, value
from models.errors import CaseError

_FILE = ASSETS / "presets" / "touch-current.toml"
FORMAT = 1


@frozen(kw_only=True, cache_hash=True)
class Preset:
    """One limit of touch current: where it comes from, what it holds for, how far it is to be trusted."""

    id: str = value(Text(limit=80), "name in a case file")
    group: str = value(
        Text(choices=("household", "information technology", "medical", "laboratory", "lighting")), "kind of product"
    )
    title: str = value(Text(), "what it is for")
    standard: str = value(Text(), "standard and clause")
    edition: str = value(Text(), "edition that the figures are believed to be of")
    condition: str = value(Text(), "condition that the limit holds for")
    limit_a: float = quantity("A", "limit in normal condition, rms", positive=True)
    fault_limit_a: float | None = quantity("A", "limit with a single fault, rms", default=None, positive=True)
    test_factor: float = quantity("", "test voltage over the highest rated one", default=1.1, positive=True, high=2.0)
    confidence: str = value(Text(choices=("high", "medium", "low")), "how sure the figures are")

    @property
    def origin(self) -> str:
        """Where the limit comes from, and at which voltage it is tested, in one sentence."""
        tested = f"tested at {self.test_factor:g} times the highest rated voltage"
        return f"{self.standard}, {self.edition}; {self.condition}; {tested}; confidence {self.confidence}."


@cache
def presets() -> tuple[Preset, ...]:
    """Return every preset that ships, in the order of the file.

    Raises
    ------
    CaseError
        the file of presets is broken
    """
    table = tomllib.loads(_FILE.read_text(encoding="utf-8"))
    place = Place((), [])
    if table.get("isthmus_presets") != FORMAT:
        place.at("isthmus_presets").reject("nothing", f"isthmus_presets = {FORMAT}, the format version")
    found = [read_object(Preset, each, place.at("preset").at(number)) for number, each in enumerate(table["preset"])]
    if place.problems:
        raise CaseError([problem for _, problem in place.problems], _FILE.name)
    return tuple(found)


def preset_of(id: str) -> Preset | None:
    """Return the preset of an id, None where there is none."""
    return next((each for each in presets() if each.id == id), None)


def requirement_from(preset: Preset) -> Requirement:
    """Return the touch-current requirement of a preset, to be edited like any other."""
    return Requirement(
        kind="touch-current",
        limit=preset.limit_a,
        fault_limit_a=preset.fault_limit_a,
        preset=preset.id,
        note=f"{preset.title}: {preset.origin}",
    )


def origin_of(requirement: Requirement) -> str | None:
    """Return where a requirement's limit comes from, and whether it was edited since; None without a preset."""
    if requirement.preset is None:
        return None
    preset = preset_of(requirement.preset)
    if preset is None:
        return f'Limit from "{requirement.preset}", which is none of the presets that ship; as stated in the case.'
    edited = (requirement.limit, requirement.fault_limit_a) != (preset.limit_a, preset.fault_limit_a)
    return f"Limit{' edited, once' if edited else ''} from {preset.origin}"
