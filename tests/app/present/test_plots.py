"""What plots, bars, answers and forms show, as plain values."""

from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from app.present.answers import answers_table, cautions
from app.present.common_mode import peak_bars, shown_source, spectrum_plot, waveform_plot
from app.present.impedance_plot import impedance_plot, resonance_text
from app.present.inspector import inspector_form
from app.present.numbers import reading
from app.present.specs import FieldSpec, FormSpec
from app.present.tabs import SLOTS, header, ink
from app.state.edits import set_value
from app.state.results import Desk, Results
from app.state.store import Store
from app.state.typed import value_typed
from app.state.view import View
from models.assets import CASES, DEMO_CASE
from models.case.document import Case
from models.case.read import load_case
from models.case.requirement import Requirement
from models.declare import get_path
from models.outcomes.resonances import Maker, Resonance
from models.parts.capacitor import Capacitor

DEMO = load_case(DEMO_CASE)
SENSOR = load_case(CASES / "sensor-board.toml")
DESK = Desk()
RESULTS = DESK.results(DEMO)
OPEN = next(index for index, each in enumerate(DEMO.candidates) if each.name == "Nothing")


def results_of(case: Case) -> Results:
    return Desk().results(case)


def test_impedance_curves_are_the_magnitudes_in_the_inks_of_their_candidates() -> None:
    view = View(candidate=2, cursor_hz=3e6)
    plot = impedance_plot(RESULTS, DESK.readings(DEMO, 3e6), view)
    assert [curve.label for curve in plot.curves] == [each.name for each in DEMO.candidates]
    assert [curve.strong for curve in plot.curves] == [index == 2 for index in range(len(DEMO.candidates))]
    for index, (curve, outcome) in enumerate(zip(plot.curves, RESULTS.evaluation.outcomes, strict=True)):
        assert np.array_equal(curve.y, np.abs(outcome.in_circuit_ohm))
        assert curve.ink == ink(index)
    assert plot.x.log
    assert plot.y.log
    assert [plot.x.low, plot.x.high] == pytest.approx([10.0, 1e9])
    assert plot.cursor_x == 3e6


def test_cursor_reads_the_curve_it_stands_on() -> None:
    plot = impedance_plot(RESULTS, DESK.readings(DEMO, 1e6), View(cursor_hz=1e6))
    for readout, curve in zip(plot.readouts, plot.curves, strict=True):
        assert readout.y == pytest.approx(float(np.interp(1e6, curve.x, curve.y)), rel=1e-6)
        assert readout.y is not None
        assert readout.text.startswith(reading(readout.y, "ohm"))


def test_an_open_bridge_has_no_ring_and_is_called_open() -> None:
    plot = impedance_plot(RESULTS, DESK.readings(DEMO, 1e6), View(bridge_alone=True))
    assert plot.readouts[OPEN].y is None
    assert plot.readouts[OPEN].text == "open"
    assert not np.isfinite(plot.curves[OPEN].y).any()
    assert math.isfinite(plot.y.high)


@pytest.mark.parametrize("shows", ["phase", "resistance", "reactance"])
def test_other_parts_of_the_impedance_are_shown_as_they_are(shows: str) -> None:
    plot = impedance_plot(RESULTS, DESK.readings(DEMO, 1e6), View(z_shows=shows))
    z = RESULTS.evaluation.outcomes[0].in_circuit_ohm
    wanted = {"phase": np.degrees(np.angle(z)), "resistance": z.real, "reactance": np.abs(z.imag)}[shows]
    assert np.allclose(plot.curves[0].y, wanted)
    assert plot.y.log is (shows != "phase")


def test_a_coupling_keeps_its_name_whatever_it_is_called() -> None:
    resonance = Resonance(kind="parallel", f_hz=1e6, z_ohm=1.0, q=10.0)
    stray = Maker(path="branch of the connector", role="coupling", part=Capacitor(capacitance_f=1e-12), share=0.6)
    own = Maker(path="branch 1", role="branch", part=Capacitor(capacitance_f=2.2e-9), share=0.4)
    assert resonance_text(resonance, (stray, own)).endswith(": branch of the connector, 2.2 nF")
    assert "Q 290" in resonance_text(evolve(resonance, q=286.0), ())


def test_the_selected_candidate_shows_its_branches_and_names_its_resonances() -> None:
    anatomy = DESK.anatomy(RESULTS, 0, bridge_alone=False)
    plot = impedance_plot(RESULTS, DESK.readings(DEMO, 1e6), View(), anatomy)
    faint = [curve for curve in plot.curves if curve.faint]
    assert len(faint) == (len(DEMO.candidates[0].branches) if len(DEMO.candidates[0].branches) > 1 else 0)
    assert plot.marks
    for mark, (resonance, made_by) in zip(
        plot.marks, sorted(anatomy.resonances, key=lambda each: -each[0].q), strict=False
    ):
        assert mark.x == resonance.f_hz
        assert made_by
        assert f"Q {resonance.q:.2g}" in mark.label
        assert mark.y == pytest.approx(abs(DESK.readings(DEMO, mark.x)[0].in_circuit_ohm), rel=0.1)


def test_a_reference_turns_the_notes_into_decibels_against_it() -> None:
    names = [each.name for each in DEMO.candidates]
    readings = DESK.readings(DEMO, 30e6)
    plot = impedance_plot(RESULTS, readings, View(cursor_hz=30e6, reference=names[1]))
    ratio = 20 * math.log10(abs(readings[0].in_circuit_ohm) / abs(readings[1].in_circuit_ohm))
    assert plot.readouts[0].note == f"{ratio:+.0f} dB".replace("-", "−")
    assert "dB" not in plot.readouts[1].note


def test_guides_have_the_slopes_of_their_names() -> None:
    plot = impedance_plot(RESULTS, DESK.readings(DEMO, 1e6), View())
    for guide in plot.guides:
        rise = math.log10(guide.y[1] / guide.y[0]) / math.log10(guide.x[1] / guide.x[0])
        assert rise == pytest.approx(1.0 if guide.label.endswith("H") else -1.0)
    nano = next(guide for guide in plot.guides if guide.label == "1 nH")
    assert nano.y[0] == pytest.approx(2 * math.pi * nano.x[0] * 1e-9)


def test_a_wanted_band_is_drawn_with_its_limit() -> None:
    results = results_of(SENSOR)
    plot = impedance_plot(results, DESK.readings(SENSOR, 1e6), View())
    wanted = [band for band in plot.bands if band.y_limit is not None]
    assert [(band.x_low, band.x_high, band.y_limit) for band in wanted] == [(1e6, 100e6, 1.0)]


def test_waveform_shows_two_periods_inside_its_axes() -> None:
    plot = waveform_plot(RESULTS, View(candidate=0))
    (curve,) = plot.curves
    assert plot.x.high == pytest.approx(20e-6)
    assert curve.x[0] == 0.0
    assert curve.x[-1] < plot.x.high
    assert np.array_equal(curve.y[: curve.y.size // 2], curve.y[curve.y.size // 2 :])
    assert plot.y.low <= curve.y.min() <= curve.y.max() <= plot.y.high
    assert "flyback switch" in plot.subtitle


def test_the_source_that_drives_most_is_shown_unless_one_is_chosen() -> None:
    results = results_of(SENSOR)
    for candidate, outcome in enumerate(results.evaluation.outcomes):
        shown = shown_source(results, View(candidate=candidate))
        peaks = [each.swing_peak_v for each in outcome.common_mode]
        assert shown == peaks.index(max(peaks))
    assert shown_source(results, View(source=2)) == 2
    assert "data lines" in waveform_plot(results, View(source=2)).subtitle


def test_a_current_without_way_back_is_said_in_words() -> None:
    nothing = next(index for index, each in enumerate(SENSOR.candidates) if each.name == "Nothing")
    results = results_of(SENSOR)
    assert "way back" in waveform_plot(results, View(candidate=nothing, source=0)).subtitle
    text = peak_bars(results, View()).bars[nothing].text
    assert text == reading(math.inf, "V")


def test_spectrum_is_in_microvolt_decibels() -> None:
    plot = spectrum_plot(RESULTS, View(candidate=1, source=0))
    for curve, outcome in zip(plot.curves, RESULTS.evaluation.outcomes, strict=True):
        v_rms = outcome.common_mode[0].v_rms
        assert curve.x[0] == pytest.approx(100e3)
        assert curve.y[0] == pytest.approx(20 * math.log10(v_rms[1] / 1e-6))
    assert plot.y.high >= max(float(np.nanmax(curve.y)) for curve in plot.curves)


def test_bars_stand_in_the_order_of_their_peaks() -> None:
    bars = peak_bars(RESULTS, View(candidate=3))
    peaks = [outcome.peak_v() for outcome in RESULTS.evaluation.outcomes]
    fractions = [bar.fraction for bar in bars.bars]
    assert np.argsort(fractions).tolist() == np.argsort(peaks).tolist()
    assert all(0.0 <= fraction <= 1.0 for fraction in fractions)
    assert [bar.worst for bar in bars.bars] == [peak == max(peaks) for peak in peaks]
    unasked = peak_bars(results_of(evolve(DEMO, requirements=())), View())
    assert not any(bar.worst for bar in unasked.bars)
    assert [bar.strong for bar in bars.bars] == [index == 3 for index in range(len(peaks))]
    assert bars.limit_fraction is not None
    limit = next(each.limit for each in DEMO.requirements if each.kind == "common-mode-voltage")
    assert limit is not None
    for bar, peak in zip(bars.bars, peaks, strict=True):
        assert (bar.fraction > bars.limit_fraction) == (peak > limit)


def test_answers_have_a_row_a_requirement_and_a_cell_a_candidate() -> None:
    table = answers_table(RESULTS, 1)
    assert [name for name, _ in table.columns] == [each.name for each in DEMO.candidates]
    assert table.selected == 1
    assert all(len(cells) == len(DEMO.candidates) for _, cells in table.rows)
    for number in range(len(DEMO.requirements)):
        cells = table.rows[number][1]
        assert [cell.outcome for cell in cells] == [verdicts[number].outcome for verdicts in RESULTS.verdicts]
        assert all(cell.why for cell in cells)
    facts = table.rows[len(DEMO.requirements) :]
    assert all(cell.outcome == "note" for _, cells in facts for cell in cells)


def test_one_worst_number_a_row_at_most() -> None:
    for _, cells in answers_table(RESULTS, 0).rows:
        assert sum(cell.worst for cell in cells) <= 1


def test_nothing_to_compare_says_so() -> None:
    bare = results_of(evolve(DEMO, candidates=()))
    view = View()
    assert answers_table(bare, 0).empty
    assert impedance_plot(bare, (), view).empty
    assert waveform_plot(bare, view).empty
    assert spectrum_plot(bare, view).empty
    quiet = results_of(evolve(DEMO, sources=()))
    assert waveform_plot(quiet, view).empty
    assert (peak_bars(quiet, view).title, peak_bars(bare, view).title) == ("", "")


def test_cautions_stand_where_people_can_be_hurt() -> None:
    assert any("certification" in line for line in cautions(DEMO))
    assert any("qualified person" in line for line in cautions(DEMO))
    harmless = evolve(DEMO, mains=None, requirements=())
    assert not any("qualified person" in line for line in cautions(harmless))
    assert any("qualified person" in line for line in cautions(evolve(harmless, requirements=(WITHSTAND,))))


WITHSTAND = Requirement(kind="withstand", limit=4000.0)


def test_infinity_is_a_word() -> None:
    assert reading(math.inf, "ohm") == "open"
    assert reading(math.inf, "V") == "no bound"
    assert reading(0.0015, "ohm") == "1.5 mΩ"


def test_no_two_candidates_share_an_ink() -> None:
    assert len({ink(index) for index in range(5 * SLOTS)}) == 5 * SLOTS


def test_header_names_the_case_its_candidates_and_what_undo_does() -> None:
    store = Store(DEMO)
    assert "•" not in header(store, 0).title
    store.edit("change capacitance", set_value(DEMO, ("sweep", "stop_hz"), 5e8))
    shown = header(store, 1)
    assert shown.title.endswith("•")
    assert shown.undo == "change capacitance"
    assert [tab.selected for tab in shown.tabs] == [index == 1 for index in range(len(DEMO.candidates))]


def subjects(case: Case) -> list[tuple[str, int]]:
    groups = {
        "candidate": case.candidates,
        "coupling": case.couplings,
        "transformer": case.transformers,
        "source": case.sources,
        "requirement": case.requirements,
    }
    return [("case", 0), *((kind, index) for kind, entries in groups.items() for index in range(len(entries)))]


def fields(form: FormSpec) -> list[FieldSpec]:
    return [field for section in form.sections for field in section.fields]


@pytest.mark.parametrize("case", [DEMO, SENSOR], ids=["gateway", "sensor board"])
def test_every_field_shows_what_typing_it_gives(case: Case) -> None:
    """What a field shows, typed into it again, changes nothing: in every form, with every value shown."""
    seen = 0
    for subject in subjects(case):
        form = inspector_form(case, View(subject=subject, everything=True))
        assert form.title
        for field in fields(form):
            value = get_path(case, field.path)
            if not field.text or isinstance(value, bool):
                continue
            if field.choices and field.text not in field.choices:
                pytest.fail(f"{field.path}: {field.text} is none of its choices")
            typed = value_typed(case, field.path, field.text)
            shown = value.strip() if isinstance(value, str) else value
            if shown is None and field.path[-1] == "between":
                shown = (case.pair.a, case.pair.b)
            assert typed == shown, field.path
            seen += 1
    assert seen > 50


def test_sliders_reach_around_the_value() -> None:
    for subject in subjects(DEMO):
        for field in fields(inspector_form(DEMO, View(subject=subject, everything=True))):
            if field.low is None or field.high is None or not field.value:
                continue
            assert field.low <= field.value <= field.high, field.path
            assert list(field.steps) == sorted(field.steps)
            assert all(field.low <= step <= field.high for step in field.steps)


def test_a_form_of_nothing_says_so() -> None:
    form = inspector_form(evolve(DEMO, candidates=()), View())
    assert form.title == "Nothing selected"
    assert form.sections == ()


def test_safety_is_cautioned_in_the_form() -> None:
    assert "certification" in inspector_form(DEMO, View()).caution


def test_a_capacitive_reactance_is_thin_and_an_inductive_one_is_not() -> None:
    plot = impedance_plot(RESULTS, DESK.readings(DEMO, 1e6), View(z_shows="reactance"))
    z = RESULTS.evaluation.outcomes[0].in_circuit_ohm
    assert plot.curves[0].thin is not None
    assert np.array_equal(plot.curves[0].thin, z.imag < 0.0)
    assert "capacitive" in plot.note
    assert plot.guides
    whole = impedance_plot(RESULTS, DESK.readings(DEMO, 1e6), View())
    assert (whole.curves[0].thin, whole.note) == (None, "")


def test_the_axis_holds_what_a_requirement_asks_for() -> None:
    wanted = Requirement(kind="return-impedance", limit=3e-3, band_hz=(1e6, 1e7))
    asked = evolve(DEMO, candidates=DEMO.candidates[OPEN:], requirements=(wanted,))
    plot = impedance_plot(results_of(asked), DESK.readings(asked, 1e6), View())
    assert plot.y.low <= 3e-3
    assert plot.curves[0].y.min() > 1.0


def test_the_harmonic_nearest_the_cursor_is_read() -> None:
    plot = spectrum_plot(RESULTS, View(candidate=1, cursor_hz=1.04e6))
    level_dbuv = float(plot.curves[1].y[9])
    assert plot.subtitle == f"harmonic 10 of flyback switch: {level_dbuv:.1f} dBµV rms"
    assert spectrum_plot(RESULTS, View(cursor_hz=1.0)).subtitle.startswith("harmonic 1 of")
