"""The cases that a command is given: one file, several, or folders of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import click
from attrs import evolve, frozen

from app.cli.errors import CasesError
from app.cli.output import say
from models.case.document import Candidate, Case
from models.case.read import load_case
from models.errors import CaseError

_ENDING = ".toml"


@frozen(kw_only=True)
class Given:
    """A case and the file that it came from."""

    path: Path
    case: Case


cases_argument = click.argument("cases", nargs=-1, required=True, type=click.Path(path_type=Path))


def given(paths: Sequence[Path]) -> tuple[Given, ...]:
    """Read every case, those of a folder in the order of their names; their warnings go to standard error.

    Raises
    ------
    CaseError, CasesError
        where one cannot be used; nothing is done then, and every problem of every file is told
    click.UsageError
        for a folder without a case
    """
    files = tuple(file for path in paths for file in _files(path))
    several = many(paths)
    found: list[Given] = []
    errors: list[CaseError] = []
    for file in files:
        try:
            found.append(Given(path=file, case=load_case(file)))
        except CaseError as error:
            errors.append(CaseError(error.problems, str(file)) if several else error)
    if errors:
        raise CasesError(errors)
    for each in found:
        _warn(str(each.path) if several else each.path.name, each.case)
    return tuple(found)


def the_case(path: Path) -> Case:
    """Read one case; its warnings go to standard error.

    Raises
    ------
    CaseError
        where it cannot be used
    """
    case = load_case(path)
    _warn(path.name, case)
    return case


def _warn(name: str, case: Case) -> None:
    for warning in case.warnings():
        say(f"{name}: {warning}")


def many(paths: Sequence[Path]) -> bool:
    """Return whether a list is asked for: several arguments, or a folder, however few cases are in it."""
    return len(paths) > 1 or _is_folder(paths[0])


def _is_folder(path: Path) -> bool:
    """Return whether a path is a folder; one that the system cannot even look up is none."""
    try:
        return path.is_dir()
    except OSError:
        return False


def only(case: Case, name: str | None) -> Case:
    """Return the case with the candidate of that name alone, or with all of them.

    Raises
    ------
    click.BadParameter
        where the case has none of that name
    """
    if name is None:
        return case
    return evolve(case, candidates=(candidate_named(case, name),))


def candidate_named(case: Case, name: str) -> Candidate:
    """Return the candidate of that name.

    Raises
    ------
    click.BadParameter
        where the case has none of that name
    """
    for each in case.candidates:
        if each.name == name:
            return each
    known = ", ".join(f'"{each.name}"' for each in case.candidates) or "none; the case has no candidate"
    raise click.BadParameter(f'found "{name}"; accepted: {known}', param_hint="--candidate")


def _files(path: Path) -> Iterator[Path]:
    if not _is_folder(path):
        yield path
        return
    inside = sorted(each for each in path.iterdir() if each.suffix.lower() == _ENDING and each.is_file())
    if not inside:
        raise click.UsageError(f"{path}: found no {_ENDING} file; accepted: case files, or folders of them")
    yield from inside
