"""From a TOML file to a case; every problem in one error that says where."""

from __future__ import annotations

from pathlib import Path

from attrs import evolve, frozen

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


@frozen(kw_only=True, eq=False)
class CaseFile:
    """A case with the file that it came from, and the text of that file, whose comments are kept."""

    path: Path
    text: str
    case: Case


def read_case_file(path: Path) -> CaseFile:
    """Read a case file, and keep its text.

    Raises
    ------
    CaseError
        with every problem found: file, table, key, what was found, what is accepted
    """
    text = read_text(path)
    return CaseFile(path=path, text=text, case=parse_case(text, path.name, folder=path.parent))


def load_case(path: Path) -> Case:
    """Read the case of a file.

    Raises
    ------
    CaseError
        with every problem found
    """
    return read_case_file(path).case


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
