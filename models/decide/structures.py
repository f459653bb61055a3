"""Ways of building a bridge from parts: what is worth trying, and nothing twice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from attrs import frozen

from models.case.document import Branch, Candidate
from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.part import Part
from models.parts.resistor import Resistor

LEAST_BLEED_OHM = 100e3
"""From here on a resistor across a capacitor bleeds; below, it is a bridge of its own."""
DAMPING_OHM = (0.5, 100.0)


@frozen(kw_only=True)
class Offer:
    """A part that can be had.

    Attributes
    ----------
    name : what it is called
    part : the part
    price : in any unit, the same for all; 0 where it is not known
    """

    name: str
    part: Part
    price: float = 0.0


@frozen(kw_only=True)
class Structure:
    """A bridge made of offers: branches in parallel, parts in series.

    Attributes
    ----------
    branches : the offers of each branch
    """

    branches: tuple[tuple[Offer, ...], ...]

    @property
    def name(self) -> str:
        """The bridge in words: ∥ for parallel, + for series."""
        return " ∥ ".join(" + ".join(offer.name for offer in branch) for branch in self.branches) or "Nothing"

    @property
    def count(self) -> int:
        """Number of parts."""
        return sum(map(len, self.branches))

    @property
    def price(self) -> float:
        """Sum of the prices."""
        return sum(offer.price for branch in self.branches for offer in branch)

    def candidate(self) -> Candidate:
        """Return the candidate across the pair."""
        branches = tuple(Branch(parts=tuple(offer.part for offer in branch)) for branch in self.branches)
        return Candidate(name=self.name[:80], branches=branches)


def plain_structures(offers: Iterable[Offer]) -> Iterator[Structure]:
    """Give bridges of one part, of two equal capacitors in series, and none at all."""
    yield Structure(branches=())
    for offer in offers:
        yield Structure(branches=((offer,),))
        if isinstance(offer.part, Capacitor) and offer.part.rating.safety_class == "Y2":
            yield Structure(branches=((offer, offer),))


def grown_structures(plain: Structure, offers: Iterable[Offer]) -> Iterator[Structure]:
    """Give what can be added to a bridge of capacitors: damping in series, a bleed resistor across."""
    if not plain.branches or not all(isinstance(offer.part, Capacitor) for offer in plain.branches[0]):
        return
    for offer in offers:
        if is_damping(offer.part):
            yield Structure(branches=((*plain.branches[0], offer),))
        if is_bleed(offer.part):
            yield Structure(branches=(plain.branches[0], (offer,)))


def is_damping(part: Part) -> bool:
    """Return whether a part in series with a capacitor damps it: a bead, or a few ohms."""
    if isinstance(part, Bead):
        return True
    return isinstance(part, Resistor) and DAMPING_OHM[0] <= part.resistance_ohm <= DAMPING_OHM[1]


def is_bleed(part: Part) -> bool:
    """Return whether a part across a capacitor bleeds it."""
    return isinstance(part, Resistor) and part.resistance_ohm >= LEAST_BLEED_OHM


def is_bridge(part: Part) -> bool:
    """Return whether a part can be a bridge, or a piece of one: copper, links, resistors, beads, capacitors."""
    return isinstance(part, Copper | Resistor | Bead | Capacitor)
