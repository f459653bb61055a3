"""From a construction of the catalogue to a transformer of a case."""

from __future__ import annotations

from models.case.document import Transformer
from models.catalogue.entry import Construction


def transformer_of(construction: Construction, name: str, between: tuple[str, str]) -> Transformer:
    """Return a case's transformer with the values of a construction.

    Parameters
    ----------
    construction : what the entry holds
    name : name of the transformer in the case
    between : the windings' quiet ends

    Returns
    -------
    Transformer
    """
    return Transformer(
        name=name,
        between=between,
        interwinding_capacitance_f=construction.interwinding_capacitance_f,
        driven_fraction=construction.driven_fraction,
        tolerance=construction.tolerance,
    )
