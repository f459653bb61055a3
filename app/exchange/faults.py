"""What cannot be handed on."""

from __future__ import annotations

from models.errors import IsthmusError


class ExchangeError(IsthmusError):
    """A result that has no place in the format that was asked for."""
