"""Judging while a value is dragged: candidate by candidate, so that no frame pays for all of them."""

from __future__ import annotations

import time
from collections.abc import Callable

from app.state.results import Results
from models.outcomes.evaluation import Outcome

_STEP_S = 4e-3
"""Work of a turn after which no further candidate is begun."""


class Judging:
    """Judges the results of one moment to their end before it begins with later ones, unless the hand rests there."""

    def __init__(self, clock: Callable[[], float] = time.thread_time) -> None:
        self._clock = clock
        self._results: Results | None = None
        self._asked: Results | None = None
        self._left: list[Outcome] = []

    def advance(self, results: Results) -> Results | None:
        """Judge a candidate more, and those that are known already; return what is judged to its end, None before."""
        begun = self._clock()
        rests, self._asked = results is self._asked, results
        if not self._left or (rests and results is not self._results):
            self._results, self._left = results, list(results.evaluation.outcomes)
        judged = self._results or results
        while self._left and self._clock() - begun < _STEP_S:
            judged.desk.verdicts(judged.case, self._left.pop(0))
        return None if self._left else judged
