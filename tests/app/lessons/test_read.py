"""A lesson that cannot be used is refused in one error that says where."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from app.lessons.read import LESSONS, LessonError, load_lesson, load_own

SOURCE = LESSONS / "01-why-separate"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(SOURCE, tmp_path / "01-why-separate"))


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("lesson.toml", "lesson = 1", "lesson = 2", "lesson.toml: lesson: found 2; accepted: lesson = 1"),
        ("lesson.toml", 'title = "Why', 'titel = "Why', "titel: found an unknown key"),
        ("lesson.toml", "minutes = 8", 'minutes = "8"', 'line 3, lesson.toml: minutes: found "8"'),
        ("lesson.toml", 'quantity = "common-mode-peak"', 'quantity = "loudness"', '"loudness"; accepted: bridge'),
        ("lesson.toml", 'candidate = "Bead"', 'candidate = "Pearl"', 'number[1].candidate: found "Pearl"'),
        ("lesson.toml", 'claim = "< 50 mV"', 'claim = "< 50 mA"', "claim: found"),
        ("lesson.toml", 'case = "mains"', 'case = "moon"', 'found "moon"; accepted: a case of the lesson'),
        ("lesson.toml", 'of = ["bead_peak"', 'of = ["beat_peak"', 'of: found "beat_peak"'),
        ("lesson.toml", 'at = "100 MHz"\nclaim', "claim", "the key at for in-circuit"),
        ("lesson.toml", 'right = "yes"', 'right = "no"', "0 right ones; accepted: exactly one"),
        ("lesson.toml", 'low = "1 mohm"', 'low = "1 kHz"', "step[2].low"),
        ("lesson.toml", 'low = "1 mohm"', 'low = "100 kohm"', "less than high"),
        ("lesson.toml", 'when = "< 100 mohm"', 'when = "few"', "idea[0].when"),
        ("lesson.toml", 'kind = "design"', 'kind = "dream"', "read, choose, value, draw, design"),
        ("lesson.toml", 'name = "bead_peak"', 'name = "copper_peak"', '"copper_peak" 2 times'),
        ("lesson.toml", 'requirement = "touch-current"', 'requirement = "dc-drop"', "kind of a requirement"),
        ("lesson.toml", "[[step]]", "[[[step]]", "broken TOML"),
        ("text.md", "{copper_peak}", "{copper_peek}", "join/why: found {copper_peek}; accepted: a number"),
        ("text.md", "## if bead\n", "## if beads\n", "join/if beads: found a section that nothing asks for"),
        ("text.md", "(curve:Bead)", "(curve:Pearl)", "a link to Pearl; accepted: a name of the case"),
        ("text.md", "# how-much\n", "# how-many\n", "how-much: found no words"),
        ("case.toml", 'kind = "bead"', 'kind = "pearl"', "case.toml: "),
    ],
)
def test_a_mistake_is_told_with_its_place(folder: Path, file: str, old: str, new: str, said: str) -> None:
    change(folder / file, old, new)
    with pytest.raises(LessonError) as caught:
        load_lesson(folder)
    assert said in str(caught.value)
    assert all(line.startswith("01-why-separate/") for line in str(caught.value).splitlines())


def test_a_file_that_is_missing_is_told(folder: Path) -> None:
    (folder / "text.md").unlink()
    with pytest.raises(LessonError, match=r"text\.md"):
        load_lesson(folder)


@pytest.mark.parametrize(
    ("file", "said"),
    [
        ("case.toml", "15-measurement/lesson.toml: file: found no case.toml; accepted: a case in case.toml"),
        ("board.csv", 'measurement: found "board", and no board.csv; accepted: a measurement in board.csv'),
    ],
)
def test_what_many_places_miss_is_told_once(tmp_path: Path, file: str, said: str) -> None:
    folder = Path(shutil.copytree(LESSONS / "15-measurement", tmp_path / "15-measurement"))
    (folder / file).unlink()
    with pytest.raises(LessonError) as caught:
        load_lesson(folder)
    assert said in str(caught.value)
    assert len(caught.value.problems) == 1


def test_a_folder_without_a_lesson_in_it_is_told_and_what_is_no_folder_is_not(folder: Path) -> None:
    for name in ("02-empty", ".hidden"):
        (folder.parent / name).mkdir()
    (folder.parent / "notes.txt").write_text("later", encoding="utf-8")
    found, wrong = load_own(folder.parent)
    assert [each.id for each in found] == ["01-why-separate"]
    assert len(wrong) == 1
    assert wrong[0].startswith("02-empty/lesson.toml: ")


def test_a_broken_lesson_of_ones_own_does_not_take_the_others_along(folder: Path) -> None:
    shutil.copytree(SOURCE, folder.parent / "02-mine")
    change(folder / "lesson.toml", "minutes = 8", "minutes = 0")
    found, wrong = load_own(folder.parent)
    assert [each.id for each in found] == ["02-mine"]
    assert len(wrong) == 1
    assert "minutes" in wrong[0]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1e6,2\n", "frequency in Hz, resistance and reactance"),
        ("1e6,nan,3\n", r"board\.csv: no usable point; accepted: finite impedances"),
        ("1e99,1,3\n", r"board\.csv: the frequency"),
    ],
)
def test_a_measurement_that_holds_something_else_is_told(tmp_path: Path, text: str, said: str) -> None:
    folder = Path(shutil.copytree(LESSONS / "15-measurement", tmp_path / "15-measurement"))
    (folder / "board.csv").write_text(text, encoding="utf-8")
    with pytest.raises(LessonError, match=said):
        load_lesson(folder)
