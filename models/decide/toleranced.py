"""Every value of a case that has a tolerance, and the case with those values drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from attrs import evolve, frozen

from models.case.document import Candidate, Case
from models.codec import KeyPath
from models.decide.drawn import DrawnEdge
from models.declare import get_path, set_path
from models.network.edges import branch_edges, cable_edges, standing_edges

MAINS: KeyPath = ("mains",)


@frozen(kw_only=True)
class Toleranced:
    """One value with a tolerance: the main value of a part, a transformer's capacitance, the mains voltage.

    Attributes
    ----------
    owner : what it belongs to, in words
    of_candidate : whether the path starts at the candidate; else at the case
    path : attribute names and indices to the part, the transformer or the mains
    tolerance : relative
    """

    owner: str
    of_candidate: bool
    path: KeyPath
    tolerance: float


def standing_toleranced(case: Case) -> tuple[Toleranced, ...]:
    """Return what has a tolerance whatever the candidate; the mains come last."""
    return tuple(_standing(case))


def candidate_toleranced(case: Case, candidate: Candidate) -> tuple[Toleranced, ...]:
    """Return what has a tolerance within a candidate."""
    return tuple(
        Toleranced(
            owner=f"{edge.name}, {part.kind}",
            of_candidate=True,
            path=("branches", number, "parts", place),
            tolerance=part.rating.tolerance,
        )
        for number, edge in enumerate(branch_edges(case, candidate))
        for place, part in enumerate(edge.parts)
        if part.rating.tolerance
    )


def _standing(case: Case) -> Iterator[Toleranced]:
    for number, winding in enumerate(case.transformers):
        if winding.tolerance:
            yield Toleranced(
                owner=winding.name, of_candidate=False, path=("transformers", number), tolerance=winding.tolerance
            )
    for number, coupling in enumerate(case.couplings):
        for place, part in enumerate(coupling.parts):
            if part.rating.tolerance:
                yield Toleranced(
                    owner=f"{coupling.name}, {part.kind}",
                    of_candidate=False,
                    path=("couplings", number, "parts", place),
                    tolerance=part.rating.tolerance,
                )
    if case.mains is not None and case.mains.tolerance:
        yield Toleranced(owner="mains", of_candidate=False, path=MAINS, tolerance=case.mains.tolerance)


def drawn_edges(
    case: Case, candidate: Candidate, columns: Mapping[tuple[bool, KeyPath], int]
) -> tuple[tuple[DrawnEdge, ...], tuple[DrawnEdge, ...], tuple[DrawnEdge, ...]]:
    """Return the edges with the columns that draw their parts.

    Parameters
    ----------
    case, candidate : what stands in the network
    columns : (of the candidate, path) → column of the factors

    Returns
    -------
    (transformers and couplings, cables, branches)
    """
    standing = []
    edges = standing_edges(case)
    for number, edge in enumerate(edges[: len(case.transformers)]):
        standing.append(DrawnEdge(edge=edge, columns=(columns.get((False, ("transformers", number))),)))
    for number, edge in enumerate(edges[len(case.transformers) :]):
        places = [columns.get((False, ("couplings", number, "parts", place))) for place in range(len(edge.parts))]
        standing.append(DrawnEdge(edge=edge, columns=tuple(places)))
    branches = [
        DrawnEdge(
            edge=edge,
            columns=tuple(
                columns.get((True, ("branches", number, "parts", place))) for place in range(len(edge.parts))
            ),
        )
        for number, edge in enumerate(branch_edges(case, candidate))
    ]
    cables = [DrawnEdge(edge=edge, columns=(None,)) for edge in cable_edges(case)]
    return tuple(standing), tuple(cables), tuple(branches)


def with_draw(case: Case, candidate: Candidate, drawn: Mapping[Toleranced, float]) -> tuple[Case, Candidate]:
    """Return the case and the candidate with values drawn, and without the tolerances that the draw has used up.

    Parameters
    ----------
    case, candidate : at nominal values
    drawn : value → factor
    """
    for value, factor in drawn.items():
        if value.of_candidate:
            candidate = set_path(candidate, value.path, _drawn(get_path(candidate, value.path), factor))
        else:
            case = set_path(case, value.path, _drawn(get_path(case, value.path), factor))
    return case, candidate


def _drawn(owner: Any, factor: float) -> Any:
    if hasattr(owner, "interwinding_capacitance_f"):
        return evolve(owner, interwinding_capacitance_f=owner.interwinding_capacitance_f * factor, tolerance=0.0)
    if hasattr(owner, "voltage_v"):
        return evolve(owner, voltage_v=owner.voltage_v * factor, tolerance=0.0)
    return evolve(owner.scaled(factor), rating=evolve(owner.rating, tolerance=0.0))
