from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from app.present.inspector import inspector_form
from app.present.section_contents import contents
from app.state.edits import set_value
from app.state.typed import value_typed
from app.state.view import View
from models.case.document import Case
from models.case.read import parse_case
from models.case.relocate import case_in
from models.case.write import case_text
from models.decide.judges import judge_one
from models.decide.subject import Subject
from models.errors import CaseError, IsthmusError
from models.network.solver import Solver
from models.outcomes.evaluation import Evaluator
from models.outcomes.lines import source_lines
from models.sources.record import Table
from models.sources.trapezoid import Trapezoid

TRAPEZOID = Trapezoid(frequency_hz=100e3, duty=0.4, rise_s=500e-9, fall_s=200e-9)
CASE = """
isthmus = 1
[pair]
a = "primary"
b = "secondary"
[sweep]
stop = "5 MHz"
[[transformer]]
name = "T1"
between = ["primary", "secondary"]
interwinding_capacitance = "60 pF"
driven_fraction = 0.4
[[candidate]]
name = "none"
[[source]]
name = "measured"
{source}
"""
DECLARED = """kind = "switch-node"
through = "T1"
amplitude = "50 V"
frequency = "100 kHz"
duty = 0.4
rise = "500 ns"
fall = "200 ns"
"""
WAVEFORM = 'kind = "waveform"\nthrough = "T1"\nfile = "wave.csv"'
SPECTRUM = 'kind = "measured-spectrum"\nthrough = "T1"\nfrequency = "100 kHz"\nfile = "lines.csv"'


def sampled(count: int) -> np.ndarray:
    t = np.arange(count) * 1e-5 / count
    start_of_fall = 250e-9 + 4e-6 - 100e-9
    return np.asarray(50.0 * (np.clip(t / 500e-9, 0, 1) - np.clip((t - start_of_fall) / 200e-9, 0, 1)))


def read(folder: Path, source: str) -> Case:
    return parse_case(CASE.format(source=source), folder=folder)


def peak_v(case: Case) -> float:
    return Evaluator().evaluate(case).outcomes[0].peak_v()


def test_a_sampled_wave_comes_to_what_the_declared_one_does(tmp_path: Path) -> None:
    wave = sampled(4000)
    rows = "\n".join(f"{index * 2.5e-9:.6e},{sample:.9e}" for index, sample in enumerate(wave))
    (tmp_path / "wave.csv").write_text("time (s),node (V)\n" + rows, "utf-8")
    measured, declared = read(tmp_path, WAVEFORM), read(tmp_path, DECLARED)
    shape = measured.sources[0].shape
    assert shape.frequency_hz == pytest.approx(100e3, rel=1e-9)
    np.testing.assert_allclose(shape.coefficients(40), 50.0 * TRAPEZOID.coefficients(40), atol=2e-3)
    assert peak_v(measured) == pytest.approx(peak_v(declared), rel=1e-3)


def test_a_spectrum_with_phases_comes_to_what_the_declared_wave_does(tmp_path: Path) -> None:
    lines = 50.0 * TRAPEZOID.coefficients(50)
    rows = [
        f"{order * 100e3} {2**0.5 * abs(line)} {np.degrees(np.angle(line))}"
        for order, line in enumerate(lines)
        if order
    ]
    (tmp_path / "lines.csv").write_text("# lines of the node\n" + "\n".join(rows), "utf-8")
    measured, declared = read(tmp_path, SPECTRUM), read(tmp_path, DECLARED)
    np.testing.assert_allclose(measured.sources[0].shape.coefficients(50)[1:], lines[1:], rtol=1e-9)
    assert peak_v(measured) == pytest.approx(peak_v(declared), rel=1e-6)


def test_a_saved_case_names_the_file_and_keeps_its_text(tmp_path: Path) -> None:
    (tmp_path / "lines.csv").write_text("100e3,1\n200e3,2\n", "utf-8")
    text = CASE.format(source=SPECTRUM + "  # by the probe")
    assert case_text(read(tmp_path, SPECTRUM), text) == text


@pytest.mark.parametrize(
    ("source", "content", "says"),
    [
        (WAVEFORM, None, "file that can be read"),
        (WAVEFORM, "0,1\n1e-6,2\n", "at least 4 samples"),
        (WAVEFORM, "0,1\n1e-6,2\n2e-6,1\n5e-6,0\n", "uneven steps"),
        (WAVEFORM, "0,1\n1e-6,2,3\n", "found wave.csv, line 2: 3 numbers; accepted: time in s"),
        (WAVEFORM, "0,1\n1e-6,x\n", 'found wave.csv, line 2: "1e-6,x"; accepted: time in s'),
        (WAVEFORM, "0,1\n1e-6,inf\n", 'line 2: "1e-6,inf"; accepted: finite numbers'),
        (SPECTRUM, "100e3,1\n250e3,2\n", "multiples of 100000 Hz"),
        (SPECTRUM, "100e3,-1\n", "0 or more"),
        (WAVEFORM.replace('through = "T1"\n', ""), "0,1\n1,2\n2,1\n3,0\n", "neither through nor between"),
        (WAVEFORM + '\nbetween = ["primary", "secondary"]', "0,1\n1,2\n2,1\n3,0\n", "through and between"),
        (WAVEFORM.replace('"T1"', '"T9"'), "0,1\n1,2\n2,1\n3,0\n", '"T9"'),
    ],
)
def test_what_is_wrong_is_said(tmp_path: Path, source: str, content: str | None, says: str) -> None:
    if content is not None:
        for name in ("wave.csv", "lines.csv"):
            (tmp_path / name).write_text(content, "utf-8")
    with pytest.raises(CaseError) as caught:
        read(tmp_path, source)
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_file_that_was_not_opened_is_the_same_file() -> None:
    rows = ((1.0, 2.0),)
    assert Table(file="a", rows=rows) == Table(file="a")
    assert Table(file="a", rows=rows) != Table(file="a", rows=((1.0, 3.0),))
    assert Table(file="a") != Table(file="b")


PERIOD = "0,0\n1e-6,1\n2e-6,0\n3e-6,-1\n"
PLACE = ("sources", 0, "table")


def test_another_file_is_typed_and_read_at_once(tmp_path: Path) -> None:
    (tmp_path / "wave.csv").write_text(PERIOD, "utf-8")
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "slow.csv").write_text(PERIOD.replace("e-6", "e-5"), "utf-8")
    case = read(tmp_path, WAVEFORM)
    changed = set_value(case, PLACE, value_typed(case, PLACE, "data/slow.csv"))
    assert changed.sources[0].wave.frequency_hz == pytest.approx(25e3)
    assert 'file = "data/slow.csv"' in case_text(changed)
    (tmp_path / "text.csv").write_text("0,0\nnothing\n", "utf-8")
    (tmp_path / "few.csv").write_text("0,0\n1,1\n", "utf-8")
    for name, says in (("gone.csv", "no such file"), ("text.csv", "line 2"), ("few.csv", "at least 4")):
        with pytest.raises(IsthmusError, match=says):
            set_value(case, PLACE, value_typed(case, PLACE, name))


@pytest.mark.parametrize(("source", "content"), [(WAVEFORM, PERIOD), (SPECTRUM, "100e3,1\n")])
def test_the_inspector_has_a_field_for_the_file(tmp_path: Path, source: str, content: str) -> None:
    for name in ("wave.csv", "lines.csv"):
        (tmp_path / name).write_text(content, "utf-8")
    (section,) = inspector_form(read(tmp_path, source), View(subject=("source", 0))).sections
    field = next(each for each in section.fields if each.path == PLACE)
    assert (field.label, field.text) == ("File", "wave.csv" if source is WAVEFORM else "lines.csv")
    assert field.folder == str(tmp_path)
    assert "*.csv" in field.files


def test_saving_elsewhere_still_finds_the_file(tmp_path: Path) -> None:
    (tmp_path / "wave.csv").write_text(PERIOD, "utf-8")
    (tmp_path / "other").mkdir()
    case = read(tmp_path, WAVEFORM)
    moved = case_in(case, tmp_path / "other")
    assert 'file = "../wave.csv"' in case_text(moved)
    assert parse_case(case_text(moved), folder=tmp_path / "other").sources == moved.sources
    assert case_in(case, tmp_path) == case


CURRENT = 'kind = "waveform"\nbetween = ["primary", "secondary"]\nfile = "wave.csv"'


def test_a_measured_current_counts_as_that_of_a_converter_and_is_told_in_amperes(tmp_path: Path) -> None:
    rows = "\n".join(f"{index * 2.5e-8:.6e},{sample:.9e}" for index, sample in enumerate(sampled(400)))
    (tmp_path / "wave.csv").write_text(rows, "utf-8")
    asked = '[[requirement]]\nkind = "blocks-dc"\n[[requirement]]\nkind = "common-mode-voltage"\nlimit = "1 V"\n'
    copper = (
        '[[candidate]]\nname = "copper"\n[[candidate.branch]]\nparts = [{ kind = "copper", resistance = "1 mohm" }]'
    )
    case = read(tmp_path, f"{CURRENT}\n{asked}{copper}")
    subject = Subject(solver=Solver(), case=case, candidate=case.candidates[1])
    blocks, peak = (judge_one(subject, each) for each in case.requirements)
    assert blocks.outcome == "fail"
    assert "measured" in blocks.why
    assert "·1 A·H(" in peak.equation
    assert contents(case, 1).drives[0].note.startswith("measured, ")


def test_what_is_measured_is_worked_out_once(tmp_path: Path) -> None:
    rows = "\n".join(f"{index * 2.5e-8:.6e},{sample:.9e}" for index, sample in enumerate(sampled(400)))
    (tmp_path / "wave.csv").write_text(rows, "utf-8")
    case, solver = read(tmp_path, CURRENT), Solver()
    (source,) = case.sources
    assert source.shape is source.shape
    assert source_lines(solver, case, source) is source_lines(solver, case, source)
