"""Arguments that several commands take."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any, TypeVar

import click

from models import codec
from models.errors import QuantityError
from models.quantity import parse_quantity

Value = TypeVar("Value")
_FREQUENCY = codec.Quantity(unit="Hz", high=codec.HIGHEST_HZ)


class Frequencies(click.ParamType[tuple[float, ...]]):
    """A list of frequencies, ``1kHz,1MHz``; 0 Hz is DC."""

    name = "frequencies"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> tuple[float, ...]:
        """Parse the list, or fail naming the entry that is wrong."""
        if isinstance(value, tuple):
            return value
        try:
            return tuple(_frequency(entry.strip()) for entry in str(value).split(","))
        except QuantityError as error:
            self.fail(f"found {error.found}; accepted: {error.accepted}", param, ctx)


def once(pairs: Iterable[tuple[str, Value]]) -> dict[str, Value]:
    """Return pairs of key and value by their key.

    Raises
    ------
    click.BadParameter
        for a key that stands twice: neither value is the one that was meant
    """
    found: dict[str, Value] = {}
    for key, value in pairs:
        if key in found:
            raise click.BadParameter(f'found "{key}" twice; accepted: each once')
        found[key] = value
    return found


def _frequency(text: str) -> float:
    f_hz = parse_quantity(text, "Hz")
    _FREQUENCY.check(f_hz)
    return f_hz


class Quantity(click.ParamType[float]):
    """One physical value, as a case file has it."""

    name = "quantity"

    def __init__(self, unit: str) -> None:
        self._unit = unit

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Parse the value, or fail saying what is accepted."""
        try:
            return parse_quantity(value, self._unit)
        except QuantityError as error:
            self.fail(f"found {error.found}; accepted: {error.accepted}", param, ctx)


case_argument = click.argument("case", type=click.Path(path_type=Path))
