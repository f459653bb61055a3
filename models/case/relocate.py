"""A case moved to another folder: the files that it names are named from there."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

from attrs import evolve

from models.case.document import Branch, Case, Coupling
from models.parts.measured_file import relocated
from models.sources.measured import MeasuredSpectrum, MeasuredWaveform
from models.sources.record import table_in
from models.sources.source import Source

Owner = TypeVar("Owner", Branch, Coupling)


def case_in(case: Case, folder: Path) -> Case:
    """Return the case as it has to stand in a folder; names that hold there already are kept to the letter."""

    def moved(owner: Owner) -> Owner:
        return evolve(owner, parts=tuple(relocated(part, folder) for part in owner.parts))

    candidates = tuple(evolve(each, branches=tuple(map(moved, each.branches))) for each in case.candidates)
    sources = tuple(_source_in(each, folder) for each in case.sources)
    return evolve(case, couplings=tuple(map(moved, case.couplings)), candidates=candidates, sources=sources)


def _source_in(source: Source, folder: Path) -> Source:
    if not isinstance(source, MeasuredWaveform | MeasuredSpectrum):
        return source
    return evolve(source, table=table_in(source.table, folder))
