"""The case and a candidate at the ends of their tolerances."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from attrs import evolve

from models.case.document import Branch, Candidate, Case, Coupling, Transformer
from models.parts.part import Part
from models.sources.source import Source
from models.sources.switch_node import SwitchNode

PartChange = Callable[[Part], Part]
Has = TypeVar("Has", Branch, Coupling)


def weaker(part: Part) -> Part:
    """Return the part at the end of its tolerance where its impedance is highest below resonance."""
    tolerance = part.rating.tolerance
    return part if tolerance == 0.0 else part.scaled(1.0 + (-tolerance if part.blocks_dc() else tolerance))


def stiffer(part: Part) -> Part:
    """Return the part at the end of its tolerance where its impedance is lowest below resonance."""
    tolerance = part.rating.tolerance
    return part if tolerance == 0.0 else part.scaled(1.0 + (tolerance if part.blocks_dc() else -tolerance))


def larger(part: Part) -> Part:
    """Return the part with its main value at the upper end of its tolerance."""
    return part if part.rating.tolerance == 0.0 else part.scaled(1.0 + part.rating.tolerance)


def changed_candidate(candidate: Candidate, change: PartChange) -> Candidate:
    """Return the candidate with every part changed; itself where nothing changed."""
    branches = tuple(_changed(branch, change) for branch in candidate.branches)
    return candidate if branches == candidate.branches else evolve(candidate, branches=branches)


def changed_surroundings(case: Case, change: PartChange, winding: Callable[[Transformer], Transformer]) -> Case:
    """Return the case with every part of its couplings and every transformer changed; itself where nothing changed."""
    couplings = tuple(_changed(coupling, change) for coupling in case.couplings)
    transformers = tuple(winding(each) for each in case.transformers)
    if couplings == case.couplings and transformers == case.transformers:
        return case
    return evolve(case, couplings=couplings, transformers=transformers)


def more_winding(transformer: Transformer) -> Transformer:
    """Return the transformer with its interwinding capacitance at the upper end of its tolerance."""
    return _winding(transformer, 1.0 + transformer.tolerance)


def less_winding(transformer: Transformer) -> Transformer:
    """Return the transformer with its interwinding capacitance at the lower end of its tolerance."""
    return _winding(transformer, 1.0 - transformer.tolerance)


def weak_bridge(case: Case, candidate: Candidate, source: Source) -> tuple[Case, Candidate]:
    """Return the corner of the tolerances where a source drives the most voltage across the pair.

    The candidate and the couplings join the regions as weakly as they may. A transformer's capacitance is at its upper
    end for the switch node that drives through it, and so is a coupling that hangs on the switch node; at its lower end
    for every other source, to which it is one more way back. Exact for networks of one kind of reactance; near a
    resonance the worst lies inside the tolerances, which a study of draws shows.
    """
    if not isinstance(source, SwitchNode):
        return changed_surroundings(case, weaker, less_winding), changed_candidate(candidate, weaker)
    corner = changed_surroundings(case, weaker, more_winding)
    couplings = tuple(
        _changed(then, stiffer) if then.name == source.also_through else now
        for then, now in zip(case.couplings, corner.couplings, strict=True)
    )
    corner = corner if couplings == corner.couplings else evolve(corner, couplings=couplings)
    return corner, changed_candidate(candidate, weaker)


def weak(case: Case, candidate: Candidate) -> tuple[Case, Candidate]:
    """Return the corner where everything joins the regions as weakly as it may."""
    return changed_surroundings(case, weaker, less_winding), changed_candidate(candidate, weaker)


def stiff(case: Case, candidate: Candidate) -> tuple[Case, Candidate]:
    """Return the corner where everything joins the regions as firmly as it may."""
    return changed_surroundings(case, stiffer, more_winding), changed_candidate(candidate, stiffer)


def slow(case: Case, candidate: Candidate) -> tuple[Case, Candidate]:
    """Return the corner where a charge between the regions stays longest: every R and every C at its upper end."""
    return changed_surroundings(case, larger, more_winding), changed_candidate(candidate, larger)


def _changed(owner: Has, change: PartChange) -> Has:
    parts = tuple(change(part) for part in owner.parts)
    return owner if parts == owner.parts else evolve(owner, parts=parts)


def _winding(transformer: Transformer, factor: float) -> Transformer:
    if factor == 1.0:
        return transformer
    return evolve(transformer, interwinding_capacitance_f=transformer.interwinding_capacitance_f * factor)
