"""Search for bridges beside the window: what is asked, and the edit that takes one of those found."""

from __future__ import annotations

from collections.abc import Callable

from attrs import frozen

from app.state import edits
from models.case.document import Case
from models.catalogue.shelf import catalogue
from models.decide.offers import catalogue_offers
from models.decide.search import Found, SearchResult, search
from models.decide.structures import Offer


@frozen(kw_only=True)
class SearchRequest:
    """A case, and the parts that can be had."""

    case: Case
    offers: tuple[Offer, ...]


def catalogue_request(case: Case) -> SearchRequest:
    """Return the request over every part of the catalogue that makes a bridge."""
    return SearchRequest(case=case, offers=catalogue_offers(catalogue()))


def run_search(request: SearchRequest, tell: Callable[[str], None]) -> SearchResult:
    """Try every bridge; whoever raises in ``tell`` stops it."""
    told = -1

    def progress(share: float) -> None:
        nonlocal told
        if (percent := int(100.0 * share)) > told:
            told = percent
            tell(f"{percent} %")

    found = search(request.case, request.offers, progress=progress)
    assert found is not None
    return found


def add_found(case: Case, found: Found) -> Case:
    """Return the case with a bridge that was found as its last candidate."""
    return edits.add_candidate(case, found.candidate)
