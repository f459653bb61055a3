from __future__ import annotations

from itertools import pairwise

import pytest

from app.present.estimate_sketch import sketch
from app.present.section_specs import Box, DrawingSpec
from app.present.sketch_pencil import HEIGHT, WIDTH
from models.estimate.estimate import Estimate
from models.estimate.flat import Detour, Strap
from models.estimate.lead import ALONG, WirePair
from models.estimate.registry import ESTIMATES
from models.estimate.stray import BodyOverPlane, FreeBody, Pad
from models.estimate.winding import BOTH_ENDS, HOT, SHIELD, DrivenShare, Interwinding

ALL: tuple[Estimate, ...] = (
    *(of() for of in ESTIMATES.values()),
    Interwinding(interfaces=50),
    DrivenShare(layers=50, nearest=HOT, secondary_swing=0.2, shield=SHIELD),
    DrivenShare(swing=BOTH_ENDS, layers=2),
    BodyOverPlane(thickness_m=0.0),
    FreeBody(thickness_m=0.0),
    Pad(count=3),
    Strap(height_m=1.23e-3),
    WirePair(current=ALONG),
    Detour(ends=2),
)


def drawn(made: Estimate) -> DrawingSpec:
    return sketch(made, lambda text, _: 6.0 * len(text))


@pytest.mark.parametrize("made", ALL, ids=lambda made: made.name)
def test_everything_stands_on_the_sheet(made: Estimate) -> None:
    spec = drawn(made)
    sheet = Box(left=0, top=0, width=WIDTH, height=HEIGHT)
    boxes = [*(each.box for each in (*spec.board, *spec.metal)), *(each.box for each in spec.texts)]
    assert all(sheet.holds(box.left, box.top) and sheet.holds(box.right, box.bottom) for box in boxes)
    places = [place for line in spec.lines for place in line.points]
    assert all(sheet.holds(*place) for place in places)


@pytest.mark.parametrize("made", ALL, ids=lambda made: made.name)
def test_no_text_lies_on_another(made: Estimate) -> None:
    boxes = sorted((each.box for each in drawn(made).texts), key=lambda box: (box.top, box.left))
    assert not any(one.meets(other) for one, other in pairwise(boxes))


@pytest.mark.parametrize("made", ALL, ids=lambda made: made.name)
def test_the_summary_tells_the_dimensions(made: Estimate) -> None:
    spec = drawn(made)
    assert spec.summary.startswith(made.title)
    assert all(f"{sign} " in spec.summary for key, sign in made.symbols.items() if key != "height")


def test_a_strap_shows_its_plane_only_where_it_has_one() -> None:
    assert drawn(Strap()).earth == (0.0, 0.0, 0.0)
    assert any(each.text == "h 1.23 mm" for each in drawn(Strap(height_m=1.23e-3)).texts)
