"""What the choices of the view come to for a case: limit line, distance, event; and what a choice changes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from attrs import evolve

from app.state.view import EventChoice, View
from models.case.document import Case
from models.errors import QuantityError
from models.limits import LimitLine, limits
from models.outcomes.emitted import Asked
from models.outcomes.event import KINDS, Event
from models.outcomes.radiated import DISTANCES_M

MODES = ("waveform", "spectrum", "conducted", "radiated", "event")
FIELD, ALONG_CABLE = "field", "cable"
"""What is shown of radiated emission: the field, or the current along a cable that makes it."""
USUAL_LINE = "CISPR 32 class B"
NO_LINE = "no limit line"
DECIDING = "any detector"
_AT = ", field at "


def required_line(case: Case, kind: str) -> LimitLine | None:
    """Return the limit line that the case asks for, of a kind: conducted or radiated."""
    asked = (each.limit_line for each in case.requirements if each.kind == f"{kind}-emission")
    return next((line for name in asked if name and (line := limits().find(name, kind)) is not None), None)


def asked_emission(case: Case, view: View) -> Asked:
    """Return which emission is looked at, at what distance and against which line."""
    if view.mode == "conducted":
        return Asked(kind="conducted", line=_line(case, "conducted", view.conducted_line), detector=view.detector)
    line = _line(case, "radiated", view.radiated_line)
    own_m = DISTANCES_M[0] if line is None else line.distance_m
    distance_m = view.distance_m or own_m or DISTANCES_M[0]
    if line is not None and line.distance_m != distance_m:
        line = _at_distance(line, distance_m)
    return Asked(kind="radiated", line=line, detector=view.detector, distance_m=distance_m)


def _line(case: Case, kind: str, chosen: str | None) -> LimitLine | None:
    if chosen is None:
        return required_line(case, kind) or limits().find(USUAL_LINE, kind)
    return limits().find(chosen, kind) if chosen else None


def _at_distance(line: LimitLine, distance_m: float) -> LimitLine | None:
    """Return the line of the same standard and class at another distance; None where there is none."""
    root = line.name.split(_AT)[0]
    alike = (each for each in limits().lines if each.kind == "radiated" and each.name.split(_AT)[0] == root)
    return next((each for each in alike if each.distance_m == distance_m), None)


def chosen_event(case: Case, view: View) -> Event:
    """Return the event that is looked at; a region that is no more gives way to the second of the pair."""
    choice = view.event
    into = choice.into if choice.into in case.regions else case.pair.b
    try:
        return Event(kind=choice.kind, into=into, level_v=choice.level_v)
    except QuantityError:
        return Event(kind="discharge", into=into, level_v=4e3)


def change_of(view: View, name: str, value: str) -> Mapping[str, Any]:
    """Return what a choice changes in the view; the value is that of the choice's option."""
    if name == "line":
        return {f"{view.mode}_line": value, "distance_m": None}
    if name in ("source", "cable"):
        return {name: int(value)}
    if name == "radiated_shows":
        return {name: value}
    if name == "detector":
        return {"detector": value or None}
    if name == "distance":
        return {"distance_m": float(value)}
    return {"event": _event_of(view.event, name, value)}


def _event_of(choice: EventChoice, name: str, value: str) -> EventChoice:
    if name == "level":
        return evolve(choice, level_v=float(value))
    if name != "kind":
        return evolve(choice, into=value) if name == "into" else evolve(choice, shows=value)
    levels = KINDS[value].levels_v
    return evolve(choice, kind=value, level_v=min(levels, key=lambda each: abs(each - choice.level_v)))
