"""Check against the built board: what is asked for, and what comes of it. No Qt; the work may run in another thread."""

from __future__ import annotations

from collections.abc import Callable

from attrs import frozen

from models.case.document import Case
from models.decide.board_fit import BoardFit, fit_board
from models.decide.parameters import Parameter
from models.declare import set_path
from models.fitting.data import Measurement


@frozen(kw_only=True, eq=False)
class BoardRequest:
    """A case, the bridge that is in place, its measurement, and the values that are to be found from it."""

    case: Case
    candidate: int
    measured: Measurement
    free: tuple[Parameter, ...]


@frozen(kw_only=True, eq=False)
class BoardFound:
    """A fit and what it was asked of."""

    request: BoardRequest
    fit: BoardFit

    @property
    def tells(self) -> bool:
        """Whether the measurement tells any of the values."""
        return any(each.known for each in self.fit.values)

    def accepted(self) -> Case:
        """Return the case with the values that the measurement tells, to four digits; the others stay."""
        case, at = self.request.case, self.request.candidate
        bridge = case.candidates[at]
        for each in self.fit.values:
            if each.known:
                case, bridge = each.parameter.changed(case, bridge, float(f"{each.value:.4g}"))
        changed: Case = set_path(case, ("candidates", at), bridge)
        return changed


def run_board_fit(request: BoardRequest, tell: Callable[[str], None]) -> BoardFound:
    """Fit, telling after every try how far the model still is from the measurement.

    Raises
    ------
    DataError
        where the measurement cannot tell these values
    """
    count = 0

    def tried(rms_db: float) -> None:
        nonlocal count
        count += 1
        tell(f"Try {count}: {rms_db:.2g} dB left")

    fit = fit_board(request.case, request.candidate, request.measured, request.free, tried)
    return BoardFound(request=request, fit=fit)
