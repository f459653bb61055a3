from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from app.lessons.progress import load_progress
from app.lessons.read import LESSONS, load_lesson
from app.state.recent import recent_files, remember
from app.state.recovery import Keeper, left_behind
from models.assets import DEMO_CASE
from models.case.read import load_case

NOBODY = 2**22 + 1  # above the largest process number of Linux


def orphan(file: Path) -> None:
    """Make a kept file look like that of a program which no longer runs."""
    record = json.loads(file.read_text(encoding="utf-8"))
    file.write_text(json.dumps(record | {"process": NOBODY}), encoding="utf-8")


def test_work_of_a_dead_program_comes_back_with_its_file_and_comments(tmp_path: Path) -> None:
    case, text = load_case(DEMO_CASE), DEMO_CASE.read_text(encoding="utf-8")
    Keeper(tmp_path).keep(case, text, DEMO_CASE)
    (file,) = tmp_path.iterdir()
    orphan(file)
    (unsaved,) = left_behind(tmp_path)
    assert unsaved.case == case
    assert unsaved.text == text
    assert unsaved.path == DEMO_CASE


def test_work_of_a_running_program_is_its_own(tmp_path: Path) -> None:
    Keeper(tmp_path).keep(load_case(DEMO_CASE), None, None)
    assert left_behind(tmp_path) == ()


def test_cleared_work_is_gone(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    keeper.keep(load_case(DEMO_CASE), None, None)
    keeper.clear()
    assert list(tmp_path.iterdir()) == []


def test_broken_leftovers_are_passed_over(tmp_path: Path) -> None:
    for number, text in enumerate(("", "{", "[]", '{"process": 1}', '{"process": "x", "case": 3}')):
        (tmp_path / f"{number}.unsaved.json").write_text(text, encoding="utf-8")
    assert left_behind(tmp_path) == ()


@pytest.mark.parametrize("text", ['{"process": 1e999}', f'{{"process": {10**40}}}', "[" * 100_000, "[]", "[1]", '"x"'])
def test_leftovers_of_another_kind_are_passed_over(text: str, tmp_path: Path) -> None:
    (tmp_path / "7-1f.unsaved.json").write_text(text, encoding="utf-8")
    (tmp_path / "recent.json").write_text(text, encoding="utf-8")
    (tmp_path / "lessons.json").write_text(text, encoding="utf-8")
    assert left_behind(tmp_path) == ()
    assert recent_files(tmp_path) == ()
    assert load_progress(tmp_path, load_lesson(LESSONS / "01-why-separate")).at == 0


def test_a_recent_name_that_no_file_can_have_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "recent.json").write_text(f'["{"n" * 5000}"]', encoding="utf-8")
    assert recent_files(tmp_path) == ()


def test_what_a_dead_program_half_wrote_goes_and_that_of_a_running_one_stays(tmp_path: Path) -> None:
    halves = [tmp_path / f".{process}-1f.unsaved.json.ab_cd01x.new" for process in (NOBODY, os.getpid())]
    for half in halves:
        half.write_text("{", encoding="utf-8")
    assert left_behind(tmp_path) == ()
    assert [half.exists() for half in halves] == [False, True]


def test_a_folder_that_cannot_be_made_stops_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    Keeper(tmp_path / "file" / "below").keep(load_case(DEMO_CASE), None, None)
    remember(tmp_path / "file" / "below", DEMO_CASE)
    assert recent_files(tmp_path / "file" / "below") == ()


def test_recent_files_are_newest_first_without_those_that_are_gone(tmp_path: Path) -> None:
    files = [tmp_path / f"{number}.toml" for number in range(12)]
    for file in files:
        file.write_text("", encoding="utf-8")
        remember(tmp_path, file)
    remember(tmp_path, files[5])
    files[11].unlink()
    found = recent_files(tmp_path)
    assert found[0] == files[5]
    assert files[11] not in found
    assert len(found) == len(set(found)) <= 10
