"""`isthmus report`: one file, several, and no display."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.cli.main import main
from app.report.options import Options, ReportError
from app.report.write import write_report
from models.assets import CASES, DEMO_CASE
from models.case.read import load_case

SENSOR = CASES / "sensor-board.toml"
QUICK = ("--only", "case")


@pytest.fixture(autouse=True)
def no_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")


def test_without_a_display_and_outside_the_source_tree(tmp_path: Path) -> None:
    gone = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    environment = {name: value for name, value in os.environ.items() if name not in gone}
    code = "from app.cli.main import run; run()"
    target = tmp_path / "report.pdf"
    command = [sys.executable, "-c", code, "report", str(DEMO_CASE), "-o", str(target)]
    done = subprocess.run(command, capture_output=True, text=True, cwd=tmp_path, env=environment, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stderr == f"isthmus: {target}\n"
    assert target.read_bytes().startswith(b"%PDF")


def test_the_ending_says_the_format(tmp_path: Path) -> None:
    target = tmp_path / "report.html"
    words = ("--title", "Mine", "--by", "Lab 3", "--notes", "Own words.")
    assert main(["report", str(DEMO_CASE), "-o", str(target), *QUICK, *words]) == 0
    text = target.read_text(encoding="utf-8")
    assert "<title>Mine</title>" in text
    assert "Own words." in text
    assert "<bdi>Lab 3</bdi>" in text
    assert "# The demo: how large" in text, "the case as its file has it"
    assert 'id="impedance"' not in text


def test_a_name_without_an_ending_becomes_a_pdf(tmp_path: Path) -> None:
    assert main(["report", str(DEMO_CASE), "-o", str(tmp_path / "review"), *QUICK]) == 0
    assert (tmp_path / "review.pdf").read_bytes().startswith(b"%PDF")


def test_several_go_into_a_folder_under_their_names(tmp_path: Path) -> None:
    folder = tmp_path / "reports"
    assert main(["report", str(DEMO_CASE), str(SENSOR), "-o", str(folder), "--format", "html", *QUICK]) == 0
    assert sorted(each.name for each in folder.iterdir()) == ["gateway.html", "sensor-board.html"]


def test_two_reports_of_one_name_are_told_before_any_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["report", str(SENSOR), str(SENSOR), "-o", str(tmp_path / "reports"), *QUICK]) == 2
    assert "found two cases for" in capsys.readouterr().err
    assert list((tmp_path / "reports").iterdir()) == []


def test_a_folder_that_is_not_there_is_told_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "file"
    file.write_text("", encoding="utf-8")
    for folder in (tmp_path / "missing", file):
        assert main(["report", str(DEMO_CASE), "-o", str(folder / "report.pdf")]) == 2
        (line,) = capsys.readouterr().err.splitlines()
        assert line.endswith(f"found no folder {folder}; accepted: a file in a folder that is there")


def test_a_report_that_cannot_be_written_leaves_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(ReportError, match="found Not a directory; accepted: a file that can be written"):
        write_report(load_case(SENSOR), tmp_path / "file" / "report.html", Options(sections=("case",)))
    assert [each.name for each in tmp_path.iterdir()] == ["file"]


def test_without_a_name_it_stands_beside_the_case(tmp_path: Path) -> None:
    case = tmp_path / "mine.toml"
    case.write_text(SENSOR.read_text(encoding="utf-8"), encoding="utf-8")
    assert main(["report", str(case), "--format", "html", "--without", "tolerance", "--without", "common-mode"]) == 0
    text = (tmp_path / "mine.html").read_text(encoding="utf-8")
    assert 'id="impedance"' in text
    assert 'id="tolerance"' not in text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("-o", "report.docx"), ".pdf or .html"),
        (("--only", "everything"), "impedance"),
        (("-o", "report.pdf", "--format", "html"), "ends in .html"),
        (("-o", "nowhere/at/all.pdf"), "found no folder nowhere"),
    ],
)
def test_what_is_wrong_ends_in_one_line(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: tuple[str, ...],
    said: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["report", str(DEMO_CASE), *arguments, *QUICK]) == 2
    text = capsys.readouterr().err
    assert said in text
    assert text.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_two_cases_of_one_name_are_not_written_over_each_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "gateway.toml"
    other.write_text(DEMO_CASE.read_text(encoding="utf-8"), encoding="utf-8")
    assert main(["report", str(DEMO_CASE), str(other), "-o", str(tmp_path / "out"), "--format", "html", *QUICK]) == 2
    assert "two cases for" in capsys.readouterr().err


def test_every_process_writes_the_same_bytes(tmp_path: Path) -> None:
    environment = {name: value for name, value in os.environ.items() if name != "QT_HASH_SEED"}
    code = "from app.cli.main import run; run()"
    window = "from app.qt.start import application, main_window; application(); window = main_window(None); "
    for name, before in (("one.pdf", ""), ("other.pdf", ""), ("window.pdf", window)):
        command = [sys.executable, "-c", before + code, "report", str(DEMO_CASE), "-o", str(tmp_path / name), *QUICK]
        assert subprocess.run(command, capture_output=True, env=environment, check=False).returncode == 0
    one, *others = (path.read_bytes() for path in sorted(tmp_path.iterdir()))
    assert len(others) == 2
    assert others == [one, one]
