"""What produced a result: the version of the program and the case, so that it can be made again."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.metadata import PackageNotFoundError, metadata

from models.case.document import Case
from models.case.write import case_text
from models.parts.measured import Measured


@cache
def version() -> str:
    """Return the version of the program."""
    try:
        return str(metadata("isthmus")["Version"])
    except PackageNotFoundError:
        return "unknown"


def case_digest(case: Case) -> str:
    """Return the SHA-256 of a case as hexadecimal text: equal for cases that give the same results.

    Comments and the way of writing do not count; what measured files hold does.
    """
    found = hashlib.sha256(case_text(case).encode())
    for _, digest in measured_files(case):
        found.update(digest.encode())
    return found.hexdigest()


def fingerprint(case: Case) -> str:
    """Return the first 12 digits of the case's digest, enough to tell cases apart and short enough to compare."""
    return case_digest(case)[:12]


def produced_by(case: Case) -> str:
    """Return the program and the case that a result is of, in a line."""
    return f"Isthmus {version()}, case {fingerprint(case)}"


def measured_files(case: Case) -> list[tuple[str, str]]:
    """Return the files that a case reads measured data from, each with the digest of what it holds."""
    standing = [coupling.parts for coupling in case.couplings]
    bridges = [branch.parts for candidate in case.candidates for branch in candidate.branches]
    parts = [part for group in (*standing, *bridges) for part in group]
    return [(part.file, part.curve.digest) for part in parts if isinstance(part, Measured) and part.curve is not None]
