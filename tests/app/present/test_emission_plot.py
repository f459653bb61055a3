"""What comes of the bridges on the screen: emission against its limit, events, and what lacks for them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from app.present.answers import answers_table
from app.present.common_mode import peak_bars, source_choice, waveform_plot
from app.present.consequences import Shown, consequence
from app.present.inspector import inspector_form
from app.present.numbers import signed_db
from app.present.specs import ConsequenceSpec
from app.state.additions import ADDITIONS
from app.state.chosen import MODES
from app.state.events import Events
from app.state.results import Desk
from app.state.usual import BEAD, BRIDGES
from app.state.view import EventChoice, View
from models.assets import CASES
from models.case.document import Branch, Candidate, Case, Pair
from models.case.read import load_case
from models.declare import set_path
from models.network.load import load_currents

SUPPLY = load_case(CASES / "earthed-or-floating.toml")
SENSOR = load_case(CASES / "sensor-board.toml")
EMPTY = Case(pair=Pair(a="A", b="B"), candidates=(BRIDGES[0],))
DESK = Desk()


def shown(case: Case, view: View) -> ConsequenceSpec:
    events = Events(DESK.evaluator.solver)
    spec, whole = consequence(Shown(desk=DESK, events=events, results=DESK.results(case), view=view))
    assert whole
    return spec


def with_(case: Case, *names: str) -> Case:
    for name in names:
        case, _ = ADDITIONS[name].edit(case)
    return case


def test_conducted_levels_stand_against_the_cases_line() -> None:
    spec = shown(SUPPLY, View(mode="conducted", candidate=3))
    plot = spec.plot
    assert [curve.label for curve in plot.curves] == [each.name for each in SUPPLY.candidates]
    assert [curve.strong for curve in plot.curves] == [False, False, False, True]
    assert (plot.x.low, plot.x.high, plot.y.unit) == (150e3, 30e6, "dBµV")
    assert {(limit.label, limit.strong) for limit in plot.limits} == {("quasi-peak", False), ("average", True)}
    average = next(limit for limit in plot.limits if limit.strong)
    assert np.interp(1e6, average.x, average.y) == 46.0
    assert np.interp(10e6, average.x, average.y) == 50.0


def test_the_mark_the_bars_and_the_answers_tell_the_same_margin() -> None:
    view = View(mode="conducted", candidate=3)
    spec = shown(SUPPLY, view)
    verdicts = [each[0].margin_db for each in DESK.results(SUPPLY).verdicts]
    assert [bar.text for bar in spec.bars.bars] == [signed_db(each) for each in verdicts if each is not None]
    (mark,) = spec.plot.marks
    assert mark.label.endswith(spec.bars.bars[3].text)
    assert mark.y == pytest.approx(float(np.interp(mark.x, spec.plot.curves[3].x, spec.plot.curves[3].y)))
    assert "harmonic 16 of switch node on mains lead" in spec.bars.note


def test_a_bar_crosses_the_limit_where_the_margin_is_negative() -> None:
    spec = shown(SUPPLY, View(mode="radiated"))
    limit = spec.bars.limit_fraction
    assert limit is not None
    for bar in spec.bars.bars:
        assert (bar.fraction > limit) is bar.text.startswith("−")
    assert sum(bar.worst for bar in spec.bars.bars) == 1
    assert spec.bars.limit_text


def test_a_field_carries_its_usual_error_as_a_band_and_on_the_bars() -> None:
    spec = shown(SUPPLY, View(mode="radiated", candidate=2))
    strong = next(curve for curve in spec.plot.curves if curve.strong)
    assert strong.low is not None
    assert strong.high is not None
    assert strong.high - strong.low == pytest.approx(12.0)
    assert all(curve.low is None for curve in spec.plot.curves if not curve.strong)
    bar = spec.bars.bars[2]
    assert bar.reach is not None
    assert bar.reach[0] < bar.fraction < bar.reach[1]
    assert "±6 dB (pale)" in spec.caution
    assert all(curve.low is None for curve in shown(SUPPLY, View(mode="conducted")).plot.curves)


def test_another_detector_line_and_distance_are_followed() -> None:
    peak = shown(SUPPLY, View(mode="conducted", detector="peak"))
    assert {limit.label: limit.strong for limit in peak.plot.limits} == {"quasi-peak": True, "average": False}
    none = shown(SUPPLY, View(mode="conducted", conducted_line=""))
    assert (none.plot.limits, none.plot.marks, none.bars.bars) == ((), (), ())
    assert shown(SUPPLY, View(mode="radiated", distance_m=3.0)).title == "Radiated field at 3 m"


@pytest.mark.parametrize(
    ("case", "mode", "says", "offer"),
    [
        (EMPTY, "waveform", "Add what drives", "add-switch-node"),
        (EMPTY, "conducted", "Add a source", "add-switch-node"),
        (with_(EMPTY, "add-ripple"), "conducted", "Add a mains lead", "add-mains-lead"),
        (with_(EMPTY, "add-ripple", "add-signal-cable"), "conducted", "Add a mains lead", "add-mains-lead"),
        (with_(EMPTY, "add-ripple"), "radiated", "Add a cable", "add-signal-cable"),
        (evolve(EMPTY, candidates=()), "event", "No candidate", None),
    ],
)
def test_what_lacks_is_said_and_offered(case: Case, mode: str, says: str, offer: str | None) -> None:
    spec = shown(case, View(mode=mode))
    assert says in spec.plot.empty
    assert (None if spec.offer is None else spec.offer[0]) == offer
    if offer is not None and mode != "waveform":
        assert shown(with_(case, offer), View(mode=mode)).plot.empty != spec.plot.empty


def test_what_is_offered_leads_to_a_plot() -> None:
    case = with_(EMPTY, "add-switch-node", "add-mains-lead")
    for mode in MODES:
        assert shown(case, View(mode=mode)).plot.empty == ""


def test_what_nothing_gets_to_has_all_the_margin_there_is() -> None:
    case = with_(EMPTY, "add-switch-node", "add-mains-lead", "add-conducted-emission-wanted")
    spec = shown(case, View(mode="conducted"))
    assert [bar.text for bar in spec.bars.bars] == ["nothing emitted"]
    (verdict,) = DESK.results(case).verdicts[0]
    assert verdict.outcome == "pass"
    assert verdict.limit == pytest.approx(63.82, abs=0.01)
    assert verdict.why == "mains lead: nothing of switch node gets there."


def test_a_sweep_that_ends_early_is_named() -> None:
    short = evolve(SUPPLY, sweep=evolve(SUPPLY.sweep, stop_hz=10e6))
    assert "30 MHz" in shown(short, View(mode="radiated")).plot.empty


@pytest.mark.parametrize("shows", ["voltage", "currents", "left", "ratings"])
def test_an_event_is_shown_in_four_ways(shows: str) -> None:
    spec = shown(SUPPLY, View(mode="event", candidate=3, event=EventChoice(shows=shows)))
    assert (spec.table is not None) is (shows == "left")
    assert spec.bars_choose is (shows == "voltage")
    assert "not a certification" in spec.caution
    assert spec.note == "IEC 61000-4-2"
    assert [choice.name for choice in spec.choices] == ["kind", "level", "into", "shows"]


def test_what_an_event_does_here_is_told_after_that_it_is_an_estimate() -> None:
    caution = shown(SENSOR, View(mode="event")).caution
    assert caution.index("not a certification") < caution.index("nothing bleeds it") < caution.index("qualified person")


def test_the_highest_peak_of_an_event_is_marked() -> None:
    spec = shown(SUPPLY, View(mode="event", candidate=3))
    (mark,) = spec.plot.marks
    assert mark.label.startswith(spec.bars.bars[3].text)
    assert not any(bar.worst for bar in spec.bars.bars)


def test_the_currents_of_an_event_are_named_by_bars_in_their_inks() -> None:
    spec = shown(SUPPLY, View(mode="event", candidate=1, event=EventChoice(shows="currents")))
    assert [(bar.label, bar.ink) for bar in spec.bars.bars] == [(each.label, each.ink) for each in spec.plot.curves]
    fractions = [bar.fraction for bar in spec.bars.bars]
    assert max(fractions) == 1.0
    assert fractions[1:] == sorted(fractions[1:], reverse=True)


def test_peaks_stand_against_the_ratings_of_the_selected_candidate() -> None:
    event = EventChoice(kind="surge", into="output", level_v=4e3, shows="ratings")
    spec = shown(SUPPLY, View(mode="event", candidate=3, event=event))
    limit = spec.bars.limit_fraction
    assert limit is not None
    assert len(spec.bars.bars) == 2
    for bar in spec.bars.bars:
        assert (bar.fraction > limit) is bar.text.startswith("−")
    unrated = shown(SUPPLY, View(mode="event", candidate=0, event=event))
    assert unrated.bars.bars == ()
    assert "Give it one" in unrated.bars.note


def test_several_sources_are_shown_one_by_one_with_what_they_come_to() -> None:
    results = DESK.results(SENSOR)
    (choice,) = source_choice(results, View())
    assert [words for _, words in choice.options] == [each.name for each in SENSOR.sources]
    assert choice.chosen == "0"
    assert "All 3 sources" in waveform_plot(results, View(source=1)).subtitle
    bars = peak_bars(results, View())
    assert all(bar.reach is not None and bar.reach[0] <= bar.reach[1] for bar in bars.bars)
    rows = dict(answers_table(results, 0).rows)
    assert {"All sources, rms", "All sources, peak at most"} <= set(rows)
    assert source_choice(DESK.results(SUPPLY), View()) == ()


def bead_case(rated_a: float | None) -> Case:
    bead = evolve(BEAD, rated_current_a=rated_a)
    candidates = (Candidate(name="bead", branches=(Branch(parts=(bead,)),)), BRIDGES[0], BRIDGES[-1])
    return with_(evolve(EMPTY, candidates=candidates), "add-stray", "add-ripple")


def test_the_load_current_and_the_bias_of_a_bead_are_answers() -> None:
    case = bead_case(2.0)
    rows = dict(answers_table(DESK.results(case), 0).rows)
    (load,) = load_currents(DESK.evaluator.solver, case, case.candidates[0])
    assert abs(load.current_a) == pytest.approx(1.0)
    assert rows["Load current through the bridge"][0].text == "1 A, 300 mV drop"
    bias, copper, _ = rows["Bias of the bead"]
    left = evolve(case.candidates[0].branches[0].parts[0], bias_current_a=1.0).inductance_left()  # type: ignore[attr-defined,misc]
    assert bias.text == f"1 A, {100 * left:.0f} % of L left"
    assert copper.text == "–"


def test_a_stated_bias_that_the_load_contradicts_is_told() -> None:
    stated = set_path(bead_case(2.0), ("candidates", 0, "branches", 0, "parts", 0, "bias_current_a"), 0.2)
    cell = dict(answers_table(DESK.results(stated), 0).rows)["Bias of the bead"][0]
    assert cell.text == "1 A, but 200 mA stated"
    assert "The load current is 1 A" in cell.why
    by_load = evolve(bead_case(2.0), bead_bias="load")
    cell = dict(answers_table(DESK.results(by_load), 0).rows)["Bias of the bead"][0]
    assert "biased by 1 A load current" in cell.why


def test_a_bead_without_a_rating_says_what_is_wanted() -> None:
    rows = dict(answers_table(DESK.results(bead_case(None)), 0).rows)
    assert "rated current" in rows["Bias of the bead"][0].why
    assert "Bias of the bead" not in dict(answers_table(DESK.results(SUPPLY), 0).rows)


def test_only_what_is_shown_is_computed(monkeypatch: pytest.MonkeyPatch) -> None:
    desk = Desk()
    case = evolve(SUPPLY, requirements=())
    results = desk.results(case)
    for outcome in results.evaluation.outcomes:
        assert not any("_peak" in vars(each) for lead in outcome.conducted for each in vars(lead).get("each", ()))
        assert not any("field_v" in vars(each) for each in outcome.radiated)
    monkeypatch.setattr(Desk, "emissions", lambda *_: pytest.fail("emission was computed"))
    for mode in ("waveform", "spectrum", "event"):
        view = View(mode=mode)
        consequence(Shown(desk=desk, events=Events(desk.evaluator.solver), results=results, view=view))


def test_an_edit_computes_the_emission_of_the_changed_candidate_alone() -> None:
    view = View(mode="conducted")
    before = shown(SUPPLY, view).plot.curves
    last = SUPPLY.candidates[-1]
    (branch,) = last.branches
    changed = evolve(branch, parts=(evolve(branch.parts[0], capacitance_f=1e-9),))  # type: ignore[misc]
    case = evolve(SUPPLY, candidates=(*SUPPLY.candidates[:-1], evolve(last, branches=(changed,))))
    after = shown(case, view).plot.curves
    assert [a.y is b.y for a, b in zip(before, after, strict=True)] == [True, True, True, False]


@pytest.mark.parametrize("name", [name for name, each in ADDITIONS.items() if each.group in ("Source", "Cable")])
def test_every_source_and_cable_has_a_page_whose_choices_hold_what_it_has(name: str) -> None:
    case, (kind, index) = ADDITIONS[name].edit(EMPTY)
    form = inspector_form(case, View(subject=(kind, index), everything=True))
    fields = [field for section in form.sections for field in section.fields]
    assert any(field.label == "Name" for field in fields)
    for field in fields:
        assert not field.choices or field.text in field.choices
        assert field.value is None or math.isfinite(field.value)


def test_a_cable_into_an_impedance_has_a_field_for_it() -> None:
    case = with_(EMPTY, "add-loaded-cable", "add-mains-lead")
    loaded, lisn = (inspector_form(case, View(subject=("cable", k))).sections[0].fields for k in (0, 1))
    assert [field.text for field in loaded if field.label in ("Far end", "Load")] == ["impedance", "150 Ω"]
    assert [field.text for field in lisn if field.label in ("Far end", "Load")] == ["LISN"]


def test_a_requirement_is_called_by_its_limit_as_in_the_answers() -> None:
    titles = [
        inspector_form(with_(EMPTY, f"add-{kind}-wanted"), View(subject=("requirement", 0))).title
        for kind in ("conducted-emission", "touch-current")
    ]
    assert titles == ["Conducted emission under CISPR 32 class B", "Touch current under 250 µA"]


def test_the_case_page_adds_and_removes_mains_and_regions() -> None:
    page = inspector_form(with_(EMPTY, "add-region"), View(subject=("case", 0)))
    offered = [action for section in page.sections for action, _ in section.actions]
    assert offered == ["add-region", "remove-region:0", "add-mains"]
    page = inspector_form(with_(EMPTY, "add-mains"), View(subject=("case", 0)))
    assert "remove-mains" in [action for section in page.sections for action, _ in section.actions]


def test_an_answer_says_on_which_side_of_the_limit_it_lies() -> None:
    results = DESK.results(SUPPLY)
    for row, (_, cells) in enumerate(answers_table(results, 0).rows[:2]):
        for cell, verdicts in zip(cells, results.verdicts, strict=True):
            margin_db = verdicts[row].margin_db
            assert margin_db is not None
            assert cell.text == f"{abs(margin_db):.1f} dB {'under' if margin_db >= 0.0 else 'over'}"
            assert (cell.outcome == "pass") is cell.text.endswith("under")
