"""A file that is saved while the process ends is always the old one or the new one."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from app.state.files import write_whole

_KILLS = 200
_ENDING = """
import os, random, signal, sys
from pathlib import Path
from app.state.files import write_whole

file, kills, chance = Path(sys.argv[1]), int(sys.argv[2]), random.Random(7)
texts = [letter * 300_000 + "end" for letter in "abcd"]
write_whole(file, texts[0])
seen, ended = set(), 0
for turn in range(kills):
    delay = chance.uniform(2e-4, 6e-3)
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        signal.setitimer(signal.ITIMER_REAL, delay)
        while True:
            for text in texts[turn % 4 :] + texts[: turn % 4]:
                write_whole(file, text)
    _, status = os.waitpid(child, 0)
    ended += os.WIFSIGNALED(status)
    found = file.read_text(encoding="utf-8")
    if found not in texts:
        sys.exit(f"neither old nor new: {len(found)} letters")
    seen.add(found[0])
    for left in file.parent.glob(".*.new"):
        left.unlink()
print(ended, len(seen))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs processes that end by a signal")
def test_a_process_that_is_killed_while_it_saves_leaves_the_old_file_or_the_new_one() -> None:
    memory = Path("/dev/shm")  # where writing through takes no time, more of it is left for the kills to hit
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        command = [sys.executable, "-c", _ENDING, str(Path(folder) / "case.toml"), str(_KILLS)]
        run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    ended, seen = map(int, run.stdout.split())
    assert ended == _KILLS
    assert seen > 1


def test_a_folder_that_is_not_there_is_told_and_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "missing" / "case.toml", "text")
    assert list(tmp_path.iterdir()) == []


def test_a_failed_write_leaves_the_old_file_and_no_other(tmp_path: Path) -> None:
    file = tmp_path / "case.toml"
    write_whole(file, "old")
    with pytest.raises(UnicodeEncodeError):
        write_whole(file, "new \ud800")
    assert file.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [file]


def test_a_save_clears_what_a_killed_save_of_the_same_file_left_and_nothing_else(tmp_path: Path) -> None:
    file = tmp_path / "case.toml"
    ours = tmp_path / ".case.toml.ab_cd01x.new"
    others = [".case.toml.new", ".case.toml.ab_cd01x.old", ".other.toml.ab_cd01x.new", ".case.toml.notes-of-mine.new"]
    for name in (ours.name, *others):
        (tmp_path / name).write_text("half", encoding="utf-8")
    write_whole(file, "first")
    assert ours.exists(), "another program may be writing it at this moment"
    for each in tmp_path.iterdir():
        os.utime(each, (file.stat().st_mtime - 3600.0,) * 2)
    write_whole(file, "second")
    assert sorted(each.name for each in tmp_path.iterdir()) == sorted([*others, "case.toml"])


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    file, link = tmp_path / "there" / "case.toml", tmp_path / "link.toml"
    file.write_text("old", encoding="utf-8")
    link.symlink_to(file)
    write_whole(link, "new")
    assert link.is_symlink()
    assert file.read_text(encoding="utf-8") == "new"
    assert [each.name for each in file.parent.iterdir()] == ["case.toml"]


@pytest.mark.parametrize("name", ["n" * 255, "é" * 127])
def test_a_file_of_the_longest_name_is_saved(name: str, tmp_path: Path) -> None:
    write_whole(tmp_path / name, "text")
    assert [each.name for each in tmp_path.iterdir()] == [name]


@pytest.mark.skipif(os.name != "posix", reason="needs permissions")
def test_a_new_file_is_as_private_as_the_person_wants_and_an_old_one_as_before(tmp_path: Path) -> None:
    before = os.umask(0o077)
    try:
        write_whole(tmp_path / "new.toml", "text")
    finally:
        os.umask(before)
    assert (tmp_path / "new.toml").stat().st_mode & 0o777 == 0o600
    (tmp_path / "new.toml").chmod(0o640)
    write_whole(tmp_path / "new.toml", "more")
    assert (tmp_path / "new.toml").stat().st_mode & 0o777 == 0o640
