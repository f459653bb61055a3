"""Conducted emission: what the common-mode current makes at the terminals of the LISN that ends a lead."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from attrs import frozen

from models.case.document import Case
from models.formulas.lisn import line_voltage
from models.limits import LimitLine
from models.outcomes.cables import CableCurrent
from models.outcomes.margin import Margin, worst_margin
from models.outcomes.reading import Emission, Together
from models.sources.harmonics import last_order

START_HZ, STOP_HZ = 9e3, 108e6
"""Where the LISN measures: 9 kHz to 30 MHz for mains, to 108 MHz in vehicles."""


@frozen(kw_only=True, eq=False, slots=False)
class Conducted:
    """Voltage at the LISN's terminals, the same on both lines since each carries half of the common-mode current.

    Differential mode, which comes on top on a real supply, is not in it.

    Attributes
    ----------
    cable : name of the lead
    currents : of each source in it
    """

    cable: str
    currents: Sequence[CableCurrent]

    @cached_property
    def each(self) -> tuple[Emission, ...]:
        """Every source alone, V rms per line."""
        return tuple(map(_emission, self.currents))

    @cached_property
    def together(self) -> Together:
        """All sources."""
        return Together(each=self.each)

    def margin(self, line: LimitLine) -> Margin | None:
        """Return where all sources together come closest to a limit line; None where nothing falls on it."""
        return worst_margin(self.together, line, self.cable)


def conducted(case: Case, currents: Sequence[CableCurrent]) -> tuple[Conducted, ...]:
    """Return the conducted emission at every lead that ends in a LISN.

    V = |Z_CM|·I, with Z_CM both lines of the LISN in parallel and I the current out of the lead's far end.

    Parameters
    ----------
    case : the case
    currents : of every source in every cable
    """
    leads = [cable.name for cable in case.cables if cable.far_end == "lisn"]
    return tuple(Conducted(cable=lead, currents=[each for each in currents if each.cable == lead]) for lead in leads)


def _emission(current: CableCurrent) -> Emission:
    lines, load = current.lines, None if current.solved is None else current.solved.far_ohm
    first = lines.first_from(START_HZ)
    v_rms = np.zeros(0)
    if load is not None:
        stop = max(first, min(lines.count, last_order(lines.frequency_hz, STOP_HZ)) + 1)
        v_rms = line_voltage(current.far_a_rms[first:stop], load[first - 1 : stop - 1])
    return Emission(
        source=current.source,
        spacing_hz=lines.frequency_hz,
        first=first,
        v_rms=v_rms,
        noise_like=lines.noise_like,
        field=False,
    )
