"""What matters most to the impedance at the cursor: a short list, the strongest first."""

from __future__ import annotations

import math

from attrs import field, frozen

from app.present.numbers import reading
from models.case.document import Case
from models.decide.parameters import Parameter
from models.decide.sensitivity import Effect, change_text, effects_at, impedance_slopes
from models.network.grid import point_grid
from models.network.solver import Solver

_MOST = 4
_TENTH_DB = 0.1 * 20.0 / math.log(10.0)
_LEAST_DB = 0.05
"""A value of which a tenth does less than this is not worth a line."""
_ONLY_BRANCH = "branch 1, "
_SHORT = {"esr": "ESR", "esl": "ESL", "rdc": "DC resistance"}


@frozen(kw_only=True)
class MatterRow:
    """One value: the change spoken of, what it belongs to, what comes of it, and its weight against the first."""

    text: str
    owner: str
    change: str
    fraction: float


@frozen(kw_only=True)
class MattersSpec:
    """The short list; ``empty`` says why there is none."""

    title: str = "What matters most"
    note: str = ""
    rows: tuple[MatterRow, ...] = field(factory=tuple)
    empty: str = ""


def matters_spec(solver: Solver, case: Case, index: int, f_hz: float) -> MattersSpec:
    """Return what changes the impedance in circuit of a candidate at a frequency."""
    if index >= len(case.candidates):
        return MattersSpec(empty="No candidate is selected.")
    candidate, grid = case.candidates[index], point_grid((f_hz,))
    where = f"at {reading(f_hz, 'Hz')}, bars per 10 %"
    z_ohm = abs(complex(solver.in_circuit(case, candidate, grid)[0]))
    if not math.isfinite(z_ohm) or z_ohm == 0.0:
        return MattersSpec(note=where, empty="Nothing joins the regions." if z_ohm else "The regions are one.")
    z, slopes = impedance_slopes(solver, case, candidate, grid)
    found = [each for each in effects_at(z, slopes, grid.f_hz, f_hz) if _tenth_db(each) >= _LEAST_DB]
    only = _ONLY_BRANCH if len(candidate.branches) == 1 else ""
    rows = tuple(_row(each, found[0], only) for each in found[:_MOST])
    return MattersSpec(note=where, rows=rows, empty="" if rows else "No single value matters here.")


def _tenth_db(effect: Effect) -> float:
    return _TENTH_DB * abs(effect.log_slope)


def _row(effect: Effect, strongest: Effect, known: str) -> MatterRow:
    """Return the line of a value; what is known of its owner anyway is left out."""
    amount, _, _ = effect.text.partition(" less ")
    return MatterRow(
        text=f"{amount} less {value_name(effect.parameter)}",
        owner=effect.parameter.owner.removeprefix(known),
        change=change_text(effect.change_db),
        fraction=abs(effect.log_slope / strongest.log_slope),
    )


def value_name(parameter: Parameter) -> str:
    """Return what a value is called in a few letters, such as ESL."""
    name = parameter.key.rsplit("_", 1)[0] if parameter.unit else parameter.key
    return _SHORT.get(name, name.replace("_", " "))
