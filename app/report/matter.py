"""Everything that a report is written from, computed once."""

from __future__ import annotations

from functools import cached_property

from attrs import field, frozen

from app.present.recommendation import Recommendation, recommend
from app.present.section_specs import Measure
from app.report.options import Options
from app.state.results import Desk, Results
from app.state.view import View
from models.case.document import Case
from models.decide.verdict import Verdict

_MOST_SHOWN_HZ = 30e6
_LOW_HZ = 1e5


@frozen(kw_only=True, eq=False, slots=False)
class Matter:
    """A case with its results, as the sections of a report need them.

    Attributes
    ----------
    case, options : what is written about, and how
    measure : widths of texts, which the section drawing is laid out by
    """

    case: Case
    options: Options
    measure: Measure
    desk: Desk = field(factory=Desk)

    @cached_property
    def results(self) -> Results:
        """Impedances, voltages and verdicts of every candidate."""
        return self.desk.results(self.case)

    @cached_property
    def recommendation(self) -> Recommendation:
        """The candidate that is recommended, or that comes closest."""
        return recommend(self.results)

    @cached_property
    def shown(self) -> int:
        """Index of the candidate that drawings and waveforms show."""
        return self.recommendation.candidate or 0

    @cached_property
    def view(self) -> View:
        """How the plots are looked at."""
        return View(candidate=self.shown, cursor_hz=self.frequencies_hz[0])

    @cached_property
    def frequencies_hz(self) -> tuple[float, ...]:
        """The frequencies at which the way of the current is drawn: where the noise starts, and far above."""
        sweep = self.case.sweep
        repeated = [each.shape.frequency_hz for each in self.case.sources]
        wanted = (min(repeated, default=_LOW_HZ), max(_MOST_SHOWN_HZ, sweep.start_hz))
        inside = (min(max(f_hz, sweep.start_hz), sweep.stop_hz) for f_hz in wanted)
        return tuple(dict.fromkeys(inside))

    def verdicts_on(self, kinds: tuple[str, ...]) -> tuple[tuple[int, tuple[Verdict, ...]], ...]:
        """Return, for each requirement of these kinds, its index and the verdict on every candidate."""
        return tuple(
            (index, tuple(verdicts[index] for verdicts in self.results.verdicts))
            for index, each in enumerate(self.case.requirements)
            if each.kind in kinds
        )
