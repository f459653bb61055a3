"""Help at hand: what the keys do, and what a value means with the equation behind it."""

from __future__ import annotations

import inspect

from attrs import frozen

from app.present.specs import FieldSpec
from models.case.document import Case
from models.declare import get_path
from models.errors import IsthmusError


@frozen(kw_only=True)
class HelpSpec:
    """One page of help: its title and its paragraphs."""

    title: str
    paragraphs: tuple[str, ...]


@frozen(kw_only=True)
class KeyGroup:
    """Keys of one place in the window."""

    place: str
    keys: tuple[tuple[str, str], ...]
    """(key, what it does)."""


SHORTCUTS = (
    KeyGroup(
        place="Everywhere",
        keys=(
            ("Ctrl+N, Ctrl+O, Ctrl+S", "New case, open, save"),
            ("Ctrl+R, Ctrl+E", "Report, vary values"),
            ("Ctrl+T", "Tolerance band on or off"),
            ("Ctrl+Z, Ctrl+Shift+Z", "Undo, redo"),
            ("Tab, Shift+Tab", "Next and previous control"),
            ("F6, Shift+F6", "Next and previous card"),
            ("F10", "Menu of the case"),
            ("F1", "Help on the field, or this sheet"),
            ("?", "This sheet"),
        ),
    ),
    KeyGroup(
        place="Drawing of the board",
        keys=(
            ("Arrows, Home, End", "Go from item to item"),
            ("Enter", "Edit in the inspector"),
            ("Insert, Delete, Ctrl+D", "Add, remove, duplicate"),
            ("Ctrl+Left, Ctrl+Right", "Move earlier, later"),
        ),
    ),
    KeyGroup(
        place="Answers",
        keys=(
            ("Arrows", "Show the working of an answer"),
            ("F2", "Change the requirement"),
        ),
    ),
    KeyGroup(
        place="Plots",
        keys=(
            ("Left, Right", "Move the cursor"),
            ("+, −", "Zoom about the cursor"),
            ("Home", "Show all"),
            ("Ctrl+C, Ctrl+Shift+C", "Copy the picture, the data"),
        ),
    ),
    KeyGroup(
        place="Candidates, fields and sliders",
        keys=(
            ("Left, Right", "Previous and next candidate"),
            ("Up, Down", "Next standard value"),
            ("Escape", "Give up what was typed"),
        ),
    ),
)


def field_help(case: Case, field: FieldSpec) -> HelpSpec:
    """Return what a field means, what is usual, and the equation that its value stands in."""
    return HelpSpec(
        title=field.label,
        paragraphs=tuple(part for part in (_sentence(field.help), field.note, *_behind(case, field)) if part),
    )


def _behind(case: Case, field: FieldSpec) -> tuple[str, ...]:
    """Return the docstring of the part or source that the value belongs to: equation, validity and where it is from."""
    for end in range(len(field.path) - 1, 0, -1):
        try:
            owner = get_path(case, field.path[:end])
        except (IsthmusError, AttributeError, IndexError, TypeError):
            continue
        if hasattr(owner, "kind"):
            paragraphs = (inspect.getdoc(type(owner)) or "").split("\n\n")
            return tuple(" ".join(each.split()) for each in paragraphs)
    return ()


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:].rstrip('.')}." if text else ""
