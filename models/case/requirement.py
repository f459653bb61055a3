"""Why the grounds are separate, as something that can be checked."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from attrs import frozen

from models.codec import HIGHEST_HZ, MISSING, ListOf, Place, Quantity, Text, describe
from models.declare import quantity, read_object, value, write_object
from models.errors import QuantityError
from models.quantity import format_quantity


@frozen(kw_only=True, cache_hash=True)
class Demand:
    """What a kind of requirement needs: the unit of its limit, and whether it speaks of a band or a limit line."""

    question: str
    """How the answers put it; ``{}`` is the limit."""
    unit: str | None = None
    band: bool = False
    line: bool = False
    optional: tuple[str, ...] = ()
    """Further keys that mean something to this kind, and may be left out."""


INSULATIONS = ("functional", "basic", "supplementary", "reinforced")
"""What a barrier has to be worth, in the words of IEC 60664-1; reinforced stands for double insulation as well."""


DEMANDS: Mapping[str, Demand] = MappingProxyType(
    {
        "blocks-dc": Demand(question="Blocks DC"),
        "separation": Demand(question="Separates galvanically", optional=("insulation",)),
        "withstand": Demand(question="Withstands {}", unit="V", optional=("insulation",)),
        "return-impedance": Demand(question="Return path under {}", unit="ohm", band=True),
        "common-mode-voltage": Demand(question="Common mode under {} peak", unit="V"),
        "touch-current": Demand(question="Touch current under {}", unit="A", optional=("fault_limit", "preset")),
        "dc-drop": Demand(question="DC drop under {}", unit="V"),
        "loop-current": Demand(question="Loop current under {}", unit="A"),
        "static-bleed": Demand(question="Static bleeds within {}", unit="s"),
        "conducted-emission": Demand(question="Conducted emission under {}", line=True),
        "radiated-emission": Demand(question="Radiated emission under {}", line=True),
    }
)


@frozen(kw_only=True, cache_hash=True)
class Requirement:
    """One requirement: its kind, and the limit, band or limit line that this kind needs."""

    kind: str = value(Text(choices=tuple(DEMANDS)), "kind of requirement")
    limit: float | None = quantity("", "limit, in the SI unit of its kind", default=None)
    band_hz: tuple[float, float] | None = value(
        ListOf(item=Quantity(unit="Hz", positive=True, high=HIGHEST_HZ), least=2, most=2, noun="a band"),
        "band of frequencies",
        default=None,
        key="band",
    )
    limit_line: str | None = value(Text(), "name of a limit line", default=None)
    insulation: str | None = value(
        Text(choices=INSULATIONS), "what the barrier has to be worth, for separation and withstand", default=None
    )
    fault_limit_a: float | None = quantity(
        "A", "touch current allowed with a single fault; the limit itself where it is left out", default=None
    )
    preset: str | None = value(Text(limit=80), "which preset the touch-current limits were taken from", default=None)
    note: str | None = value(Text(limit=2000), "note", default=None)

    def __attrs_post_init__(self) -> None:
        """Refuse a requirement that lacks what its kind needs, or has what means nothing to it."""
        demand = self.demand
        _match("limit", demand.unit is not None, self.limit)
        _match("band", demand.band, self.band_hz)
        _match("limit_line", demand.line, self.limit_line)
        for key, present in (
            ("insulation", self.insulation),
            ("fault_limit", self.fault_limit_a),
            ("preset", self.preset),
        ):
            if present is not None and key not in demand.optional:
                raise QuantityError(f"the key {key}", f"no {key} for this kind of requirement", key)
        if self.band_hz is not None and self.band_hz[0] >= self.band_hz[1]:
            raise QuantityError("a band that runs backwards", "the lower frequency first", "band")

    @property
    def demand(self) -> Demand:
        """What this kind needs."""
        return DEMANDS[self.kind]


def _match(key: str, wanted: bool, present: Any) -> None:
    if wanted and present is None:
        raise QuantityError(f"no {key}", f"the key {key} for this kind of requirement", key)
    if not wanted and present is not None:
        raise QuantityError(f"the key {key}", f"no {key} for this kind of requirement", key)


@frozen(kw_only=True, cache_hash=True)
class RequirementTable:
    """Reads and writes a requirement, whose kind decides the unit of its limit."""

    def read(self, found: object, place: Place) -> Any:
        """Read the limit in the unit of the kind, then the rest."""
        if isinstance(found, dict) and "limit" in found:
            demand = DEMANDS.get(str(found.get("kind")))
            if demand is None:
                # what it is to be, its kind decides
                found = {name: each for name, each in found.items() if name != "limit"}
            elif demand.unit is None:
                return place.at("limit").reject(describe(found["limit"]), f"no limit for {found['kind']}")
            else:
                limit = Quantity(unit=demand.unit).read(found["limit"], place.at("limit"))
                if limit is MISSING:
                    return MISSING
                found = found | {"limit": limit}
        return read_object(Requirement, found, place)

    def write(self, value: Requirement) -> dict[str, Any]:
        """Write the limit with its unit."""
        plain = write_object(value)
        if value.limit is not None and value.demand.unit is not None:
            plain["limit"] = format_quantity(value.limit, value.demand.unit)
        return plain
