"""One door to all fits, by the kind's name."""

from __future__ import annotations

from models.errors import DataError
from models.fitting.capacitor_fit import fit_capacitor
from models.fitting.data import Measurement
from models.fitting.foster import fit_bead
from models.fitting.inductor_fit import fit_inductor
from models.fitting.result import FitResult

KINDS = ("bead", "capacitor", "inductor")


def fit_part(measurement: Measurement, kind: str, *, rdc_ohm: float | None = None) -> FitResult:
    """Fit a part of one kind; see the fits themselves for their models and limits.

    Parameters
    ----------
    measurement : data
    kind : bead, capacitor or inductor
    rdc_ohm : DC resistance where it is known otherwise, Ω; a bead alone takes it

    Returns
    -------
    FitResult

    Raises
    ------
    DataError
        For too few points, or a kind that is not among these.
    """
    match kind:
        case "bead":
            return fit_bead(measurement, rdc_ohm=rdc_ohm)
        case "capacitor":
            return fit_capacitor(measurement)
        case "inductor":
            return fit_inductor(measurement)
        case _:
            raise DataError(f"kind: found {kind}; accepted: {', '.join(KINDS)}")
