"""The parts of the catalogue as offers for a search."""

from __future__ import annotations

from models.catalogue.entry import Construction
from models.catalogue.shelf import Catalogue
from models.decide.structures import Offer, is_bridge

_NO_BRIDGE = ("isolator",)
"""Families that stand in a case anyway: their capacitance is a coupling, not a part to bridge with."""


def catalogue_offers(catalogue: Catalogue) -> tuple[Offer, ...]:
    """Return every entry of the catalogue that can be a bridge or a piece of one, without a price."""
    return tuple(
        Offer(name=entry.title, part=entry.part)
        for entry in catalogue.entries.values()
        if not isinstance(entry.subject, Construction) and entry.family not in _NO_BRIDGE and is_bridge(entry.part)
    )
