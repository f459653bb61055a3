"""What always stands, seen from the pair, as a small network in the case file's own keys."""

from __future__ import annotations

import numpy as np
from attrs import frozen

from app.exchange.faults import ExchangeError
from models.arrays import Complex, Real
from models.case.document import Candidate, Case, Coupling, Pair
from models.fitting.data import make_measurement
from models.fitting.foster import fit_bead
from models.fitting.result import FitResult
from models.network.grid import point_grid
from models.network.solver import Solver
from models.parts.capacitor import Capacitor
from models.parts.resistor import Resistor

_POINTS = 400
_CLOSE_DB = 0.05
_FEW, _MANY = 4, 8
_DIGITS = 6


@frozen(kw_only=True)
class Equivalent:
    """A network that stands for the surroundings.

    Attributes
    ----------
    case : with the network as couplings, and the candidates that stand across the pair alone
    rms_error_db, rms_error_deg : of its impedance against that of the surroundings, each decade counting alike
    range_hz : where it was fitted
    """

    case: Case
    rms_error_db: float
    rms_error_deg: float
    range_hz: tuple[float, float]


def equivalent(case: Case) -> Equivalent:
    """Return the surroundings at the pair as branches of R, L and C in series, all in parallel.

    Y = 1/R0 + Σ 1/(R + jωL + 1/(jωC)), found as the dual of a bead: its admittance is fitted as a bead's impedance is.

    Raises
    ------
    ExchangeError
        where nothing but the candidates joins the pair

    Notes
    -----
    Passive for any values. Under 0.1 dB for capacitances, windings and strays; each resonance of a long cable takes a
    branch of its own, and eight are tried. Source: R. M. Foster, *A reactance theorem*, 1924, second form.
    """
    f_hz: Real = np.geomspace(case.sweep.start_hz, case.sweep.stop_hz, _POINTS)
    z_ohm = Solver().in_circuit(case, Candidate(name="nothing"), point_grid(f_hz.tolist()))
    if not np.isfinite(z_ohm).all():
        raise ExchangeError("the pair: found nothing that joins it but the candidates; accepted: a case with couplings")
    fitted, scale_ohm2 = _fit(f_hz, 1.0 / z_ohm)
    alone = Case(
        title=f"{case.title}: equivalent at the pair"[:200],
        notes=_notes(case, fitted),
        pair=Pair(a=case.pair.a, b=case.pair.b),
        surroundings=case.surroundings,
        sweep=case.sweep,
        couplings=_couplings(case, fitted, scale_ohm2),
        candidates=tuple(each for each in case.candidates if all(map(case.is_across, each.branches))),
    )
    return Equivalent(
        case=alone,
        rms_error_db=fitted.rms_error_db,
        rms_error_deg=fitted.rms_error_deg,
        range_hz=fitted.range_hz,
    )


def _fit(f_hz: Real, y_siemens: Complex) -> tuple[FitResult, float]:
    """Fit the admittance, scaled to about the size of an impedance; return the fit and the scale in Ω²."""
    size = np.abs(y_siemens)
    scale_ohm2 = float(1.0 / np.sqrt(size.min() * size.max()))
    dual = make_measurement(f_hz, y_siemens * scale_ohm2, source="the surroundings")
    fitted = fit_bead(dual, max_cells=_FEW)
    if fitted.rms_error_db > _CLOSE_DB:
        more = fit_bead(dual, max_cells=_MANY)
        fitted = more if more.rms_error_db < fitted.rms_error_db else fitted
    return fitted, scale_ohm2


def _couplings(case: Case, fitted: FitResult, scale_ohm2: float) -> tuple[Coupling, ...]:
    """Return the branches: what is R, L and C in parallel in the dual is 1/R, C and L in series."""
    between = case.pair.ends
    branches = [
        Coupling(
            name=f"equivalent, branch {number}",
            between=between,
            parts=(
                Capacitor(
                    capacitance_f=_rounded(cell["inductance"] / scale_ohm2),
                    esr_ohm=_rounded(scale_ohm2 / cell["resistance"]),
                    esl_h=_rounded(scale_ohm2 * cell["capacitance"]),
                ),
            ),
        )
        for number, cell in enumerate(fitted.keys["cells"], start=1)
    ]
    if fitted.keys.get("rdc"):
        leak = Resistor(resistance_ohm=_rounded(scale_ohm2 / fitted.keys["rdc"]))
        branches.append(Coupling(name="equivalent, conductance", between=between, parts=(leak,)))
    return tuple(branches)


def _rounded(value: float) -> float:
    return float(f"{value:.{_DIGITS}g}")


def _notes(case: Case, fitted: FitResult) -> str:
    return (
        f"Everything that always stands in the case, seen from {case.pair.b} and {case.pair.a}, as branches in "
        f"parallel; rms error {fitted.rms_error_db:.2g} dB and {fitted.rms_error_deg:.2g}° over the sweep. It holds "
        "with every source dead: what the sources drive is in the transfer functions."
    )
