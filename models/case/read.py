"""From a TOML file to a case; every problem in one error that says where."""

from __future__ import annotations

import tomllib
from pathlib import Path

from attrs import evolve

from models.case.check import contradictions
from models.case.document import Case
from models.case.lines import line_at, lines_of
from models.codec import MISSING, Place, describe
from models.declare import read_object
from models.errors import CaseError, Problem

FORMAT = 1
LARGEST_BYTES = 4_000_000
"""A case is written by people; past this it is some other file."""
MOST_SHOWN = 50
MOST_DOTS = 2000
HERE = Path()


def load_case(path: Path) -> Case:
    """Read a case file.

    Raises
    ------
    CaseError
        with every problem found: file, table, key, what was found, what is accepted
    """
    return parse_case(read_text(path), path.name, folder=path.parent)


def read_text(path: Path) -> str:
    """Read the text of a case file, or say in one message why it cannot be one."""
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise _one(path.name, error.strerror or str(error), "a case file that can be read") from None
    if len(raw) > LARGEST_BYTES:
        raise _one(path.name, f"more than {LARGEST_BYTES // 1_000_000} MB", "a case file in TOML, usually a few kB")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _one(path.name, f"a byte that is not UTF-8 at offset {error.start}", "a TOML text in UTF-8") from None


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
    try:
        document = tomllib.loads(_of_sensible_depth(text, source))
    except tomllib.TOMLDecodeError as error:
        raise _one(source, f"broken TOML: {error}", "a TOML text") from None
    except ValueError:
        raise _one(source, "a whole number of thousands of digits", "numbers of up to 1e30") from None
    except RecursionError:
        raise _one(source, "lists or tables nested too deeply", "a TOML text") from None
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


def _of_sensible_depth(text: str, source: str) -> str:
    """Refuse dotted keys of thousands of steps, over which a TOML parser takes minutes."""
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") > MOST_DOTS:
            raise _one(source, f"more than {MOST_DOTS} dots on line {number}", "keys of a few dotted steps")
    return text


def _one(source: str, found: str, accepted: str) -> CaseError:
    return CaseError([Problem(where="file", found=found, accepted=accepted)], source)
