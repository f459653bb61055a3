"""From a TOML file to a case; every problem in one error that says where."""

from __future__ import annotations

from pathlib import Path

from attrs import evolve

from models.case.check import contradictions
from models.case.document import Case
from models.case.lines import line_at, lines_of
from models.codec import MISSING, Place, describe
from models.declare import read_object
from models.errors import CaseError, Problem
from models.toml_text import parse_tables, read_text

FORMAT = 1
MOST_SHOWN = 50
HERE = Path()


def load_case(path: Path) -> Case:
    """Read a case file.

    Raises
    ------
    CaseError
        with every problem found: file, table, key, what was found, what is accepted
    """
    return parse_case(read_text(path), path.name, folder=path.parent)


def parse_case(text: str, source: str = "case", *, folder: Path | None = HERE) -> Case:
    """Read a case from its text.

    Parameters
    ----------
    text : TOML
    source : name for messages
    folder : where the files that the case names are looked for; None to leave them unopened, which is enough to see
        what the text says and not to compute with it

    Raises
    ------
    CaseError
        with every problem found
    """
    document = parse_tables(text, source)
    version = document.pop("isthmus", MISSING)
    if type(version) is not int or version != FORMAT:
        found = "nothing" if version is MISSING else describe(version)
        raise CaseError(
            [
                Problem(
                    where="isthmus",
                    found=found,
                    accepted=f"isthmus = {FORMAT}, the format version",
                    line=line_at(lines_of(text), ("isthmus",)),
                )
            ],
            source,
        )
    place = Place((), [], folder)
    case = read_object(Case, document, place)
    problems = place.problems if case is MISSING else contradictions(case)
    if problems:
        lines = lines_of(text)
        located = [evolve(problem, line=line_at(lines, path)) for path, problem in problems[:MOST_SHOWN]]
        raise CaseError(located, source)
    result: Case = case
    return result
