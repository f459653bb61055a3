"""The layout of the section drawing, without a display: nothing overlaps, nothing is lost, ribbons tell the truth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from pathlib import Path
from typing import ClassVar, Self

import numpy as np
import pytest
from attrs import evolve, frozen

from app.present.section import Drafter, section_title
from app.present.section_parts import part_name, part_value, share_text
from app.present.section_specs import Box, DrawingSpec, ItemKey, Point, StripSpec
from app.present.section_text import elided, wrapped
from app.state.results import Desk
from app.state.usual import BEAD, CHIP_CAPACITOR, COPPER, DAMPING, Y_CAPACITOR
from app.state.view import View
from models.arrays import Complex, Real
from models.case.document import Branch, Candidate, Case, Coupling, Pair, Transformer
from models.parts.part import Rating
from models.sources.current import ReturnCurrent
from models.sources.mains_offset import MainsOffset
from models.sources.sine import Sine
from models.sources.switch_node import SwitchNode
from models.sources.trapezoid import Trapezoid
from tests.app.present.section_cases import ALL, CASES, NAMES, SIZES, drawn, measure, opened


def overlaps(named: Sequence[tuple[str, Box]]) -> list[str]:
    return [f"{a} / {b}" for (a, one), (b, other) in combinations(named, 2) if one.grown(-0.6).meets(other.grown(-0.6))]


def covered(spec: DrawingSpec) -> list[tuple[str, Box]]:
    texts = [(f"text {each.text}", each.box) for each in spec.texts]
    badges = [(f"badge {each.text}", each.box) for each in spec.badges]
    symbols = [(f"symbol {each.kind}", each.box) for each in spec.symbols if not each.kind.startswith("end-")]
    return texts + badges + symbols


def segments(points: tuple[Point, ...]) -> Iterator[Box]:
    for (x1, y1), (x2, y2) in pairwise(points):
        yield Box(left=min(x1, x2), top=min(y1, y2), width=abs(x2 - x1), height=abs(y2 - y1))


def hidden(box: Box, metal: tuple[StripSpec, ...]) -> bool:
    """Return whether metal lies behind something: wires pass behind that."""
    return any(strip.role == "metal" and strip.box.holds(*box.middle) for strip in metal)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]:.0f}x{size[1]:.0f}")
@pytest.mark.parametrize("case", ALL, ids=NAMES)
def test_no_label_or_symbol_stands_on_another(case: Case, size: tuple[float, float]) -> None:
    for f_hz in (1e3, 3e7):
        spec = drawn(case, size, f_hz=f_hz)
        assert overlaps(covered(spec)) == []


@pytest.mark.parametrize("size", SIZES[:3], ids=lambda size: f"{size[0]:.0f}x{size[1]:.0f}")
@pytest.mark.parametrize("case", ALL, ids=NAMES)
def test_no_wire_runs_through_a_text(case: Case, size: tuple[float, float]) -> None:
    spec = drawn(case, size, f_hz=3e7)
    texts = [each for each in spec.texts if not hidden(each.box, spec.metal)]
    struck = [
        text.text
        for line in spec.lines
        for piece in segments(line.points)
        for text in texts
        if piece.grown(0.1).meets(text.box.grown(-1.0))
    ]
    assert struck == []


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]:.0f}x{size[1]:.0f}")
@pytest.mark.parametrize("case", ALL, ids=NAMES)
def test_all_of_it_lies_inside(case: Case, size: tuple[float, float]) -> None:
    spec = drawn(case, size)
    sheet = Box(left=-2.0, top=-2.0, width=spec.width + 4.0, height=spec.height + 4.0)
    assert spec.height >= size[1]
    for name, box in covered(spec):
        assert sheet.holds(box.left, box.top), name
        assert sheet.holds(box.right, box.bottom), name


@pytest.mark.parametrize("case", ALL, ids=NAMES)
def test_everything_of_the_case_can_be_chosen(case: Case) -> None:
    keys = {item.key for item in drawn(case, (1800.0, 320.0)).items}
    wanted = {ItemKey(kind="gap")} | {ItemKey(kind="case", part=k) for k in range(len(case.regions))}
    for kind, members in (
        ("transformer", case.transformers),
        ("coupling", case.couplings),
        ("source", case.sources),
        ("cable", case.cables),
    ):
        wanted |= {ItemKey(kind=kind, index=k) for k in range(len(members))}
    for k, branch in enumerate(case.candidates[0].branches):
        wanted |= {ItemKey(kind="branch", index=k, part=part) for part in range(-1, len(branch.parts))}
    assert keys == wanted


@pytest.mark.parametrize("case", ALL, ids=NAMES)
def test_the_width_of_a_ribbon_is_the_share_of_its_path(case: Case) -> None:
    for f_hz in (1e4, 1.2e6, 1e8):
        spec = drawn(case, f_hz=f_hz)
        paths = Desk().readings(case, f_hz)[0].paths
        shares = {(each.role, each.name): float(each.share[0]) for each in paths}
        widths = {round(each.width / each.share, 6) for each in spec.ribbons}
        assert len(widths) <= 1
        drawn_shares = sorted(each.share for each in spec.ribbons)
        assert drawn_shares == pytest.approx(sorted(share for share in shares.values() if share >= 0.005))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_ribbons_that_leave_one_region_add_up_to_everything(path: Path) -> None:
    case = opened(path)
    for candidate in range(len(case.candidates)):
        spec = drawn(case, f_hz=2e7, candidate=candidate)
        ends = {("transformer", k): each.between for k, each in enumerate(case.transformers)}
        ends |= {("coupling", k): each.between for k, each in enumerate(case.couplings)}
        ends |= {("cable", k): (each.region, "") for k, each in enumerate(case.cables)}
        leaving = [
            each.share
            for each in spec.ribbons
            if each.key.kind == "branch" or case.pair.b in ends[each.key.kind, each.key.index]
        ]
        assert sum(leaving) == pytest.approx(1.0, abs=0.02)


def test_ribbons_over_the_gap_run_beside_each_other() -> None:
    branches = tuple(Branch(parts=(part,)) for part in (COPPER, COPPER, BEAD, COPPER))
    case = Case(pair=Pair(a="a", b="b"), candidates=(Candidate(name="c", branches=branches),))
    spec = drawn(case, (900.0, 300.0))
    feet = sorted((each.points[0][0] - each.width / 2, each.points[0][0] + each.width / 2) for each in spec.ribbons)
    assert len(feet) == 3
    assert all(one[1] <= other[0] + 1e-9 for one, other in pairwise(feet))


def test_an_outer_arc_stands_above_an_inner_one() -> None:
    case = opened(next(path for path in CASES if path.stem == "gateway"))
    spec = drawn(case, f_hz=1e8)
    arcs = [each for each in spec.ribbons if each.key.kind in ("transformer", "branch")]
    outer, inner = sorted(arcs, key=lambda each: each.points[0][0])
    assert outer.key.kind == "transformer"
    assert outer.points[1][1] < inner.points[1][1]
    assert outer.points[2][0] > inner.points[2][0]


def test_what_hardly_flows_has_no_ribbon_and_no_badge() -> None:
    assert [share_text(share) for share in (0.0, 0.0049, 0.005, 0.0099)] == ["", "", "<1 %", "<1 %"]
    assert [share_text(share) for share in (0.01, 0.0274, 0.0994, 0.0996, 0.93)] == [
        "1.0 %",
        "2.7 %",
        "9.9 %",
        "10 %",
        "93 %",
    ]
    assert [share_text(share) for share in (0.9949, 0.9951, 1.0)] == ["99 %", ">99 %", "100 %"]


def test_the_current_moves_from_the_bead_to_the_strays_as_the_cursor_rises() -> None:
    case = opened(next(path for path in CASES if path.stem == "sensor-board"))

    def width(f_hz: float, kind: str) -> float:
        return sum(each.width for each in drawn(case, f_hz=f_hz).ribbons if each.key.kind == kind)

    assert width(1e4, "branch") > 20.0
    assert width(1e8, "branch") < 5.0 < width(1e8, "coupling")


def test_the_selected_subject_and_part_are_marked() -> None:
    case = opened(next(path for path in CASES if path.stem == "gateway"))
    readings = Desk().readings(case, 1e6)
    drafter = Drafter(measure)
    view = View(subject=("coupling", 1))
    part = ItemKey(kind="branch", index=0, part=1)
    marked = [item.key for item in drafter.draw(case, readings, view, SIZES[0], chosen=part).items if item.selected]
    assert marked == [ItemKey(kind="coupling", index=1)]
    marked = [item.key for item in drafter.draw(case, readings, View(), SIZES[0], chosen=part).items if item.selected]
    assert marked == [part]


def test_cards_tell_share_current_and_impedance() -> None:
    case = opened(next(path for path in CASES if path.stem == "gateway"))
    cards = {item.key: item.card() for item in drawn(case).items}
    path = Desk().readings(case, 1.2e6)[0].paths[-1]
    lines = cards[ItemKey(kind="branch", index=0)].split("\n")
    assert lines[1] == "97 % of the return current"
    assert lines[2] == f"{abs(path.current[0]) * 1e3:.0f} mA for each ampere that returns"
    # |Z| at 1.2 MHz by hand: 1/(ωC) − ω(9 nH + 6 nH) = 60.29 − 0.11 Ω
    assert lines[3] == "|Z| 60.2 Ω at 1.2 MHz"
    assert cards[ItemKey(kind="case", part=0)] == "primary, one of the pair\nmains 230 V"


def test_a_kind_of_part_that_no_one_thought_of_is_drawn_and_named() -> None:
    @frozen(kw_only=True)
    class Thing:
        kind: ClassVar[str] = "spark-gap"
        rating: Rating = Rating()
        ohm: float = 1.0

        def impedance(self, omega: Real) -> Complex:
            return np.full(omega.shape, self.ohm, np.complex128)

        def dc_ohm(self) -> float:
            return self.ohm

        def blocks_dc(self) -> bool:
            return False

        def scaled(self, factor: float) -> Self:
            return evolve(self, ohm=self.ohm * factor)

    thing = Thing()
    assert part_name(thing) == "Spark gap"
    case = Case(
        pair=Pair(a="a", b="b"), candidates=(Candidate(name="c", branches=(Branch(parts=(thing, CHIP_CAPACITOR)),)),)
    )
    spec = drawn(case)
    assert [each.kind for each in spec.symbols if each.kind != "add"] == ["spark-gap", "capacitor"]
    assert part_value(thing) in {each.text for each in spec.texts}


def test_values_are_written_in_full_or_not_at_all() -> None:
    case = Case(
        pair=Pair(a="a", b="b"),
        candidates=(Candidate(name="c", branches=(Branch(parts=(Y_CAPACITOR, DAMPING, BEAD, COPPER)),)),),
    )
    values = {part_value(part) for part in (Y_CAPACITOR, DAMPING, BEAD, COPPER)}
    for width in range(240, 900, 30):
        texts = [each.text.removesuffix(" Y1") for each in drawn(case, (float(width), 150.0)).texts]
        assert set(texts) <= values | {"a", "b", "earth", "2 more", "3 more", "4 more"}


def test_more_parts_than_find_room_are_counted() -> None:
    many = Branch(parts=(CHIP_CAPACITOR,) * 40)
    case = Case(pair=Pair(a="a", b="b"), candidates=(Candidate(name="c", branches=(many,)),))
    spec = drawn(case, (640.0, 150.0))
    assert overlaps(covered(spec)) == []
    names = [item.name for item in spec.items if item.key.kind == "branch" and item.key.part >= 0]
    assert sum(name.count("Capacitor") for name in names) == 40


def test_sources_stand_where_they_act() -> None:
    wave = Trapezoid(frequency_hz=1e5, duty=0.5, rise_s=1e-8, fall_s=1e-8)
    case = Case(
        pair=Pair(a="left", b="right"),
        transformers=(Transformer(name="T", between=("right", "left"), interwinding_capacitance_f=1e-11),),
        couplings=(Coupling(name="strap", between=("right", "earth"), parts=(COPPER,)),),
        candidates=(Candidate(name="c"),),
        sources=(
            SwitchNode(name="switch", through="T", amplitude_v=100.0, wave=wave),
            ReturnCurrent(name="ripple", between=("left", "right"), amplitude_a=1.0, wave=wave),
            MainsOffset(name="offset", between=("left", "right"), voltage_v=0.1, wave=Sine(frequency_hz=50.0)),
        ),
    )
    spec = drawn(case)
    signs = {each.kind: each.at for each in spec.symbols if each.kind.startswith("source-")}
    assert signs["source-switch-node"][0] > spec.width / 2
    assert signs["source-return-current"][0] < spec.width / 2
    assert signs["source-mains-offset"][1] == spec.earth[2]


def test_a_candidate_with_fewer_branches_leaves_copper_and_earth_where_they_were() -> None:
    case = opened(next(path for path in CASES if path.stem == "gateway"))
    bridged, apart = (drawn(case, candidate=k) for k in (0, 4))
    assert [each.box for each in bridged.board] == [each.box for each in apart.board]
    assert bridged.earth == apart.earth
    assert "nothing joins the regions" in {each.text for each in apart.texts}


def test_a_case_without_candidates_is_drawn() -> None:
    spec = drawn(evolve(opened(CASES[0]), candidates=()))
    assert spec.ribbons == ()
    assert "no candidate yet" in {each.text for each in spec.texts}


def test_what_the_cursor_does_not_change_is_kept() -> None:
    case = opened(CASES[0])
    drafter = Drafter(measure)
    first, second = (
        drafter.draw(case, Desk().readings(case, f_hz), View(cursor_hz=f_hz), SIZES[0]) for f_hz in (1e6, 1.1e6)
    )
    assert first.symbols == second.symbols
    assert first.texts == second.texts
    assert first.board == second.board


def test_text_is_cut_with_an_ellipsis_and_wrapped_at_spaces() -> None:
    assert elided("heat sink", 200.0, "small", measure) == "heat sink"
    assert elided("heat sink", 40.0, "small", measure) == "heat…"
    assert elided("heat sink", 12.0, "small", measure) == ""
    assert wrapped("stray of the sensor lead", 80.0, "small", measure, lines=2) == ("stray of the", "sensor lead")
    assert wrapped("stray of the sensor lead", 60.0, "small", measure, lines=2) == ("stray of", "the sens…")


def test_the_head_line_tells_the_cursor() -> None:
    assert section_title(View(cursor_hz=1.2e6)) == ("Where the current returns", "at the cursor, 1.2 MHz")
