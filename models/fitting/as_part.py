"""From fitted numbers to a part of the case."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from models.codec import LEAST, MISSING, Place
from models.declare import read_object
from models.errors import DataError
from models.fitting.result import FitResult
from models.parts.part import Part
from models.parts.registry import part_kinds

_DIGITS = 6
"""More than any measurement has."""


def part_table(result: FitResult) -> dict[str, Any]:
    """Return the fitted part in the case file's own keys: numbers in SI units, rounded to six digits.

    A capacitance too small for any board is left at 0, a list without entries is left out.
    """
    rounded = {name: _rounded(found) for name, found in result.part.items()}
    return {name: found for name, found in rounded.items() if found != []}


def fitted_part(result: FitResult) -> Part:
    """Return the part that a fit found, to the digits that `part_table` shows.

    Raises
    ------
    DataError
        Where the numbers are none that a part can have.
    """
    table = part_table(result)
    problems: list[Any] = []
    part: Any = read_object(
        part_kinds()[result.kind], {name: found for name, found in table.items() if name != "kind"}, Place((), problems)
    )
    if part is MISSING:
        raise DataError(f"the fit gives no {result.kind}: {problems[0][1].text()}")
    found: Part = part
    return found


def _rounded(found: Any) -> Any:
    if isinstance(found, float):
        return 0.0 if 0.0 < found < LEAST else float(f"{found:.{_DIGITS}g}")
    if isinstance(found, list):
        return [{name: _rounded(each) for name, each in row.items()} for row in found]
    return found


def confidence_table(result: FitResult) -> Mapping[str, tuple[float, float]]:
    """Return the 95 % interval of each value that the part keeps, SI units."""
    return {name: bounds for name, bounds in result.confidence.items() if bounds[0] < bounds[1]}
