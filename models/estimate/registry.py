"""The one list of estimates. The command, the window and the tests walk it; a new one is a class and a line here."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from models.estimate.estimate import Estimate
from models.estimate.flat import Detour, Strap
from models.estimate.lead import Lead, LeadOverPlane, LeadToLead, WirePair
from models.estimate.neck import Neck
from models.estimate.stray import BodyOverPlane, FreeBody, Pad
from models.estimate.winding import DrivenShare, Interwinding

_ESTIMATES: tuple[type[Estimate], ...] = (
    Interwinding,
    DrivenShare,
    BodyOverPlane,
    FreeBody,
    Pad,
    LeadOverPlane,
    LeadToLead,
    Lead,
    Strap,
    WirePair,
    Detour,
    Neck,
)

ESTIMATES: Mapping[str, type[Estimate]] = MappingProxyType({each.name: each for each in _ESTIMATES})


def estimates_for(key: str) -> tuple[type[Estimate], ...]:
    """Return the estimates that can stand for a key of a case file."""
    return tuple(each for each in _ESTIMATES if key in each.suits)
