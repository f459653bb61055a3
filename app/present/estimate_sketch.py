"""What each estimate is about, drawn small and not to scale, its dimensions at their places."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from app.present.section_specs import DrawingSpec, Measure
from app.present.sketch_pencil import HEIGHT, WIDTH, Pencil
from models.declare import get_path, keys_of
from models.estimate.estimate import Estimate
from models.estimate.flat import Detour, Strap
from models.estimate.lead import BACK, Lead, LeadOverPlane, LeadToLead, WirePair
from models.estimate.neck import Neck
from models.estimate.stray import BodyOverPlane, FreeBody, Pad
from models.estimate.winding import BOTH_ENDS, HOT, SHIELD, DrivenShare, Interwinding
from models.quantity import format_quantity

_MOST_LAYERS = 4
_MIDDLE = WIDTH / 2


def sketch(made: Estimate, measure: Measure) -> DrawingSpec:
    """Return the drawing of an estimate with its present dimensions."""
    pencil = Pencil(measure)
    _SKETCHES[type(made)](pencil, made)
    given = (key for key in made.symbols if get_path(made, keys_of(type(made))[key].path) is not None)
    return pencil.drawing(f"{made.title}: {', '.join(_told(made, key) for key in given)}")


def _told(made: Estimate, key: str) -> str:
    """Return a dimension with its sign: ``h 50 mm``."""
    declared = keys_of(type(made))[key]
    value = get_path(made, declared.path)
    text = str(value) if declared.unit is None else format_quantity(value, declared.unit, digits=3)
    return f"{made.symbols[key]} {text}"


def _interwinding(pencil: Pencil, made: Interwinding) -> None:
    left, width, thick = 70.0, 150.0, 14.0
    count = min(made.interfaces, _MOST_LAYERS - 1) + 1
    step = 38.0 if count < _MOST_LAYERS else 31.0
    top = HEIGHT / 2 - (step * (count - 1) + thick) / 2 - 8
    for number in range(count):
        y = top + number * step
        (pencil.copper if number % 2 == 0 else pencil.metal)(left, y, width, thick)
        pencil.words(left - 8, y + thick / 2, "primary" if number % 2 == 0 else "secondary", align="right")
        if number:
            pencil.filling(left, y - step + thick, width, step - thick)
    pencil.upright(left + width + 10, top + thick, top + step, _told(made, "insulation"))
    pencil.across(left, left + width, top + (count - 1) * step + thick + 12, _told(made, "width"), below=True)
    pencil.words(left + width / 2, 10, f"each turn {_told(made, 'mean_turn')} long, {_wire(made)}")


def _wire(made: Interwinding) -> str:
    return f"of wire {_told(made, 'wire')}" if made.wire_m else "of foil"


def _driven_share(pencil: Pencil, made: DrivenShare) -> None:
    left, width, thick, step = 92.0, 116.0, 12.0, 22.0
    count = min(made.layers, _MOST_LAYERS)
    both = made.swing == BOTH_ENDS
    top = HEIGHT / 2 - (step * count + 26) / 2
    for number in range(count):
        pencil.copper(left, top + number * step, width, thick)
    nearest = top + (count - 1) * step + thick / 2
    pencil.metal(left, nearest + 34, width, thick)
    if made.shield == SHIELD:
        pencil.line((left - 6, nearest + 23), (left + width + 6, nearest + 23), role="text", width=2.0)
        pencil.words(left + width + 12, nearest + 23, "shield", align="left")
    hot = made.nearest == HOT or count == 1
    far, near = ("−V", "+V") if both else ("quiet", "switch node") if hot else ("switch node", "quiet")
    if count == 1:
        pencil.words(left - 8, nearest, far, align="right", role="text")
        pencil.words(left + width + 8, nearest, near, align="left", role="text")
    else:
        pencil.words(left + width + 8, top + thick / 2, far, align="left", role="text")
        pencil.words(left + width + 8, nearest, near, align="left", role="text")
    if count > 1:
        pencil.words(left - 8, (top + nearest) / 2 + 3, f"{made.layers} layers", align="right")
    swing = (
        "quiet" if both or not made.secondary_swing else f"swings {format_quantity(made.secondary_swing, '', digits=3)}"
    )
    pencil.words(left - 8, nearest + 34 + thick / 2, "secondary", align="right")
    pencil.words(left + width + 8, nearest + 34 + thick / 2, swing, align="left", role="text")


def _body_over_plane(pencil: Pencil, made: BodyOverPlane) -> None:
    thick = 44.0 if made.thickness_m else 4.0
    pencil.metal(70, 82 - thick, 140, thick)
    pencil.plane(140)
    pencil.upright(_MIDDLE - 10, 82, 140, _told(made, "height"))
    pencil.across(70, 210, 82 - thick - 10, f"{_told(made, 'length')}, {_told(made, 'width')}")
    if made.thickness_m:
        pencil.upright(222, 38, 82, _told(made, "thickness"))


def _free_body(pencil: Pencil, made: FreeBody) -> None:
    thick = 50.0 if made.thickness_m else 4.0
    middle = HEIGHT / 2
    pencil.metal(80, middle - thick / 2, 130, thick)
    pencil.across(80, 210, middle - thick / 2 - 10, f"{_told(made, 'length')}, {_told(made, 'width')}")
    pencil.words(145, middle + thick / 2 + 28, "nothing near")
    if made.thickness_m:
        pencil.upright(222, middle - thick / 2, middle + thick / 2, _told(made, "thickness"))


def _pad(pencil: Pencil, made: Pad) -> None:
    pencil.copper(90, 52, 110, 14)
    pencil.filling(80, 66, 130, 18)
    pencil.metal(50, 84, 190, 18)
    for number in range(6):
        pencil.metal(56 + number * 33.5, 102, 8, 34)
    pencil.across(90, 200, 40, f"{_told(made, 'length')}, {_told(made, 'width')}")
    pencil.upright(222, 66, 84, _told(made, "thickness"))
    pencil.words(76, 75, f"pad {_told(made, 'permittivity')}", align="right")
    pencil.words(76, 58, "tab", align="right")
    pencil.words(_MIDDLE, 152, "heat sink" if made.count == 1 else f"heat sink, {made.count} such tabs")


def _lead_over_plane(pencil: Pencil, made: LeadOverPlane) -> None:
    pencil.copper(50, 58, 170, 10)
    pencil.wire((250, 63), 20)
    pencil.plane(132)
    pencil.across(50, 220, 44, _told(made, "length"))
    pencil.upright(135, 63, 132, _told(made, "height"))
    pencil.words(250, 88, _told(made, "diameter"), role="text")


def _lead_to_lead(pencil: Pencil, made: LeadToLead) -> None:
    for y in (56.0, 104.0):
        pencil.copper(40, y, 160, 10)
        pencil.wire((250, y + 5), 20)
    pencil.across(40, 200, 40, _told(made, "length"))
    pencil.upright(226, 61, 109, _told(made, "spacing"), before=True)
    pencil.words(250, 34, _told(made, "diameter"), role="text")
    pencil.words(120, 138, f"between them {_told(made, 'permittivity')}")


def _lead(pencil: Pencil, made: Lead) -> None:
    pencil.copper(40, 82, 180, 8)
    pencil.wire((256, 86), 22)
    pencil.across(40, 220, 66, _told(made, "length"))
    pencil.words(256, 112, _told(made, "diameter"), role="text")
    pencil.words(130, 112, "the way back lies far away")


def _strap(pencil: Pencil, made: Strap) -> None:
    pencil.copper(60, 70, 150, 10)
    pencil.across(60, 210, 54, f"{_told(made, 'length')}, {_told(made, 'width')} wide")
    pencil.upright(222, 70, 80, _told(made, "thickness"))
    if made.height_m is None:
        pencil.words(135, 104, "the way back lies far away")
    else:
        pencil.plane(128)
        pencil.upright(125, 80, 128, _told(made, "height"))


def _wire_pair(pencil: Pencil, made: WirePair) -> None:
    for y in (52.0, 104.0):
        pencil.copper(30, y, 150, 8)
        pencil.wire((236, y + 4), 18)
    pencil.arrow((60, 44), (150, 44))
    pencil.arrow(*(((150, 124), (60, 124)) if made.current == BACK else ((60, 124), (150, 124))))
    pencil.upright(214, 56, 108, _told(made, "spacing"), before=True)
    pencil.across(30, 180, 140, _told(made, "length"), below=True)
    pencil.words(236, 32, _told(made, "diameter"), role="text")


def _detour(pencil: Pencil, made: Detour) -> None:
    pencil.copper(66, 30, 194, 46)
    pencil.copper(66, 90, 194, 46)
    pencil.copper(220, 30, 40, 106)
    pencil.arrow((102, 124), (102, 104), (240, 104), (240, 62), (102, 62), (102, 40))
    pencil.across(102, 220, 22, _told(made, "distance"))
    pencil.upright(58, 76, 90, _told(made, "gap"), before=True)
    pencil.upright(270, 30, 76, made.symbols["depth"])
    ways = "" if made.ends == 1 else ", and the same the other way"
    pencil.words(_MIDDLE, 152, f"{_told(made, 'depth')} on both sides{ways}")


def _neck(pencil: Pencil, made: Neck) -> None:
    pencil.copper(24, 34, 92, 96)
    pencil.copper(184, 34, 92, 96)
    pencil.copper(116, 72, 68, 20)
    for side, far in ((108, 64), (192, 236)):
        for y in (50, 82, 114):
            pencil.arrow(*((far, y), (side, 82)) if side < 116 else ((side, 82), (far, y)))
    pencil.across(116, 184, 62, _told(made, "length"))
    pencil.words(150, 104, _told(made, "width"), role="text")
    pencil.across(30, 116, 144, _told(made, "reach"), below=True)
    pencil.words(226, 152, f"copper {_told(made, 'thickness')}")


_SKETCHES: Mapping[type, Callable[[Pencil, Any], None]] = MappingProxyType(
    {
        Interwinding: _interwinding,
        DrivenShare: _driven_share,
        BodyOverPlane: _body_over_plane,
        FreeBody: _free_body,
        Pad: _pad,
        LeadOverPlane: _lead_over_plane,
        LeadToLead: _lead_to_lead,
        Lead: _lead,
        Strap: _strap,
        WirePair: _wire_pair,
        Detour: _detour,
        Neck: _neck,
    }
)
